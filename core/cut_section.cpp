// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_section.h"

#include "mesh/plane_cut.h"
#include "mesh/region.h"

#include <algorithm>

namespace quoin::core {

namespace {

/// Planes more nearly parallel than this (sine of the angle) have no line in common that matters.
constexpr double parallelSine = 1e-9;

/// The half of a plane that lies on one side of another, cut off at `reach` from the middle; empty or everything when
/// they are parallel.
mesh::Region halfPlane(const mesh::PlaneFrame& frame, const mesh::Plane& side, bool above, mesh::Vec2 middle,
                       double reach)
{
    // side.distance over the plane: d + dot(g, q).
    const mesh::Vec2 g{dot(side.normal, frame.u), dot(side.normal, frame.v)};
    const double slope = mesh::length(g), sign = above ? 1 : -1;
    const double d = side.distance(frame.space(middle));
    const auto square = [&](mesh::Vec2 x, double from) {
        const mesh::Vec2 y{-x.y, x.x};
        return mesh::Region{{middle + from * x + -reach * y, middle + reach * x + -reach * y,
                             middle + reach * x + reach * y, middle + from * x + reach * y}};
    };
    if (slope < parallelSine)
        return sign * d >= 0 ? square({1, 0}, -reach) : mesh::Region{};
    const mesh::Vec2 x = sign / slope * g;
    const double from = std::max(-reach, -sign * d / slope);
    return from < reach ? square(x, from) : mesh::Region{};
}

} // namespace

Result<CutSection> sectionOf(const mesh::Mesh& scaled, const mesh::Plane& plane,
                             const std::vector<std::pair<mesh::Plane, bool>>& sides)
{
    auto outline = mesh::sectionByPlane(scaled, plane);
    if (!outline)
        return outline.problem();
    CutSection section{plane, std::move(*outline), 0};
    if (!sides.empty() && !section.outline.empty()) {
        mesh::Vec2 low{1e300, 1e300}, high{-1e300, -1e300};
        for (const mesh::Loop& loop : section.outline)
            for (const mesh::Vec2 p : loop) {
                low = {std::min(low.x, p.x), std::min(low.y, p.y)};
                high = {std::max(high.x, p.x), std::max(high.y, p.y)};
            }
        const mesh::PlaneFrame frame = mesh::frameOf(plane);
        for (const auto& [side, above] : sides)
            section.outline = mesh::intersection(
                section.outline, halfPlane(frame, side, above, 0.5 * (low + high), mesh::length(high - low)));
    }
    section.areaMm2 = mesh::area(section.outline);
    return section;
}

std::vector<std::pair<mesh::Plane, bool>> limitsOf(const PartDesign& part, const std::vector<CutSide>& within)
{
    std::vector<std::pair<mesh::Plane, bool>> limits;
    for (const CutSide& side : within)
        if (const CutStep* cut = cutOf(part, side.cut); cut != nullptr && cut->enabled)
            limits.emplace_back(cut->plane, side.above);
    return limits;
}

} // namespace quoin::core
