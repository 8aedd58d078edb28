// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/plane.h"

#include <vector>

namespace quoin::mesh {

/// Convex hull of the points as a closed mesh (points: hull vertices only). Empty when the points are flat.
/// Points strictly inside the polytope of extreme points are thrown out first, so millions are quick.
Mesh convexHull(const Buffer<Vec3>& points);

/// The points that may be vertices of the hull: all but those strictly inside the polytope of extreme points. Few for
/// most models; all of them for a ball.
Buffer<Vec3> hullCandidates(const Buffer<Vec3>& points);

/// Hull of a few thousand of the points at most: those reaching furthest in even directions, and the furthest from the
/// middle in each patch of directions seen from there. It lies within the true hull, so what is too large for
/// something here is too large; corners and rims of flat faces are among its points. Empty when they are flat.
Mesh innerHull(const Buffer<Vec3>& points);

/// Convex hull of points in a plane, counter-clockwise, collinear points left out (Andrew 1979).
Loop convexHull(std::vector<Vec2> points);

/// Smallest enclosing circle of points (Welzl 1991).
struct Circle {
    Vec2 centre;
    double radius;
};
Circle smallestEnclosingCircle(const std::vector<Vec2>& points);

} // namespace quoin::mesh
