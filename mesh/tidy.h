// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <vector>

namespace quoin::mesh {

/// Triangles with a side, or a height, of less than sizeMm.
std::vector<Index> sliversOf(const Mesh& mesh, double sizeMm);

/// Closes edges shorter than sizeMm and turns over the long sides of triangles less high than that, moving no vertex
/// farther than a few times it. A closed 2-manifold stays one. Labels are kept. For what planes leave behind that
/// pass almost through a vertex or almost along an edge: later steps round, and slivers near the rounding error
/// would fold over. Unchanged, and quick, when there are no slivers.
Mesh withoutSlivers(Mesh mesh, double sizeMm);

} // namespace quoin::mesh
