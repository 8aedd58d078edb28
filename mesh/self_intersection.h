// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <cstddef>
#include <utility>
#include <vector>

namespace quoin::mesh {

/// Pairs of triangles that meet other than at a shared edge or vertex, by exact predicates (CGAL), on all cores.
/// @param limit  stop after about this many pairs (0: all)
std::vector<std::pair<Index, Index>> selfIntersections(const Mesh& mesh, std::size_t limit = 0);

/// Whether any triangle of a meets any triangle of b (touching counts).
bool meshesIntersect(const Mesh& a, const Mesh& b);

} // namespace quoin::mesh
