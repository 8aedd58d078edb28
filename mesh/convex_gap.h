// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/vec3.h"

#include <array>

namespace quoin::mesh {

/// Bounds of a distance, mm: the true one lies between them, up to rounding.
struct GapBounds {
    double lowMm, highMm;
};

/// Distance between triangle b and triangle a swept by every shift in a box: zero when some shift in the box brings
/// them together. Method: Gilbert, Johnson and Keerthi, IEEE J. Robotics and Automation 4(2), 1988, on the difference
/// of the two convex sets; nearest points of simplices as in Ericson 2005, chapter 5. Triangles without area, and boxes
/// without width, are sound.
/// @param enoughMm  may stop as soon as the distance is known to be more than this
GapBounds sweptGap(const std::array<Vec3, 3>& a, const std::array<Vec3, 3>& b, const Box3& shifts, double enoughMm);

} // namespace quoin::mesh
