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

/// The largest of: solid volume over the largest bed's; surface points pairwise farther apart than the largest bed's
/// longest diagonal (each needs a piece of its own; any mesh, any kind of cut); bodies. Margins are taken off.
LowerBound lowerBound(const mesh::Mesh& part, const std::vector<Bed>& beds, double marginMm);

} // namespace quoin::core
