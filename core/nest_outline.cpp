// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/nest_outline.h"

#include "mesh/hull.h"
#include "mesh/outline_loops.h"
#include "mesh/region.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::core {

using mesh::Loop;
using mesh::Region;
using mesh::Vec2;

namespace {

double distanceToSegment(Vec2 p, Vec2 a, Vec2 b)
{
    const Vec2 ab = b - a;
    const double l2 = mesh::dot(ab, ab);
    const double t = l2 > 0 ? std::clamp(mesh::dot(p - a, ab) / l2, 0.0, 1.0) : 0;
    return mesh::length(p - (a + t * ab));
}

/// Marks the corners between two kept ones that are needed.
void keepBetween(const Loop& loop, std::size_t first, std::size_t last, double tolerance, std::vector<char>& keep)
{
    double furthest = tolerance;
    std::size_t at = 0;
    for (std::size_t i = first + 1; i < last; ++i) {
        const double d = distanceToSegment(loop[i], loop[first], loop[last % loop.size()]);
        if (d > furthest) {
            furthest = d;
            at = i;
        }
    }
    if (at == 0)
        return;
    keep[at] = 1;
    keepBetween(loop, first, at, tolerance, keep);
    keepBetween(loop, at, last, tolerance, keep);
}

Loop thinnedLoop(const Loop& loop, double tolerance)
{
    if (loop.size() < 4)
        return loop;
    // Two corners that lie far apart are kept to begin with.
    std::size_t far = 0;
    for (std::size_t i = 1; i < loop.size(); ++i)
        if (mesh::length(loop[i] - loop[0]) > mesh::length(loop[far] - loop[0]))
            far = i;
    std::vector<char> keep(loop.size(), 0);
    keep[0] = keep[far] = 1;
    keepBetween(loop, 0, far, tolerance, keep);
    keepBetween(loop, far, loop.size(), tolerance, keep);
    Loop out;
    for (std::size_t i = 0; i < loop.size(); ++i)
        if (keep[i] != 0)
            out.push_back(loop[i]);
    return out;
}

/// What the faces that look up (or down) cover, each point enclosed as often as faces lie over it: never a negative
/// number of times.
Region coveredBy(const mesh::Mesh& mesh, bool up)
{
    std::vector<mesh::OutlineEdge> edges;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const auto flat = [&](int k) { return Vec2{mesh.corner(t, k).x, mesh.corner(t, k).y}; };
        const double twice = mesh::cross(flat(1) - flat(0), flat(2) - flat(0));
        if (up ? twice <= 0 : twice >= 0)
            continue;
        const mesh::Triangle& c = mesh.triangles[t];
        for (const auto& [a, b] : {std::pair{c[0], c[1]}, {c[1], c[2]}, {c[2], c[0]}})
            edges.push_back(up ? mesh::OutlineEdge{a, b} : mesh::OutlineEdge{b, a});
    }
    Region region;
    for (const auto& corners : mesh::loopsOf(edges).loops) {
        Loop loop;
        loop.reserve(corners.size());
        for (const mesh::Index i : corners)
            loop.push_back({mesh.points[i].x, mesh.points[i].y});
        region.push_back(std::move(loop));
    }
    return mesh::unionOf(region, {});
}

} // namespace

Region shadowOf(const mesh::Mesh& mesh)
{
    // Of a closed surface both cover the same.
    return mesh::unionOf(coveredBy(mesh, true), coveredBy(mesh, false));
}

Region thinned(const Region& region, double toleranceMm)
{
    Region out;
    for (const Loop& loop : region) {
        Loop thin = thinnedLoop(loop, toleranceMm);
        if (thin.size() >= 3)
            out.push_back(std::move(thin));
    }
    return out;
}

Region roundedUp(const Region& region, double mostMm)
{
    // The offset's outline is at least half of it away, so that a corner left out can't reach the region.
    const Region wider = mesh::unionOf(thinned(mesh::offset(region, mostMm / 2, mostMm / 8), mostMm / 3), {});
    std::vector<Vec2> points;
    for (const Loop& loop : region)
        points.insert(points.end(), loop.begin(), loop.end());
    Loop hull = mesh::convexHull(std::move(points));
    return hull.size() >= 3 ? mesh::intersection(wider, {hull}) : Region{};
}

Region turned(const Region& region, double angle)
{
    const double quarters = angle / (std::numbers::pi / 2);
    double c = std::cos(angle), s = std::sin(angle);
    if (std::abs(quarters - std::round(quarters)) < 1e-12) {
        c = std::round(c);
        s = std::round(s);
    }
    Region out = region;
    for (Loop& loop : out)
        for (Vec2& p : loop)
            p = {c * p.x - s * p.y, s * p.x + c * p.y};
    return out;
}

Region shifted(const Region& region, Vec2 by)
{
    Region out = region;
    for (Loop& loop : out)
        for (Vec2& p : loop)
            p = p + by;
    return out;
}

void FlatBox::add(Vec2 p)
{
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
}

FlatBox flatBounds(const Region& region)
{
    FlatBox box;
    for (const Loop& loop : region)
        for (const Vec2 p : loop)
            box.add(p);
    return box;
}

} // namespace quoin::core
