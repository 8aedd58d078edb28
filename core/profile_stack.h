// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/plane.h"

#include <vector>

namespace quoin::core {

/// An outline at a height over a plane, mm, counter-clockwise seen from the plane's normal.
struct ProfileLevel {
    double heightMm;
    mesh::Loop outline;
};

/// A body along an axis, told by its outline level by level, upwards. Straight walls lie between two levels of
/// different heights, which must have equally many corners; between two levels at the same height, one of which
/// encloses the other, lies a flat step.
using ProfileStack = std::vector<ProfileLevel>;

/// The body, closed, outside out.
mesh::Mesh closedStack(const ProfileStack& stack, const mesh::PlaneFrame& frame);

/// The same without the bottom: a surface that stands on a face, its border in the first level.
mesh::Mesh openStack(const ProfileStack& stack, const mesh::PlaneFrame& frame);

/// Each edge of an outline moved outwards by its own distance (inwards if negative), corners where the moved edges
/// meet. Entry i belongs to the edge from corner i to the next. Empty when an edge would vanish: the outline has no
/// such parallel with the same corners.
mesh::Loop movedEdges(const mesh::Loop& outline, const std::vector<double>& distanceMm);
/// All edges alike.
mesh::Loop movedEdges(const mesh::Loop& outline, double distanceMm);

mesh::Loop scaledBy(mesh::Loop outline, double factor);

/// A circle as a polygon round it: its sides, not its corners, lie on the radius, so that what has this radius goes in.
mesh::Loop circleRound(double radiusMm, int sides);

/// Farthest corner from the origin, mm.
double reachOf(const mesh::Loop& outline);

/// An outline given about a place in the frame of a cut's plane, seen in the frame of outwardPlane(cut, above):
/// counter-clockwise there.
mesh::Loop seenFromSide(const mesh::Loop& outline, mesh::Vec2 at, const mesh::Plane& cut, bool above);

} // namespace quoin::core
