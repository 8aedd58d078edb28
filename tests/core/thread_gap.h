// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/thread_mesh.h"
#include "mesh/distance.h"

#include <algorithm>

namespace quoin::test {

/// Coarse for speed; what is claimed must hold at any chord error.
inline constexpr double coarseThreadMm = 0.1;

inline core::ThreadedShape threadedShape(const char* name, double lengthMm, double clearanceMm = 0.3,
                                         double chordMm = coarseThreadMm)
{
    core::ThreadedShape shape;
    shape.thread = core::threadFrom(name).value();
    shape.lengthMm = lengthMm;
    shape.clearanceMm = clearanceMm;
    shape.chordMm = chordMm;
    shape.phase = 0.7;
    return shape;
}

/// Both profiles, 1 to 4 starts, both hands.
inline std::vector<core::ThreadedShape> threadFamily()
{
    return {threadedShape("Printable 40x6", 20),
            threadedShape("Printable 40x6LH", 20),
            threadedShape("Printable 30x10(P5)", 18),
            threadedShape("Printable 60x30(P10)LH", 30),
            threadedShape("Printable 24x16(P4)", 14),
            threadedShape("Printable 8x3", 12),
            threadedShape("Tr 40x7", 24),
            threadedShape("Tr 40x7LH", 24),
            threadedShape("Tr 60x18(P9)LH", 30),
            threadedShape("Tr 36x18(P6)", 20),
            threadedShape("Tr 80x40(P10)", 32),
            threadedShape("Tr 20x4", 16)};
}

/// The exact least distance of two meshes that don't cross: of every edge of one and every corner of the other.
inline double meshGapMm(const mesh::Mesh& moved, const mesh::Mesh& fixed, const mesh::SurfaceTree& fixedTree)
{
    std::vector<std::pair<mesh::Index, mesh::Index>> edges;
    for (const mesh::Triangle& t : moved.triangles)
        for (std::size_t k = 0; k < 3; ++k)
            edges.push_back(std::minmax(t[k], t[(k + 1) % 3]));
    std::sort(edges.begin(), edges.end());
    edges.erase(std::unique(edges.begin(), edges.end()), edges.end());
    double least = 1e300;
    for (const auto& [a, b] : edges)
        least = std::min(least, fixedTree.distanceToSegment(moved.points[a], moved.points[b]).distanceMm);
    const mesh::SurfaceTree movedTree(moved);
    for (const mesh::Vec3 p : fixed.points)
        least = std::min(least, movedTree.distance(p));
    return least;
}

} // namespace quoin::test
