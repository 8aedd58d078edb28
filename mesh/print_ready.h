// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/result.h"

#include <string>
#include <vector>

namespace quoin::mesh {

struct PrintReady {
    Mesh mesh;                 ///< every coordinate is a 32-bit float
    std::size_t collapsed = 0; ///< edges closed up because their ends met after rounding or were too near to keep
    std::size_t untangled = 0; ///< triangles mended because rounding had folded them over
    double movedMm = 0;        ///< farthest that a vertex moved
};

/// A closed mesh rounded to what an STL file can hold, and still closed, oriented, 2-manifold and free of
/// self-intersections: edges shorter than the float step are collapsed (where the surface stays a manifold), the rest
/// is rounded, and what rounding has folded over is mended by collapsing the short edges around it. Points within
/// the step of z = 0 are put on it.
/// @return NotManifold or SelfIntersecting with the place when that can't be had within movement limitMm.
Result<PrintReady> printReady(const Mesh& mesh, double limitMm = 0.05);

} // namespace quoin::mesh
