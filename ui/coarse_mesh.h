// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"
#include "mesh/mesh.h"

namespace quoin::ui {

/// A stand-in for a mesh while the view moves; good to look at, not a solid.
struct CoarseMesh {
    mesh::Mesh mesh;    ///< labels kept when there were any
    double errorMm = 0; ///< no point of it is farther than this from the mesh it was made from
};

/// About `targetTriangles` triangles (half to one and a quarter times as many for surfaces without much folding):
/// points in the same cell of a grid become one (Rossignac and Borrel 1993, "Multi-resolution 3D approximations for
/// rendering complex scenes"), placed where the squared distance to the planes of the faces about them is least
/// (Lindstrom 2000, "Out-of-core simplification of large polygonal models"), but inside the cell. Lindstrom leaves out
/// small singular values; here the point is drawn a little to the points' mean instead, which needs no decomposition.
/// Limit: a rod or sheet thinner than a cell may become a flat ribbon. A cancelled context: an empty mesh.
CoarseMesh coarseMesh(const mesh::Mesh& mesh, std::size_t targetTriangles, const Context& context = {});

} // namespace quoin::ui
