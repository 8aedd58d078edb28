// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/plane.h"

namespace quoin::core {

/// The shadow of a body on the plate, seen from above: outer loops counter-clockwise, holes clockwise, mm. The edges at
/// which the surface turns from upwards to downwards, filled: exact but for the rounding of the polygon library. Of a
/// mesh that is not closed, what the faces that are there cover. Empty for an empty mesh.
mesh::Region shadowOf(const mesh::Mesh& mesh);

/// The same region with fewer corners: everything of it lies within the result, which reaches at most `mostMm` further
/// and nowhere out of the region's convex hull, so that it fits the same beds.
mesh::Region roundedUp(const mesh::Region& region, double mostMm);

/// Loops with fewer corners, each within toleranceMm of the one given (Ramer 1972; Douglas and Peucker 1973): to either
/// side. Loops that come down to fewer than three corners are left out.
mesh::Region thinned(const mesh::Region& region, double toleranceMm);

/// Turned about the origin by an angle; quarter turns are exact.
mesh::Region turned(const mesh::Region& region, double angle);
mesh::Region shifted(const mesh::Region& region, mesh::Vec2 by);

/// Bounds of a region; low above high when it is empty.
struct FlatBox {
    mesh::Vec2 low{1e300, 1e300}, high{-1e300, -1e300};
    void add(mesh::Vec2 p);
};
FlatBox flatBounds(const mesh::Region& region);

} // namespace quoin::core
