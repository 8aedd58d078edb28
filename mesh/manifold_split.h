// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

namespace quoin::mesh {

/// Parts a closed, oriented surface where it only touches itself: along edges that four or more triangles share, each
/// wedge of material keeps its own copies of the points, so that every edge has two triangles again. Geometry and
/// triangle order stay; points are appended. Returns how many points were added.
///
/// Around such an edge the triangles are paired in angular order, each pair with the material between them.
std::size_t splitTouchingEdges(Mesh& mesh);

} // namespace quoin::mesh
