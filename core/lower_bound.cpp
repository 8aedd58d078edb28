// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/lower_bound.h"

#include "core/bed_room.h"
#include "mesh/mass.h"
#include "mesh/topology.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

using mesh::Mesh;

namespace {

/// Rounding of a sum over a mesh, as a share: what is so little over a whole number of beds is that number.
constexpr double wholeRelative = 1e-9;

/// The most that one piece can be: volume, and distance of two of its points.
struct Largest {
    double volumeMm3 = 0;
    double diagonalMm = 0;
};

Largest largestPiece(const std::vector<Bed>& beds, double marginMm)
{
    Largest largest;
    for (Bed bed : beds) {
        const BedRoom room = withRounding(roomOf(bed, marginMm));
        if (room.widthMm <= 0 || room.depthMm <= 0 || room.heightMm <= 0)
            continue;
        bed.widthMm = room.widthMm;
        bed.depthMm = room.depthMm;
        bed.heightMm = room.heightMm;
        largest.volumeMm3 = std::max(largest.volumeMm3, bed.volumeMm3());
        const double across = room.round ? room.widthMm : std::hypot(room.widthMm, room.depthMm);
        largest.diagonalMm = std::max(largest.diagonalMm, std::hypot(across, room.heightMm));
    }
    return largest;
}

LowerBound boundOf(const Mesh& body, const Largest& largest)
{
    const double beds = std::abs(mesh::volume(body)) / largest.volumeMm3;
    const int byVolume = std::max(1, static_cast<int>(std::ceil(beds * (1 - wholeRelative))));
    LowerBound bound{byVolume, fmt::format("volume: {:.2f} beds", beds)};
    const int byPoints = static_cast<int>(separatedPoints(body, largest.diagonalMm).size());
    if (byPoints > byVolume)
        bound = {byPoints, fmt::format("{} points more than {:.1f} mm apart", byPoints, largest.diagonalMm)};
    return bound;
}

} // namespace

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
