// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/edge_table.h"
#include "mesh/topology.h"

#include <vector>

namespace quoin::mesh {

inline constexpr Index noShell = noHalfEdge;

/// One part seen as the skin of a body or of a cavity.
struct Shell {
    bool closed = false;  ///< every edge used an even number of times
    double volumeMm3 = 0; ///< signed; means something for closed shells
    Box3 box;
    Index parent = noShell; ///< the smallest closed shell that this one lies in
    bool cavity = false;    ///< turned against its parent, which is the outside of a body
    Index body = 0;         ///< number of its body
};

struct Shells {
    std::vector<Shell> shell; ///< one a part
    std::size_t bodyCount = 0;
};

/// How the parts (connected ones, or another division into closed surfaces) lie in each other. A shell lies in another
/// when the other is closed and larger and the corners and middles of eight of the inner one's triangles, spread
/// evenly, are inside it or on it, not all on it; shells that cut each other are therefore not nested. Each shell that
/// is no cavity is the outside of a body of its own. Trees are built only for shells whose bounds hold another's.
Shells shellsOf(const Mesh& mesh, const Parts& parts, const EdgeTable& table);
Shells shellsOf(const Mesh& mesh, const Parts& parts);

} // namespace quoin::mesh
