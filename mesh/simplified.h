// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"
#include "mesh/mesh.h"

namespace quoin::mesh {

/// A closed mesh with fewer triangles and nearly the same shape, for looking things up quickly: edges are closed up in
/// the order of what they cost by the squared distances to the planes of the faces about them (Garland and Heckbert
/// 1997), in rounds by a rising limit instead of one by one, which takes linear time. Closed, oriented and 2-manifold
/// stays so; no triangle is turned over, yet thin walls may pass through each other. Labels are dropped. Deterministic.
/// @param mostTriangles  as few as that where it can be done; a mesh that has no more is returned as it is
/// @return unfinished when cancelled
Mesh simplified(const Mesh& mesh, std::size_t mostTriangles, const Context& context = {});

} // namespace quoin::mesh
