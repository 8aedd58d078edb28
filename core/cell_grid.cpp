// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cell_grid.h"

#include "core/standing.h"
#include "mesh/primitives.h"

#include <algorithm>
#include <map>
#include <numbers>

namespace quoin::core {

using mesh::Vec3;

namespace {

/// As PieceShape::flatFaces asks: a base has at least this share of the largest shadow.
constexpr double leastBaseShare = 0.01;

/// Boxes turned freely, which takes long, that are tried for one division.
constexpr int mostFreeTries = 16;

/// Rounding: an even division may come out longer than a bed by the last digit.
constexpr double digitRelative = 1e-12;

/// Cells are at most this many times thinner than the least side of a bed asks for.
constexpr int thinnerCells = 3;

/// No side is divided into more than this.
constexpr double mostCellsAlong = 500;

bool boxFitsRoom(Vec3 sides, const BedRoom& room)
{
    mesh::Buffer<Vec3> corners;
    for (const double x : {0.0, sides.x})
        for (const double y : {0.0, sides.y})
            for (const double z : {0.0, sides.z})
                corners.push_back({x, y, z});
    const Vec3 faces{sides.y * sides.z, sides.x * sides.z, sides.x * sides.y};
    const double shadow = length(faces);
    for (int axis = 0; axis < 3; ++axis) {
        if (faces[axis] < leastBaseShare * shadow)
            continue;
        const Vec3 down{axis == 0 ? -1.0 : 0.0, axis == 1 ? -1.0 : 0.0, axis == 2 ? -1.0 : 0.0};
        if (standOn(corners, down, room, 0).slackMm >= 0)
            return true;
    }
    return false;
}

Vec3 cellOf(Vec3 extents, const CellCounts& n)
{
    return {extents.x / n[0], extents.y / n[1], extents.z / n[2]};
}

/// Keeps the divisions of which no other has all numbers as small.
void dropDominated(std::vector<CellCounts>& all)
{
    const auto covers = [](const CellCounts& a, const CellCounts& b) {
        return a != b && a[0] <= b[0] && a[1] <= b[1] && a[2] <= b[2];
    };
    const std::vector<CellCounts> before = all;
    std::erase_if(all, [&](const CellCounts& b) {
        return std::any_of(before.begin(), before.end(), [&](const CellCounts& a) { return covers(a, b); });
    });
    std::sort(all.begin(), all.end());
    all.erase(std::unique(all.begin(), all.end()), all.end());
}

/// A box within a box has no longer edges in all (its mean width is a quarter of them).
bool edgesMightFit(Vec3 sides, const std::vector<Bed>& beds, double marginMm)
{
    return std::any_of(beds.begin(), beds.end(), [&](const Bed& bed) {
        const BedRoom room = withRounding(roomOf(bed, marginMm));
        const double across = room.round ? 0.5 * std::numbers::pi * room.widthMm : room.widthMm + room.depthMm;
        return sides.x + sides.y + sides.z <= across + room.heightMm;
    });
}

/// Divisions with one cell less along a side whose cells fit turned freely.
void addFreelyTurned(std::vector<CellCounts>& all, Vec3 extents, const std::vector<Bed>& beds,
                     const FitOptions& options)
{
    std::map<CellCounts, bool> known;
    for (std::size_t i = 0; i < all.size(); ++i)
        for (std::size_t axis = 0; axis < 3; ++axis) {
            CellCounts fewer = all[i];
            if (--fewer[axis] < 1 || known.contains(fewer) || known.size() >= mostFreeTries)
                continue;
            if (!edgesMightFit(cellOf(extents, fewer), beds, options.marginMm))
                continue;
            known[fewer] = fitOnBeds(mesh::box({0, 0, 0}, cellOf(extents, fewer)), beds, options).has_value();
            if (known[fewer])
                all.push_back(fewer);
        }
}

} // namespace

bool boxFits(Vec3 sidesMm, const std::vector<Bed>& beds, double marginMm)
{
    return std::any_of(beds.begin(), beds.end(), [&](const Bed& bed) {
        return boxFitsRoom((1 - digitRelative) * sidesMm, withRounding(roomOf(bed, marginMm)));
    });
}

bool boxFitsStrictly(Vec3 sidesMm, const std::vector<Bed>& beds, double marginMm)
{
    return std::any_of(beds.begin(), beds.end(), [&](const Bed& bed) {
        return boxFitsRoom((1 - digitRelative) * sidesMm, roomOf(bed, marginMm));
    });
}

std::vector<CellCounts> leastCellCounts(Vec3 extentsMm, const std::vector<Bed>& beds, const FitOptions& options)
{
    double leastSide = 0;
    for (const Bed& bed : beds) {
        const BedRoom room = roomOf(bed, options.marginMm);
        const double across = room.round ? room.widthMm / std::sqrt(2.0) : std::min(room.widthMm, room.depthMm);
        leastSide = std::max(leastSide, std::min(across, room.heightMm));
    }
    CellCounts most{};
    for (std::size_t i = 0; i < 3; ++i) {
        const double needed = extentsMm[static_cast<int>(i)] / leastSide;
        if (!(leastSide > 0) || !(needed < mostCellsAlong))
            return {};
        // More than a cube-shaped cell needs: thin cells may lie aslant, and so save cells along the other sides.
        most[i] = thinnerCells * std::max(1, static_cast<int>(std::ceil(needed)));
    }
    // For each first number the third falls as the second grows: walk down the stairs.
    std::vector<CellCounts> all;
    const auto fits = [&](const CellCounts& n) { return boxFits(cellOf(extentsMm, n), beds, options.marginMm); };
    for (int a = 1; a <= most[0]; ++a) {
        int c = most[2];
        for (int b = 1; b <= most[1]; ++b) {
            if (!fits({a, b, c}))
                continue;
            while (c > 1 && fits({a, b, c - 1}))
                --c;
            all.push_back({a, b, c});
        }
    }
    std::erase_if(all, [](const CellCounts& n) { return static_cast<double>(n[0]) * n[1] * n[2] > mostCells; });
    dropDominated(all);
    if (options.anyRotation) {
        addFreelyTurned(all, extentsMm, beds, options);
        dropDominated(all);
    }
    return all;
}

double longestCellMm(Vec3 cellMm, int axis, double leastMm, const std::vector<Bed>& beds, double marginMm)
{
    const auto fits = [&](double lengthMm) {
        Vec3 sides = cellMm;
        (axis == 0 ? sides.x : axis == 1 ? sides.y : sides.z) = lengthMm;
        return boxFitsStrictly(sides, beds, marginMm);
    };
    if (!fits(leastMm))
        return leastMm;
    double low = leastMm, high = leastMm;
    for (const Bed& bed : beds)
        high = std::max(high, std::hypot(bed.widthMm, bed.depthMm, bed.heightMm));
    constexpr int halvings = 40;
    for (int i = 0; i < halvings; ++i) {
        const double middle = (low + high) / 2;
        (fits(middle) ? low : high) = middle;
    }
    return low;
}

} // namespace quoin::core
