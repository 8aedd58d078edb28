// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/open_face.h"
#include "mesh/recess.h"

#include <vector>

namespace quoin::mesh {

/// The border of a patch, checked, and how its points are named in it. For use inside mesh/ only.
struct PatchBorder {
    Mouth mouth;
    std::vector<Index> corners; ///< points of the patch's surface, in the order of mouth.places
};

/// @return JointFailed in words when the patch can't be sewn into any face in that plane
Result<PatchBorder> borderOf(const FacePatch& patch, const Plane& outward);

/// Appends the patch's triangles, and those of its points that are not on its border.
/// @param firstCorner  number in `points` of the border's first corner
void appendPatch(const FacePatch& patch, const PatchBorder& border, Index firstCorner, Buffer<Vec3>& points,
                 std::vector<Triangle>& triangles);

} // namespace quoin::mesh
