// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <utility>
#include <vector>

namespace quoin::mesh {

/// The skin of a tangled surface: the boundary of all places that it winds round at least once.
struct WindingSurface {
    Mesh mesh;                 ///< welded, coordinates rounded to doubles, facing out of the material
    double twiceMm3 = 0;       ///< volume that was enclosed more than once
    double turnedMm3 = 0;      ///< volume that was enclosed the wrong way round, and is left out
    std::vector<Index> turned; ///< triangles of the original that bounded it
};

/// Unites what overlaps, whether bodies or folds of one body: exact up to the last rounding, which may tangle slivers
/// anew (look again). Every edge of the mesh must be run as often one way as the other. Edges where the material only
/// touches itself stay shared by four triangles.
/// @param pairs   selfIntersections(mesh), all of them
/// @param snapMm  new points nearer than this to a point of a cut triangle, or to an earlier new point, become one with
///                it: fewer slivers that rounding could tangle
WindingSurface windingSurface(const Mesh& mesh, const std::vector<std::pair<Index, Index>>& pairs, double snapMm = 0);

} // namespace quoin::mesh
