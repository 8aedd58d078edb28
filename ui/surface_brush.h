// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <cstddef>
#include <limits>
#include <numbers>
#include <vector>

namespace quoin::ui {

/// Which triangle lies across each edge of a mesh. Built once a mesh, on a worker thread (a few tenths of a second for
/// a million triangles), then shared.
struct SurfaceNeighbours {
    static constexpr mesh::Index none = std::numeric_limits<mesh::Index>::max();
    /// across[3 * t + k]: the triangle at the edge from corner k to corner (k + 1) % 3 of t; none at a border and where
    /// the surface isn't a surface.
    mesh::Buffer<mesh::Index> across;
};

/// The mesh must be welded: edges are shared by index.
SurfaceNeighbours neighboursOf(const mesh::Mesh& mesh);

/// Distance from p to the nearest point of triangle abc, mm. (Ericson 2004, "Real-time collision detection", 5.1.5.)
double distanceToTriangle(mesh::Vec3 p, mesh::Vec3 a, mesh::Vec3 b, mesh::Vec3 c);

/// The triangles that a ball about a place reaches, going from triangle to triangle over shared edges: what lies close
/// in space but far on the surface (the other side of a slit) is left out. Whole triangles, the seed always among
/// them; in no order.
/// @param seed      the triangle that the place is on
/// @param radiusMm  in the mesh's own frame
std::vector<mesh::Index> brushed(const mesh::Mesh& mesh, const SurfaceNeighbours& neighbours, mesh::Index seed,
                                 mesh::Vec3 place, double radiusMm);

/// Edges where the surface turns by more than this part faces from each other: 12-sided rounds still hang together.
inline constexpr double creaseRadians = 35 * std::numbers::pi / 180;

/// The triangles around the seed as far as no edge turns by more than the given angle (radians), nearest first by
/// number of edges crossed. Triangles without area are passed over as if they lay in the plane they are reached from.
/// @param most  stops when so many are found
std::vector<mesh::Index> smoothPatch(const mesh::Mesh& mesh, const SurfaceNeighbours& neighbours, mesh::Index seed,
                                     double crease = creaseRadians,
                                     std::size_t most = std::numeric_limits<std::size_t>::max());

/// Unit normal of a triangle; no length when it has no area.
mesh::Vec3 triangleNormal(const mesh::Mesh& mesh, mesh::Index triangle);

} // namespace quoin::ui
