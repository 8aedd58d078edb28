// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <array>
#include <vector>

namespace quoin::ui {

/// A mesh ready for a graphics card: one normal a point; points at crisp edges are there once for each side.
struct ShadedMesh {
    std::vector<std::array<float, 3>> points;
    std::vector<std::array<float, 3>> normals; ///< unit length, outward
    std::vector<mesh::Triangle> triangles;
    std::vector<mesh::Label> labels;                 ///< empty (all skin), or one a triangle
    std::vector<std::array<mesh::Index, 2>> borders; ///< edges of labelled faces (cuts, bores), by point

    mesh::Label label(std::size_t triangle) const { return labels.empty() ? mesh::skinLabel : labels[triangle]; }
};

/// Faces that meet at more than this look like an edge.
inline constexpr double creaseDegrees = 32;

/// Splits the points of a mesh where its faces meet at more than the crease angle or change their label, and gives
/// each the mean of its faces' normals, weighted by the faces' angles there (Thuermer and Wuethrich 1998, "Computing
/// vertex normals from polygonal facets"), so that it doesn't matter how a face is split. Triangles with no area are
/// left out.
ShadedMesh shaded(const mesh::Mesh& mesh, double creaseAngleDegrees = creaseDegrees);

} // namespace quoin::ui
