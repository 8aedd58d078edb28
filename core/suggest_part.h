// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/cut_ways.h"
#include "core/design.h"

#include <functional>

namespace quoin::core {

/// How cuts are to be looked for.
struct SuggestWish {
    int seconds = 30;
    bool keepOwnCuts = true; ///< complete them; else start afresh
    CutWeights weights{};
    int morePieces = 0;   ///< that may be spent on better terms
    int alternatives = 3; ///< ways wanted in all
    unsigned seed = 1;
};

/// Looks for cuts of one part of a design, on the design's beds, keeping clear of the part's marked places, for its
/// joints, load and material. What findCuts says; BadArgument without beds.
/// @param onBetter  hears of each complete answer that is better than the ones before; may be empty
Result<FoundCuts> suggestPart(const Design& design, const PartDesign& part, const SuggestWish& wish,
                              const std::function<void(const Suggestion&)>& onBetter = {}, const Context& context = {});

/// What the cuts of a part are judged for.
JudgeOptions judgeOptionsOf(const PartDesign& part);

} // namespace quoin::core
