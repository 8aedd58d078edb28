// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/nest_turns.h"

#include "core/nest_outline.h"
#include "core/nest_place.h"
#include "mesh/hull.h"
#include "mesh/region.h"

#include <cmath>
#include <limits>

namespace quoin::core {

using mesh::Loop;
using mesh::Region;
using mesh::Vec2;

namespace {

constexpr double sameTurn = 1e-3;
constexpr double usefulShare = 0.005; ///< of the box's area: less is not worth another turn
constexpr double sameShare = 0.003;   ///< of the area: an outline that differs by less is the same turned

} // namespace

std::vector<double> firstTurns(const Region& outline, NestTurns how)
{
    if (how != NestTurns::Aligned)
        return {0};
    std::vector<Vec2> points;
    for (const Loop& loop : outline)
        points.insert(points.end(), loop.begin(), loop.end());
    const Loop hull = mesh::convexHull(std::move(points));
    double best = std::numeric_limits<double>::infinity(), bestTurn = 0;
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const Vec2 along = hull[(i + 1) % hull.size()] - hull[i];
        const double turn = -std::atan2(along.y, along.x);
        const FlatBox box = flatBounds(turned({hull}, turn));
        const double area = (box.high.x - box.low.x) * (box.high.y - box.low.y);
        if (area < best * (1 - usefulShare)) {
            best = area;
            bestTurn = turn;
        }
    }
    const FlatBox asItIs = flatBounds({hull});
    const double area = (asItIs.high.x - asItIs.low.x) * (asItIs.high.y - asItIs.low.y);
    const double off = std::remainder(bestTurn, quarterTurn);
    return std::abs(off) > sameTurn && best < area * (1 - usefulShare) ? std::vector<double>{0, off}
                                                                       : std::vector<double>{0};
}

int differentQuarters(const Region& outline)
{
    const auto isSame = [&](int quarters) {
        const FlatBox box = flatBounds(outline);
        const Region there = turned(outline, quarters * quarterTurn);
        const FlatBox turnedBox = flatBounds(there);
        const Region moved = shifted(there, 0.5 * (box.low + box.high) - 0.5 * (turnedBox.low + turnedBox.high));
        return mesh::area(mesh::difference(outline, moved)) < sameShare * mesh::area(outline);
    };
    return isSame(1) ? 1 : isSame(2) ? 2 : 4;
}

bool fitsAlone(const Region& outline, const Bed& bed, double marginMm, NestTurns turns)
{
    const NestBed plate = nestBed(bed, marginMm);
    for (const double first : firstTurns(outline, turns))
        for (int k = 0; k < (turns == NestTurns::None ? 1 : 2); ++k) {
            // No other piece there: the parts don't matter.
            NestShape hull;
            std::vector<NestPoint> points;
            for (const Loop& loop : turned(outline, first + k * quarterTurn))
                for (const Vec2 p : loop)
                    points.push_back({std::llround(p.x / nestStepMm), std::llround(p.y / nestStepMm)});
            hull.hull = nestHull(std::move(points));
            hull.box = boxOf(hull.hull);
            NoFitTable table(std::vector<NoFitTable::Entry>{{hull, 0, 0}});
            long work = 0;
            if (lowestPlace(table, plate, {}, 0, work))
                return true;
        }
    return false;
}

} // namespace quoin::core
