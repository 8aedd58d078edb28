// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

namespace quoin::mesh {

struct PartedTouching {
    std::size_t points = 0; ///< places where the surface touched itself
    double movedMm = 0;     ///< how far the copies were pulled apart, each
    std::size_t stuck = 0;  ///< places where no pull keeps the surface clear of itself
};

/// Parts a closed, oriented surface where it only touches itself, at edges and at points, and pulls the copies a little
/// apart, so that the parting survives a file that knows points by their place alone.
/// @param stepMm  how far each copy moves, at most a tenth of its shortest edge
PartedTouching partTouching(Mesh& mesh, double stepMm);

} // namespace quoin::mesh
