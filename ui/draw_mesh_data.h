// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <array>
#include <cstddef>
#include <vector>

namespace quoin::ui {

/// Triangles that are sent to the graphics card at once.
struct DrawChunk {
    std::vector<std::array<float, 3>> points;  ///< mm
    std::vector<std::array<float, 3>> normals; ///< one a point; unit length, outward
    std::vector<mesh::Triangle> triangles;     ///< the model's own surface first, then labelled faces
    std::size_t skinTriangles = 0;
    mesh::Box3 box; ///< of the points
};

/// The same surface at one fineness.
struct DrawLevel {
    std::vector<DrawChunk> chunks;             ///< near each other in space, none very large
    std::vector<std::array<float, 3>> borders; ///< ends of lines, two a line
    std::size_t triangles = 0;
    double errorMm = 0; ///< no point of this level is farther than this from the true surface
};

/// What drawMeshOf prepares. Level 0 is the mesh itself, each further one is coarser.
class DrawMesh {
public:
    std::vector<DrawLevel> levels;
    mesh::Box3 box;
    /// Closed and the right way out, so that faces turned away from the viewer are never seen from outside.
    bool solid = false;
};

/// Chunks of the full level hold at most this many triangles: few enough that a card which is a program (Mesa's
/// llvmpipe) draws one in about 5 ms, many enough that their number doesn't matter.
inline constexpr std::size_t trianglesPerChunk = 50'000;

} // namespace quoin::ui
