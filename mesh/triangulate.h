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

struct OutlineTriangles {
    /// Counter-clockwise, corners are indices into the point list.
    std::vector<Triangle> triangles;
    /// Pairs of points that lie on the same spot and that the outline's fillings join there: the caller must make
    /// them one to stay closed. Empty unless the outline touches itself in a point.
    std::vector<OutlineEdge> merged;
};

/// Constrained Delaunay triangulation of the area that a set of directed edges encloses (area to the left of each
/// edge), holes and islands included. Corners are the given points only; no new point is made.
/// @param points  places in the plane, mm; those not named by an edge are ignored
/// @param edges   closed chains: each point has as many edges in as out; an edge and its opposite cancel
/// @return CutFailed when edges cross, a point lies on an edge, or an area is enclosed other than once.
Result<OutlineTriangles> triangulateOutline(const std::vector<Vec2>& points, const std::vector<OutlineEdge>& edges);

/// A point of a plane in exact terms: where segment ab crosses the plane, or a itself when a equals b.
struct CrossingPoint {
    Vec3 a, b;
};

/// The same with points that are not rounded at all (exact rational coordinates, seen along the plane's normal). Slow;
/// for outlines whose rounded points coincide or cross.
Result<OutlineTriangles> triangulateOutlineExactly(const std::vector<CrossingPoint>& points, const Plane& plane,
                                                   const std::vector<OutlineEdge>& edges);

/// Triangles of a region; corner indices count through the loops in order.
Result<std::vector<Triangle>> triangulateRegion(const Region& region);

} // namespace quoin::mesh
