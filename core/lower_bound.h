// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "mesh/mesh.h"

#include <string>
#include <vector>

namespace quoin::core {

/// A number of pieces that no way of cutting can go below, and the reason.
struct LowerBound {
    int pieces = 1;
    std::string reason; ///< "volume: 8.00 beds" or "5 points more than 346.4 mm apart"
};

/// For each body the larger of: its solid volume over the largest bed's; points of its surface that are pairwise
/// farther apart than the longest diagonal of any bed (each needs a piece of its own; any kind of cut). Added up over
/// the bodies, since a piece is of one body. Margins are taken off, and what rounding may add (core/bed_room.h) is put
/// on. Few points are looked for, not the most there could be: the bound is true, but may be low.
/// @param islandsApart  false: a piece may be of several bodies; both bounds are then taken over the whole part
LowerBound lowerBound(const mesh::Mesh& part, const std::vector<Bed>& beds, double marginMm, bool islandsApart = true);

/// As many points of the surface as could be found that are pairwise farther apart than `apartMm`. Deterministic.
std::vector<mesh::Vec3> separatedPoints(const mesh::Mesh& mesh, double apartMm);

} // namespace quoin::core
