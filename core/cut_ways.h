// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/suggest.h"
#include "core/suggestion_terms.h"

#include <functional>
#include <vector>

namespace quoin::core {

/// A way of cutting with what it comes to.
struct CutWay {
    Suggestion suggestion; ///< without others
    SuggestionTerms terms;
};

/// What a search for cuts has come to.
struct FoundCuts {
    std::vector<CutWay> ways;  ///< the best first; at least one
    bool stoppedEarly = false; ///< cancelled: the best so far
    double seconds = 0;        ///< that it took, judging included

    const CutWay& best() const { return ways.front(); }
};

/// Looks for cuts (suggestGrid), judges what is found term by term on the part itself, and puts the ways in order:
/// fewest pieces first, then the least weighed sum; where `morePieces` are allowed, the least weighed sum of those with
/// no more than so many pieces above the fewest. Ways that hardly differ from a better one are left out. Stopped by the
/// user, the answer is what was found by then, if there is anything.
/// @return what suggestGrid says; BadArgument for numbers out of range
Result<FoundCuts> findCuts(const mesh::Mesh& part, const CutPlan& start, const std::vector<Bed>& beds,
                           const SuggestOptions& options, const Context& context = {});

/// The order of FoundCuts::ways, by pieces and weighed sums.
void putInOrder(std::vector<CutWay>& ways, int morePieces);

/// One of the ways, counted from 1, with the others beside it (Suggestion::others). BadArgument when there aren't so
/// many.
Result<Suggestion> suggestionTaken(const FoundCuts& found, int take);

/// Whether two plans are the same but for shifts of less than 2 % of the part's size: each plane of one has its
/// counterpart in the other.
bool muchTheSame(const CutPlan& a, const CutPlan& b, const mesh::Box3& part);

/// "6 pieces; no way needs fewer than 6 (volume: 5.21 beds), so none has fewer; weighed 1.23; found after 2.1 s, seed
/// 1"
std::string wayWords(const CutWay& way);

} // namespace quoin::core
