// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed_fit.h"
#include "core/cut_plan.h"
#include "core/keep_clear.h"
#include "core/lower_bound.h"
#include "core/plan_terms.h"
#include "mesh/context.h"
#include "mesh/result.h"

#include <functional>
#include <memory>

namespace quoin::core {

struct Suggestion;

struct SuggestOptions {
    FitOptions fit;
    bool islandsApart = true;
    unsigned seed = 1;
    double seconds = 30;  ///< stop looking for a better grid after about this long; the first answer is always finished
    CutWeights weights;   ///< of the terms, among ways with the same number of pieces
    int morePieces = 0;   ///< that may be spent on better terms: 0 to mostMorePieces
    int alternatives = 3; ///< ways wanted in all: 1 to mostAlternatives
    JudgeOptions judge;   ///< what cuts are judged for
    /// Stop each part's search for trees of planes after so many nodes; 0: when the time is over. With it, and time
    /// enough, the answer depends on nothing but the seed.
    std::uint64_t work = 0;
    std::shared_ptr<const KeepClear> keepClear; ///< places that no cut may pass; none when null
    /// Hears, on the calling thread, of each complete answer that is better than the ones before: every piece fits.
    /// So the best so far is known when the job is cancelled.
    std::function<void(const Suggestion&)> onBetter;
};

inline constexpr int mostMorePieces = 20, mostAlternatives = 4;

struct Suggestion {
    CutPlan plan;
    int pieces = 0;
    LowerBound bound;
    PlanTerms terms;    ///< not judged until somebody has
    double seconds = 0; ///< after how long it was found
    unsigned seed = 1;
    /// Other ways that differ from it and from each other, better ones first; they have none of their own.
    std::vector<Suggestion> others;
    int gridsTried = 0;
    std::string words; ///< how it was cut, for the report
};

/// Looks for cuts, starting from the user's own: an axis grid in the best of several rotations first, then trees of
/// planes at any orientation (core/branch_search.h), so that the answer never has more pieces than the grid.
///
/// Every leaf is cut as a real mesh, its bodies counted and fitted on the beds. Fewest pieces first, then the least
/// weighed sum of what is held against the cuts. Each part of the user's plan gets its first answer before any is
/// bettered. Planes keep clear of marked places.
/// @param start  cuts that must come first (may be empty)
/// @return DoesNotFit when something can't be made to fit, or marked places leave no way (it says what and by how
///         much); BadArgument when a cut of the user's own passes a marked place; never a plan with a piece that
///         doesn't fit or with a cut through a marked place.
Result<Suggestion> suggestGrid(const mesh::Mesh& part, const CutPlan& start, const std::vector<Bed>& beds,
                               const SuggestOptions& options, const Context& context = {});

} // namespace quoin::core
