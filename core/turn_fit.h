// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/vec3.h"

#include <vector>

namespace quoin::core {

/// How to turn a polygon counter-clockwise for a rectangle, and the least room that is left, over width and depth
/// (rectangle less extent, both sides together); negative: it doesn't fit.
struct TurnFit {
    double radians;
    double slackMm;
};

/// The turn of a convex polygon into a rectangle that leaves the largest least slack; exact up to rounding.
///
/// Between two turns that bring an edge along a side of the rectangle, the extents are A cos(t - a) and B cos(t - b)
/// of the same four corners (rotating calipers: Toussaint 1983). Both slacks are convex there, so the least of them is
/// largest at an end of the interval or where the two are equal, which is solved in closed form. O(n log n).
/// @param points  any points, mm; their convex hull is turned
TurnFit bestTurn(const std::vector<mesh::Vec2>& points, double widthMm, double depthMm);

} // namespace quoin::core
