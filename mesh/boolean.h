// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/result.h"

namespace quoin::mesh {

/// Exact corefinement (CGAL) of two closed meshes free of self-intersections.
/// @return NotClosed, SelfIntersecting or CutFailed in words; the inputs are untouched.
Result<Mesh> solidUnion(const Mesh& a, const Mesh& b);
Result<Mesh> solidDifference(const Mesh& a, const Mesh& b);
Result<Mesh> solidIntersection(const Mesh& a, const Mesh& b);

} // namespace quoin::mesh
