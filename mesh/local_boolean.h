// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/result.h"

namespace quoin::mesh {

/// Takes a small solid off a large mesh, or adds it, for features that break an outer surface: counterbores, slots from
/// the side, grooves open at the skin. The two are cut along each other in exact arithmetic (mesh/refined_soup.h), what
/// is kept is told by exact winding numbers, so that faces that lie flush, edges that meet and corners on faces are
/// cases like others; new points are rounded once, to doubles, and edges and heights under 1e-6 mm closed up. Only
/// triangles that meet the tool change: all others, and their order, stay; those that are cut keep their labels, the
/// tool's surface gets toolLabel. Cost: a few passes over the mesh, and the neighbourhood.
///
/// What comes out is checked around the tool (closed, oriented, 2-manifold, free of self-intersections, volume between
/// bounds). If it can't stand, or would not outlive the rounding to a file's floats as it is, the tool is tried a few
/// 1e-5 mm aside, always in the same order; the best outcome counts.
///
/// @param mesh  closed, oriented, 2-manifold, sound around the tool; any size
/// @param tool  the same, outside out, of up to some thousand triangles; it may consist of several bodies
/// @return JointFailed in words: the tool is no solid; the solids touch in a line or a point only; the mesh is unsound
///         there; nothing would be left; or there would be more bodies than before, since a joint must not cut a piece
///         in two. A cavity is no body.
///         A tool that lies clear of the mesh: unchanged for withoutSolid, JointFailed for withSolid. One that lies
///         wholly inside: withoutSolid leaves a cavity, withSolid leaves the mesh unchanged.
Result<Mesh> withoutSolid(const Mesh& mesh, const Mesh& tool, Label toolLabel);
Result<Mesh> withSolid(const Mesh& mesh, const Mesh& tool, Label toolLabel);

} // namespace quoin::mesh
