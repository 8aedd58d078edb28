// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/triangulate.h"

#include <vector>

namespace quoin::mesh {

/// Directed edges followed from point to point.
struct OutlineLoops {
    std::vector<std::vector<Index>> loops; ///< three points or more each, not repeated at the end
    bool closed = true;                    ///< every chain came back to where it began
    Index openAt = 0;                      ///< where one began that did not
};

/// An edge and its opposite cancel. Loops come in the order in which their first edges were given.
OutlineLoops loopsOf(const std::vector<OutlineEdge>& edges);

} // namespace quoin::mesh
