// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/plane.h"

#include <functional>
#include <vector>

namespace quoin::samples {

using mesh::Loop;
using mesh::Mesh;
using mesh::Transform;
using mesh::Vec2;
using mesh::Vec3;

/// Corners of every round bore and pin: 0.02 mm of sag on a 2.2 mm bore made 7 times larger.
inline constexpr int roundSides = 64;

/// An outline that can be drawn a little smaller, for chamfers: the same number of points at each inset, mm.
using Outline = std::function<Loop(double insetMm)>;

/// @param phase  turns the corners by this share of a step: where two round things share an axis, corners that fall on
///               one ray would leave slivers in a boolean
Outline circleOutline(Vec2 centre, double radius, double phase = 0);
/// The convex hull of two circles.
Outline linkOutline(Vec2 a, double radiusA, Vec2 b, double radiusB);
/// A circle about (0,0) with a flat at x = flat: keys a shaft or a peg against turning.
Outline dOutline(double radius, double flat);

/// An outline (seen from its middle, every corner is in sight) raised from z = from to z = to, with chamfers. Rows of
/// short triangles, since booleans are slow on needles.
Mesh raised(const Outline& outline, double from, double to, double chamferFrom = 0, double chamferTo = 0);
/// The same along x, the outline being in (y, z). End faces lie at x exactly.
Mesh raisedAlongX(const Outline& outline, double from, double to, double chamferFrom = 0, double chamferTo = 0);

/// A plate of any outline along x with holes through it, the rim chamfered alike on both sides; its faces are
/// triangulated without new points.
Mesh plateAlongX(const Outline& outline, const std::vector<Outline>& holes, double from, double to, double chamfer);

/// A headed pin along z: head from z = 0, then the journal, a shoulder, and a spigot for a collar.
struct PinSizes {
    double headRadius, headLength; ///< 0: no head
    double journalRadius, journalLength;
    double spigotRadius, spigotLength;
    double chamfer;
};
Mesh shoulderPin(const PinSizes& sizes);

/// Boolean operations on solids made here; a failure is a mistake of the design: std::logic_error.
Mesh fused(const Mesh& a, const Mesh& b);
Mesh without(const Mesh& a, const Mesh& b);
/// Several tools that don't touch, as one.
Mesh together(const std::vector<Mesh>& apart);

} // namespace quoin::samples
