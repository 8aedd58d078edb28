// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <limits>
#include <utility>
#include <vector>

namespace quoin::mesh {

/// The part of a large mesh that decides about a small tool in it, and the tool, as one small mesh. It holds every
/// triangle that a ray along an axis from a place within reach can meet, so that winding numbers there are those of
/// the whole. For use inside mesh/ only.
struct Neighbourhood {
    static constexpr Index noVertex = std::numeric_limits<Index>::max();

    Box3 reach;                ///< the tool's bounds, a little larger
    Mesh local;                ///< the mesh's triangles, then the tool's; points with equal coordinates are one
    std::vector<Index> source; ///< of the mesh's triangles in it: their numbers, ascending
    std::vector<char> within;  ///< of the same: whether the box meets the reach
    std::vector<Index> vertex; ///< of each local point: a vertex of the mesh there, or noVertex

    bool ofTool(std::size_t triangle) const { return triangle >= source.size(); }
    /// Pairs of a triangle of the mesh and one of the tool that meet (but in a shared edge or corner); exact.
    std::vector<std::pair<Index, Index>> meetings() const;
};

/// @param turned  the tool's triangles are turned over: then it counts as taken away
Neighbourhood neighbourhoodOf(const Mesh& mesh, const Mesh& tool, bool turned);

} // namespace quoin::mesh
