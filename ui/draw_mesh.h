// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/view_scene.h"

namespace quoin::ui {

/// Prepares a mesh for drawing: smooth and crisp normals (ui/shading.h), skin and labelled faces apart, borders of
/// labelled faces as lines; and, above a few ten thousand triangles, a coarser copy for while the view moves. Slow for
/// large meshes: call it on a worker thread. Returns null when cancelled.
DrawMeshPtr drawMeshOf(const mesh::Mesh& mesh, const Context& context = {});

/// Triangles of the full mesh; for statistics.
std::size_t triangleCount(const DrawMesh& mesh);
mesh::Box3 boundsOf(const DrawMesh& mesh);

} // namespace quoin::ui
