// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

namespace quoin::mesh {

/// A closed, oriented mesh in which solids touch along edges or at vertices, with a vertex of its own for each fan of
/// triangles: afterwards every edge has two triangles and every vertex one fan, and copies lie on one place. Where
/// more than two triangles meet on an edge, those are kept together that bound the same wedge of material; where they
/// hang together around both ends of the edge, it is also split in its middle. New vertices and triangles come at the
/// end. One edge of a triangle at a time is split: look again, and call again. An edge that is open or has uneven uses
/// is left as it is.
Mesh splitFans(const Mesh& mesh);

/// Without the pairs of triangles that have the same three corners and face opposite ways: sheets of no thickness,
/// with nothing between them. What is closed stays closed.
Mesh withoutOppositePairs(const Mesh& mesh);

} // namespace quoin::mesh
