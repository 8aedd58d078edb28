// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/vec3.h"

namespace quoin::mesh {

/// Where two things come nearest to each other: the distance in mm, and how far along the first segment (0 to 1).
struct SegmentGap {
    double distanceMm;
    double along;
};

/// Nearest point of a triangle (Ericson 2005, Real-Time Collision Detection, section 5.1.5); sound for triangles
/// without area too.
Vec3 nearestOnTriangle(Vec3 a, Vec3 b, Vec3 c, Vec3 p);

/// Least distance between segments ab and cd (Ericson 2005, section 5.1.9). Either may be a point.
SegmentGap segmentGap(Vec3 a, Vec3 b, Vec3 c, Vec3 d);

/// Least distance between the segment from p to q and a triangle; zero where it passes through. Of several nearest
/// places the one nearest to p counts when p is one of them.
SegmentGap segmentTriangleGap(Vec3 p, Vec3 q, Vec3 a, Vec3 b, Vec3 c);

} // namespace quoin::mesh
