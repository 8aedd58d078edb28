// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <span>

namespace quoin::mesh {

enum class FaceOutcome {
    Done,
    Vanished,      ///< fewer than three distinct corners: nothing appended
    CrossesItself, ///< appended as a fan
};

/// Triangulates one flat face of a file and appends its triangles, which turn the way the corners do.
/// A strictly convex face becomes a fan. Any other is triangulated in the coordinate plane that sees most of it; a
/// corner that comes twice (the bridge to a hole, a touching corner) is one corner, and an edge that runs both ways is
/// no outline. A face without area keeps its corners as a fan, so that its neighbours stay connected.
/// @param corners  indices into points, in order
FaceOutcome appendFace(std::span<const Index> corners, const Buffer<Vec3>& points, Buffer<Triangle>& triangles);

} // namespace quoin::mesh
