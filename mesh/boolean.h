// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/result.h"

namespace quoin::mesh {

/// Exact corefinement (CGAL) of two closed meshes free of self-intersections. Labels are dropped. Exact points are
/// rounded once, to doubles; points that come out nearer than 1e-6 mm are made one, so that no triangle lacks a height
/// for a file's 32-bit floats. Self-intersections are looked for only where the two meet.
/// @return NotClosed, NotOriented (inside out), SelfIntersecting or CutFailed in words; the inputs are untouched.
Result<Mesh> solidUnion(const Mesh& a, const Mesh& b);
Result<Mesh> solidDifference(const Mesh& a, const Mesh& b);
Result<Mesh> solidIntersection(const Mesh& a, const Mesh& b);

} // namespace quoin::mesh
