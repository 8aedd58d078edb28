// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/plane.h"

#include <vector>

namespace quoin::mesh {

/// Closed, oriented solids for samples, tests and joint parts. Lengths in mm. Long faces are split into short
/// triangles on request, since booleans are slow on needles. Arguments that make no solid (a height of nothing, too few
/// sides) are a programmer's mistake: std::invalid_argument.

Mesh box(Vec3 min, Vec3 max);
/// Axis from (0,0,0) to (0,0,height); `sides` corners lie on the radius (inscribed polygon).
Mesh cylinder(double radius, double height, int sides, int rows = 1);
/// Truncated cone, radii at the bottom and the top.
Mesh frustum(double bottomRadius, double topRadius, double height, int sides, int rows = 1);
/// Solid of revolution about z: profile points (radius, z), counter-clockwise seen with z up and radius to the right,
/// first and last on the axis or the loop closed off the axis (a ring).
Mesh revolved(const Loop& profile, int sides);
/// Torus about z.
Mesh torus(double ringRadius, double tubeRadius, int ringSides, int tubeSides);
/// Subdivided icosahedron, vertices on the sphere: 20 * 4^levels triangles.
Mesh icosphere(double radius, int levels);
/// A region raised from z = 0 to z = height. Regions whose loops cross or touch: std::invalid_argument.
Mesh prism(const Region& region, double height, int rows = 1);
/// Closed tube through rings of equally many points each (not twisted), capped at both ends by fans about the ring's
/// mean. The first and the last ring may be a single point: a tip. Quadrilaterals are split along the shorter diagonal;
/// the outside is outside whichever way the rings turn.
Mesh loft(const std::vector<std::vector<Vec3>>& rings);

/// Corners of a circular chord polygon so that the sag is at most chordMm; at least 12, a multiple of 4.
int sidesForChord(double radius, double chordMm);

} // namespace quoin::mesh
