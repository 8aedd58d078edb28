// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/contact_set.h"
#include "mesh/edge_collapse.h"
#include "mesh/float_grid.h"

#include <vector>

namespace quoin::mesh {

struct UntangleOptions {
    FloatGrid grid;
    double limitMm = 0; ///< no vertex may end farther from its place
};

struct Untangled {
    bool clean = false;      ///< nothing meets any more
    std::size_t mended = 0;  ///< edits made
    Vec3 somewhere{0, 0, 0}; ///< a place that could not be mended
};

/// Mends a closed mesh on a float grid in which some triangles meet or have no area. Every pair is offered edits, from
/// gentle to bold: closing an edge, turning a side, moving a corner by a few steps, at last moving a whole cluster of
/// corners along its normals (which opens a sheet that rounding has pressed flat). An edit stays only if by exact
/// test fewer pairs meet after it, so the work ends, and a mesh that comes out clean is so by that test. No corner
/// leaves z = 0, or the bounds of the mesh.
Untangled untangle(EditMesh& mesh, Drift& drift, const std::vector<TrianglePair>& pairs,
                   const UntangleOptions& options);

} // namespace quoin::mesh
