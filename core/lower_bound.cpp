// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/lower_bound.h"

#include "core/bed_room.h"
#include "core/bound_features.h"
#include "core/piece_shape.h"
#include "mesh/mass.h"
#include "mesh/plane.h"
#include "mesh/topology.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::core {

using mesh::Mesh;

namespace {

/// Rounding of a sum over a mesh, as a share: what is so little over a whole number of beds is that number.
constexpr double wholeRelative = 1e-9;

/// The most that one piece can have, each of whichever bed has the most of it.
struct Largest {
    double volumeMm3 = 0, diagonalMm = 0, sectionMm2 = 0;
    double areaMm2 = 0, meanWidthMm = 0; ///< of its hull
};

Largest largestPiece(const std::vector<Bed>& beds, double marginMm)
{
    Largest largest;
    for (Bed bed : beds) {
        const BedRoom room = withRounding(roomOf(bed, marginMm));
        const double w = room.widthMm, d = room.depthMm, h = room.heightMm;
        if (w <= 0 || d <= 0 || h <= 0)
            continue;
        bed.widthMm = w;
        bed.depthMm = d;
        bed.heightMm = h;
        largest.volumeMm3 = std::max(largest.volumeMm3, bed.volumeMm3());
        const double across = room.round ? w : std::hypot(w, d);
        largest.diagonalMm = std::max(largest.diagonalMm, std::hypot(across, h));
        largest.sectionMm2 =
            std::max(largest.sectionMm2, room.round ? largestCylinderSectionMm2(w, h) : largestBoxSectionMm2(w, d, h));
        const double pi = std::numbers::pi;
        largest.areaMm2 = std::max(largest.areaMm2, room.round ? pi * w * (w / 2 + h) : 2 * (w * d + d * h + h * w));
        // Of a cylinder: half the height and pi / 4 of the diameter (integral mean curvature over 2 pi).
        largest.meanWidthMm = std::max(largest.meanWidthMm, room.round ? h / 2 + pi * w / 4 : (w + d + h) / 2);
    }
    return largest;
}

int wholeOver(double amount, double most)
{
    return std::max(1, static_cast<int>(std::ceil(amount / most * (1 - wholeRelative))));
}

bool hullIsTooLarge(const Mesh& body, double flatMm2, const Largest& largest)
{
    const PieceShape shape(body);
    const HullMeasures hull = measuresOf(shape.hull());
    constexpr double more = 1 + wholeRelative;
    return flatMm2 > more * largest.sectionMm2 || hull.volumeMm3 > more * largest.volumeMm3 ||
           hull.areaMm2 > more * largest.areaMm2 || hull.meanWidthMm > more * largest.meanWidthMm;
}

/// The bounds in the order in which they are named when several say the same.
LowerBound boundOf(const Mesh& body, const Largest& largest)
{
    const double beds = std::abs(mesh::volume(body)) / largest.volumeMm3;
    LowerBound bound{wholeOver(beds, 1), fmt::format("volume: {:.2f} beds", beds)};
    const auto take = [&](int pieces, auto&& words) {
        if (pieces > bound.pieces)
            bound = {pieces, words()};
    };
    const int points = static_cast<int>(separatedPoints(body, largest.diagonalMm).size());
    take(points, [&] { return fmt::format("{} points more than {:.1f} mm apart", points, largest.diagonalMm); });
    double straight = 0, flat = 0, hullFlat = 0, round = 1;
    for (const mesh::Region& section : tellingSections(body)) {
        straight = std::max(straight, longestWithin(section));
        flat = std::max(flat, mesh::area(section));
        hullFlat = std::max(hullFlat, hullAreaMm2(section));
        round = std::min(round, mostOfTheWayRound(section, largest.diagonalMm));
    }
    take(wholeOver(straight, largest.diagonalMm), [&] {
        return fmt::format("straight feature: {:.1f} mm, of which a piece holds {:.1f} mm at most", straight,
                           largest.diagonalMm);
    });
    take(wholeOver(flat, largest.sectionMm2),
         [&] { return fmt::format("flat area: {:.2f} of the largest section of a bed", flat / largest.sectionMm2); });
    take(wholeOver(1, round),
         [&] { return fmt::format("round feature: a piece holds {:.1f} % of the way round it at most", 100 * round); });
    if (bound.pieces < 2 && hullIsTooLarge(body, hullFlat, largest))
        bound = {2, "its hull is larger than a bed"};
    return bound;
}

} // namespace

double largestBoxSectionMm2(double a, double b, double c)
{
    const double longest = std::max({a, b, c});
    return longest * std::sqrt(a * a + b * b + c * c - longest * longest);
}

double largestCylinderSectionMm2(double diameter, double height)
{
    return std::hypot(std::numbers::pi * diameter * diameter / 4, diameter * height);
}

LowerBound lowerBound(const Mesh& part, const std::vector<Bed>& beds, double marginMm, bool islandsApart)
{
    const Largest largest = largestPiece(beds, marginMm);
    if (largest.volumeMm3 <= 0)
        return {1, "no bed has room within its margin"};
    const std::vector<Mesh> bodies = islandsApart ? mesh::bodies(part) : std::vector<Mesh>{part};
    LowerBound sum{0, ""}, most{0, ""};
    for (const Mesh& body : bodies) {
        const LowerBound one = boundOf(body, largest);
        sum.pieces += one.pieces;
        if (one.pieces > most.pieces)
            most = one;
    }
    if (bodies.size() < 2)
        return most.pieces > 0 ? most : LowerBound{1, "nothing there"};
    sum.reason = fmt::format("{} bodies", bodies.size());
    if (most.pieces > 1)
        sum.reason += fmt::format(", one of which needs {} ({})", most.pieces, most.reason);
    return sum;
}

} // namespace quoin::core
