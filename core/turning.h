// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/piece.h"

#include <string>
#include <vector>

namespace quoin::core {

/// Why the pieces of a seam can't be turned home on a screw in it.
struct TurnObstacle {
    std::string text;     ///< in words; empty when they surely can
    bool certain = false; ///< else only a sweep can tell (turnObstacle of core/assembly.h)
    explicit operator bool() const { return !text.empty(); }
};

/// A quick answer on the safe side. They surely can when the seam alone joins what hangs together on its two sides, and
/// the cut's plane has all of the one on its one side, all of the other on its other: then nothing can touch on the
/// way, wherever the axis is. They surely can't, as a rule of good practice, where other seams join the two sides as
/// well: those would be left without a joint.
TurnObstacle turnObstacleOf(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                            std::size_t seam);

} // namespace quoin::core
