// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/grid_frame.h"
#include "mesh/mesh.h"

#include <vector>

namespace quoin::core {

/// A direction that planes may stand across.
struct CutNormal {
    mesh::Vec3 direction;
    double dislike = 0; ///< how much a maker would rather not: 0 for the part's own directions, up to 1
};

/// Unit normals worth sweeping, each direction once (a plane has no sign), those that the part itself suggests first:
/// the axes of its frames, the normals of its flat faces, the mitres between those, then directions spread evenly (the
/// 129 of a thrice divided octahedron, Luo et al. 2012, in the first frame that is the part's own).
std::vector<CutNormal> cutNormals(const mesh::Mesh& part, const std::vector<GridFrame>& frames,
                                  const std::vector<mesh::Vec3>& more = {});

/// Directions spread evenly over half a sphere: 2 k^2 + 1 of them; k = 8 gives 129.
std::vector<mesh::Vec3> evenDirections(int k);

} // namespace quoin::core
