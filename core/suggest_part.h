// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"
#include "core/suggest.h"
#include "core/suggestion_terms.h"

#include <functional>

namespace quoin::core {

/// How cuts are to be looked for.
struct SuggestWish {
    int seconds = 30;
    bool keepOwnCuts = true; ///< complete them; else start afresh
};

/// A suggestion, with what it comes to.
struct FoundCuts {
    Suggestion suggestion;
    SuggestionTerms terms;
    bool stoppedEarly = false; ///< cancelled: the best so far
};

/// Looks for cuts of one part of a design, on the design's beds, keeping clear of the part's marked places. Stopped by
/// the user, the best so far is the answer, if there is one. What suggestGrid says; BadArgument without beds.
/// @param onBetter  hears of each complete answer that is better than the ones before; may be empty
Result<FoundCuts> suggestPart(const Design& design, const PartDesign& part, const SuggestWish& wish,
                              const std::function<void(const Suggestion&)>& onBetter = {}, const Context& context = {});

} // namespace quoin::core
