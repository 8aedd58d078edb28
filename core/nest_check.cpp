// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/nest.h"

#include "core/nest_outline.h"
#include "mesh/region.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

using mesh::Loop;
using mesh::Region;
using mesh::Vec2;

namespace {

double pointToSegment(Vec2 p, Vec2 a, Vec2 b)
{
    const Vec2 ab = b - a;
    const double l2 = mesh::dot(ab, ab);
    const double t = l2 > 0 ? std::clamp(mesh::dot(p - a, ab) / l2, 0.0, 1.0) : 0;
    return mesh::length(p - (a + t * ab));
}

/// Of outlines that don't cross: from corners to edges, both ways.
double cornersToEdges(const Region& from, const Region& to, double best)
{
    for (const Loop& loop : to)
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Vec2 a = loop[i], b = loop[(i + 1) % loop.size()];
            const Vec2 low{std::min(a.x, b.x) - best, std::min(a.y, b.y) - best};
            const Vec2 high{std::max(a.x, b.x) + best, std::max(a.y, b.y) + best};
            for (const Loop& other : from)
                for (const Vec2 p : other)
                    if (p.x >= low.x && p.x <= high.x && p.y >= low.y && p.y <= high.y)
                        best = std::min(best, pointToSegment(p, a, b));
        }
    return best;
}

} // namespace

NestCheck checkNest(const std::vector<Region>& placed, const Bed& bed)
{
    NestCheck check;
    std::vector<FlatBox> boxes;
    for (const Region& r : placed)
        boxes.push_back(flatBounds(r));
    for (std::size_t i = 0; i < placed.size(); ++i) {
        for (const Loop& loop : placed[i])
            for (const Vec2 p : loop)
                check.leastEdgeMm = std::min(check.leastEdgeMm, bed.shape == Bed::Shape::Round
                                                                    ? bed.widthMm / 2 - mesh::length(p)
                                                                    : std::min(bed.widthMm / 2 - std::abs(p.x),
                                                                               bed.depthMm / 2 - std::abs(p.y)));
        for (std::size_t j = 0; j < i; ++j) {
            const double apart = std::max(std::max(boxes[i].low.x - boxes[j].high.x, boxes[j].low.x - boxes[i].high.x),
                                          std::max(boxes[i].low.y - boxes[j].high.y, boxes[j].low.y - boxes[i].high.y));
            if (apart >= check.leastGapMm)
                continue;
            const double common = mesh::area(mesh::intersection(placed[i], placed[j]));
            check.overlapMm2 += common;
            if (common > 0) {
                check.leastGapMm = std::min(check.leastGapMm, -std::sqrt(common));
                continue;
            }
            double gap = cornersToEdges(placed[i], placed[j], check.leastGapMm);
            gap = cornersToEdges(placed[j], placed[i], gap);
            check.leastGapMm = std::min(check.leastGapMm, gap);
        }
    }
    return check;
}

} // namespace quoin::core
