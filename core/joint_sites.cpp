// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_sites.h"

#include "mesh/region.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

constexpr std::size_t mostSites = 700;
constexpr double gridShare = 0.6; ///< of the sites; the rest lie on the outline
constexpr double leastSpacingMm = 1.0;
constexpr double arcErrorMm = 0.05;
/// Steps down the axis. Half a step is lost to what may lie between samples: shallow features can't spare it.
constexpr double fineStepMm = 0.25, coarseStepMm = 1.0, fineUpToMm = 15;

/// Points every `apart` mm along a loop.
void alongLoop(const mesh::Loop& loop, double apart, std::vector<mesh::Vec2>& points)
{
    double ahead = 0; // of the next point, from the start of the edge
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
        const mesh::Vec2 edge = loop[i] - loop[j];
        const double l = mesh::length(edge);
        for (; ahead < l; ahead += apart)
            points.push_back(loop[j] + (ahead / l) * edge);
        ahead -= l;
    }
}

/// The middle of each island's box, where it lies inside: a grid can miss a small island altogether.
std::vector<mesh::Vec2> middles(const mesh::Region& region)
{
    std::vector<mesh::Vec2> points;
    for (const mesh::Loop& loop : region) {
        mesh::Vec2 low{1e300, 1e300}, high{-1e300, -1e300};
        for (const mesh::Vec2 p : loop) {
            low = {std::min(low.x, p.x), std::min(low.y, p.y)};
            high = {std::max(high.x, p.x), std::max(high.y, p.y)};
        }
        if (const mesh::Vec2 middle = 0.5 * (low + high); mesh::contains(region, middle))
            points.push_back(middle);
    }
    return points;
}

std::vector<mesh::Vec2> flatSites(const mesh::Region& inner)
{
    double outline = 0;
    mesh::Vec2 low{1e300, 1e300}, high{-1e300, -1e300};
    for (const mesh::Loop& loop : inner)
        for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
            outline += mesh::length(loop[i] - loop[j]);
            low = {std::min(low.x, loop[i].x), std::min(low.y, loop[i].y)};
            high = {std::max(high.x, loop[i].x), std::max(high.y, loop[i].y)};
        }
    std::vector<mesh::Vec2> points = middles(inner);
    const double apart = std::max(leastSpacingMm, outline / ((1 - gridShare) * mostSites));
    for (const mesh::Loop& loop : inner)
        alongLoop(loop, apart, points);
    const double spacing =
        std::max(leastSpacingMm, std::sqrt(std::max(mesh::area(inner), 1.0) / (gridShare * mostSites)));
    for (double x = low.x + spacing / 2; x < high.x; x += spacing)
        for (double y = low.y + spacing / 2; y < high.y; y += spacing)
            if (mesh::contains(inner, {x, y}))
                points.push_back({x, y});
    return points;
}

/// Radius of the largest circle inside a seam, known to be below a limit: where the inward offset vanishes.
double widestCircle(const Seam& seam, double limit)
{
    double low = 0, high = limit;
    while (high - low > 0.01) {
        const double middle = 0.5 * (low + high);
        (mesh::offset(seam.region, -middle, arcErrorMm).empty() ? high : low) = middle;
    }
    return low;
}

} // namespace

double JointSite::freeRadius(double depthMm) const
{
    const auto i = static_cast<std::size_t>(std::ceil(depthMm / stepMm));
    return i < radius.size() ? radius[i] : -1;
}

JointSites jointSites(const Seam& seam, const JointRoom& room, const SiteNeed& need)
{
    JointSites found;
    const double step = need.mostDepthMm <= fineUpToMm ? fineStepMm : coarseStepMm;
    for (const mesh::Vec2 at : flatSites(mesh::offset(seam.region, -need.radiusMm, arcErrorMm))) {
        JointSite site{at, room.profile(seam.pieceBelow, seam.cut, at, need.mostDepthMm, step, need.radiusMm), step};
        const auto other = room.profile(seam.pieceAbove, seam.cut, at, need.mostDepthMm, step, need.radiusMm);
        site.radius.resize(std::min(site.radius.size(), other.size()));
        for (std::size_t i = 0; i < site.radius.size(); ++i)
            site.radius[i] = std::min(site.radius[i], other[i]);
        const auto shallow = static_cast<std::size_t>(std::ceil(need.leastDepthMm / step));
        if (!site.radius.empty())
            found.roomMm = std::max(found.roomMm, site.radius[std::min(shallow, site.radius.size() - 1)]);
        found.sites.push_back(std::move(site));
    }
    if (found.sites.empty())
        found.roomMm = widestCircle(seam, need.radiusMm);
    return found;
}

} // namespace quoin::core
