// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/plane.h"
#include "mesh/result.h"

#include <vector>

namespace quoin::mesh {

/// A directed edge of a planar outline, by index into a point list.
using OutlineEdge = std::array<Index, 2>;

/// Constrained Delaunay triangulation of the area that a set of directed edges encloses (area to the left of each
/// edge), holes and islands included. Corners are the given points only; no new point is made.
/// @param points  places in the plane, mm; those not named by an edge are ignored
/// @param edges   closed chains: each point has as many edges in as out
/// @return triangles, counter-clockwise. CutFailed when edges cross, points coincide, or an area is enclosed other
///         than once (an outline of a self-intersecting body).
Result<std::vector<Triangle>> triangulateOutline(const std::vector<Vec2>& points, const std::vector<OutlineEdge>& edges);

/// The same for a region; corner indices count through the loops in order.
Result<std::vector<Triangle>> triangulateRegion(const Region& region);

} // namespace quoin::mesh
