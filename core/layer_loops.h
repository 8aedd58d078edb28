// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/plane.h"

#include <vector>

namespace quoin::core {

/// Outlines of which some were open.
struct MendedLoops {
    std::vector<mesh::Loop> loops;
    bool mended = false; ///< an end was joined to one further away than rounding explains
};

/// Closes open chains of points by joining each end to the nearest beginning, the nearest pairs first. The chains keep
/// their direction. Chains of fewer than three points that close on themselves are dropped.
MendedLoops closedChains(std::vector<mesh::Loop> chains);

/// The loop with fewer points, none of the original further than the tolerance (mm) from it. Fewer than three points
/// are left of a loop that is smaller than the tolerance. Method: Douglas and Peucker, Cartographica 10(2), 1973.
mesh::Loop simplified(const mesh::Loop& loop, double toleranceMm);

} // namespace quoin::core
