// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <optional>

namespace quoin::mesh {

/// Triangles that close a rim. The first points are the rim's corners, in the order in which the patch runs them.
struct HolePatch {
    Buffer<Vec3> points;
    std::vector<Triangle> triangles;
};

/// The rim's corners triangulated: flat by a constrained Delaunay triangulation, else by least dihedral angle and area
/// (Liepa 2003, Zou et al. 2013). Rims that have no such triangulation get a fan from their middle.
/// @param around   triangles around the hole; its first `corners` points are the rim
HolePatch plainPatch(const Mesh& around, std::size_t corners, bool flat);

/// The same, refined to the density of the triangles around and faired to continue their tangents. Nullopt where that
/// can't be done: the surroundings are no 2-manifold, or the equations have no solution.
std::optional<HolePatch> fairPatch(const Mesh& around, std::size_t corners);

} // namespace quoin::mesh
