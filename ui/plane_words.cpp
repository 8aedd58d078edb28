// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plane_words.h"

#include "ui/quantity_text.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::ui {

namespace {

constexpr double axisSlack = 1e-9;       ///< radians
constexpr double componentSlack = 1e-15; ///< what the sine of a whole turn is off by
constexpr double leastShownMm = 0.005;
constexpr double degree = std::numbers::pi / 180;

double clean(double component)
{
    return std::abs(component) < componentSlack ? 0 : component;
}

/// What is nothing to a maker is written as nothing.
double plain(double offsetMm)
{
    return std::abs(offsetMm) < leastShownMm ? 0 : offsetMm;
}

} // namespace

std::optional<AxisPlane> axisPlaneOf(const mesh::Plane& plane)
{
    for (int axis = 0; axis < 3; ++axis) {
        const double along = plane.normal[axis];
        if (std::abs(plane.normal[(axis + 1) % 3]) < axisSlack && std::abs(plane.normal[(axis + 2) % 3]) < axisSlack)
            return AxisPlane{axis, along < 0, along < 0 ? -plane.offset : plane.offset};
    }
    return std::nullopt;
}

Aim aimOf(mesh::Vec3 normal)
{
    const double level = std::hypot(normal.x, normal.y);
    Aim aim;
    if (level > axisSlack)
        aim.turnDegrees = std::atan2(normal.y, normal.x) / degree;
    aim.tiltDegrees = std::atan2(normal.z, level) / degree;
    return aim;
}

mesh::Vec3 normalOf(Aim aim)
{
    const double turn = aim.turnDegrees * degree, tilt = aim.tiltDegrees * degree;
    const mesh::Vec3 n{std::cos(tilt) * std::cos(turn), std::cos(tilt) * std::sin(turn), std::sin(tilt)};
    return mesh::normalized({clean(n.x), clean(n.y), clean(n.z)});
}

QString planeWords(const mesh::Plane& plane, mesh::Unit unit)
{
    if (const auto across = axisPlaneOf(plane))
        return QString("across %1 at %2%3")
            .arg(QChar("xyz"[across->axis]))
            .arg(lengthText(plain(across->atMm), unit), across->flipped ? ", flipped" : "");
    const Aim aim = aimOf(plane.normal);
    return QString("turned %1°, tilted %2°, at %3")
        .arg(numberText(aim.turnDegrees, 1, 1), numberText(aim.tiltDegrees, 1, 1),
             lengthText(plain(plane.offset), unit));
}

Reach reachOf(const mesh::Box3& box, mesh::Vec3 direction)
{
    if (box.empty())
        return {};
    const mesh::Vec3 half = 0.5 * box.extents();
    const double middle = dot(direction, box.centre());
    const double out = std::abs(direction.x) * half.x + std::abs(direction.y) * half.y + std::abs(direction.z) * half.z;
    return {middle - out, middle + out};
}

} // namespace quoin::ui
