// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_ground.h"

#include <optional>
#include <string>

namespace quoin::core {

/// Length of a witness line on either side of its seam, mm; of its groove the width at the skin as a share of that, at
/// least so many mm, and the depth as a share of the width: at its least it still prints and takes no paint full
/// (common practice, no source).
inline constexpr double shortestWitnessMm = 8, longestWitnessMm = 20;
inline constexpr double witnessWidthShare = 0.1, leastWitnessWidthMm = 1, witnessDepthShare = 0.6;
/// Material left under the groove, mm (common practice, no source: three lines of 0.4 mm).
inline constexpr double underWitnessMm = 1.2;

/// A witness line, or why a seam has none.
struct WitnessPlace {
    std::optional<Witness> witness;
    std::string why; ///< in words with numbers; empty when there is one
};

/// Finds a place for the witness line of a seam, on an outer edge of its face where it is seen from outside best: the
/// skin of both pieces runs on smoothly for the line's length and for its width, is thick enough under the groove, and
/// nothing of a joint's or of the mark is nearer than its wall. The longest line that the face's size asks for and that
/// fits. That both pieces can be grooved there has been tried. Deterministic.
/// @param ground  with all joints put
/// @param others  the lines of other seams, kept clear of
WitnessPlace placeWitness(const JointGround& ground, std::size_t seam, const std::vector<Mark>& marks,
                          const std::vector<Witness>& others);

} // namespace quoin::core
