// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dovetail_length.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

constexpr double stepMm = 0.5, leastMm = 1;
/// No face is wider.
constexpr double farthestMm = 2000;

} // namespace

double dovetailLengthOn(const mesh::Region& face, const JointForm& dovetail, double wallMm)
{
    const mesh::Vec2 way{std::cos(dovetail.angle), std::sin(dovetail.angle)}, across{-way.y, way.x};
    const double half = dovetail.diameterMm / 2 + wallMm;
    const auto clear = [&](double along) {
        return mesh::contains(face, dovetail.at + along * way + half * across) &&
               mesh::contains(face, dovetail.at + along * way - half * across);
    };
    double length = 0;
    while (length < dovetail.lengthMm && clear(length + stepMm + wallMm))
        length += stepMm;
    return std::max(std::min(length, dovetail.lengthMm), leastMm);
}

JointForm keptOn(const mesh::Region& face, JointForm form, double wallMm)
{
    if (!liesAlongFace(form) || face.empty())
        return form;
    if (form.kind == JointForm::Kind::ClockingKey)
        form.lengthMm = farthestMm;
    form.lengthMm = dovetailLengthOn(face, form, wallMm);
    return form;
}

} // namespace quoin::core
