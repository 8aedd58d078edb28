// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/triangulate.h"

#include <string>
#include <vector>

namespace quoin::mesh {

/// Where a feature opens on a flat face.
struct Mouth {
    Region outline;           ///< in the frame of the face's plane, outer loops counter-clockwise
    std::vector<Vec3> places; ///< the same corners in space, loop after loop: they become vertices as they stand
};

/// A face with its mouths left open. For use inside mesh/ only.
struct OpenedFace {
    std::vector<Index> replaced;     ///< triangles of the mesh that make room, ascending
    std::vector<Triangle> triangles; ///< what takes their place
    std::vector<Index> mouths;       ///< of each mouth: the number of its first corner among the points
};

/// Triangulates the part of a labelled face that lies under the mouths anew and leaves the mouths out. The mouths'
/// corners are appended to `points`, which begins with the points of the mesh.
/// @return JointFailed when the label is missing, the face lies elsewhere, a mouth leaves it or mouths meet
Result<OpenedFace> openFace(const Mesh& mesh, Label face, const Plane& outward, const std::vector<Mouth>& mouths,
                            Buffer<Vec3>& points);

/// Directed edges of some triangles that no other of them runs the other way.
std::vector<OutlineEdge> rimOf(const Mesh& mesh, const std::vector<Index>& triangles);

/// Numbers of the triangles that carry a label, ascending.
std::vector<Index> trianglesLabelled(const Mesh& mesh, Label label);

/// JointFailed in words.
Problem jointRefused(const std::string& what, const std::string& remedy = {});

} // namespace quoin::mesh
