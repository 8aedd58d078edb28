// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_allowed.h"

#include "core/level_outline.h"
#include "mesh/region.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

constexpr double gridShare = 1.0 / 60;
constexpr double finestMm = 0.15, coarsestMm = 1.0;
constexpr double mostSquares = 400'000;

} // namespace

Result<mesh::Region> allowedRegion(const JointProbe& probe, const std::vector<Joint>& joints, std::size_t which,
                                   const Context& context)
{
    probe.warmUp(joints[which]);
    mesh::Vec2 low{1e300, 1e300}, high{-1e300, -1e300};
    for (const mesh::Loop& loop : probe.project().seams[joints[which].seam].region)
        for (const mesh::Vec2 p : loop) {
            low = {std::min(low.x, p.x), std::min(low.y, p.y)};
            high = {std::max(high.x, p.x), std::max(high.y, p.y)};
        }
    const mesh::Vec2 size = high - low;
    const double step = std::max(std::clamp(gridShare * std::min(size.x, size.y), finestMm, coarsestMm),
                                 std::sqrt(size.x * size.y / mostSquares));
    auto outline =
        levelOutline([&](mesh::Vec2 at) { return probe.spareMm(joints, which, at); }, low, high, step, context);
    if (!outline)
        return outline.problem();
    return mesh::offset(*outline, -allowedMarginMm, allowedMarginMm / 2);
}

} // namespace quoin::core
