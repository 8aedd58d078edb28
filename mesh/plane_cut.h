// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"
#include "mesh/mesh.h"
#include "mesh/plane.h"
#include "mesh/result.h"

namespace quoin::mesh {

struct CutOptions {
    /// Label given to the new faces when `withLabels`; old labels are carried over.
    Label label = 1;
    bool withLabels = true;
    /// Worker threads; 0: as many as the machine has.
    int threads = 0;
};

/// The two sides of a plane. Both are closed and oriented when the input is; either may be empty. New triangles (the
/// cap) stand at the end, from belowCap and aboveCap on; the cap above is the cap below, mirrored, triangle for
/// triangle.
struct CutHalves {
    Mesh below, above;
    std::size_t belowCap = 0, aboveCap = 0;
};

/// Cuts a closed, oriented mesh free of self-intersections.
///
/// Each vertex is classified by the exact sign of normal . p - offset (filtered; Shewchuk 1997 for the rest); each
/// crossed edge makes one vertex, the same for both halves; vertices on the plane become rim vertices of both. A
/// triangle in the plane belongs to the half that its outside faces away from. Caps are constrained Delaunay
/// triangulations; when outlines touch or cross in double precision, they are triangulated again with exact points.
/// @return CutFailed with a place when the section encloses an area other than once: the model intersects itself.
Result<CutHalves> cutByPlane(const Mesh& mesh, const Plane& plane, const CutOptions& options = {});

/// Outline of the section, in the frame of the plane (frameOf): where there is material on both sides.
Result<Region> sectionByPlane(const Mesh& mesh, const Plane& plane);

} // namespace quoin::mesh
