// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/suggest_part.h"

#include "core/cut_steps.h"
#include "core/keep_clear.h"
#include "core/realise.h"

namespace quoin::core {

Result<FoundCuts> suggestPart(const Design& design, const PartDesign& part, const SuggestWish& wish,
                              const std::function<void(const Suggestion&)>& onBetter, const Context& context)
{
    const mesh::Mesh scaled = scaledPart(*part.source, part.scale);
    CutPlan own;
    if (wish.keepOwnCuts) {
        auto cut = cutBySteps(scaled, part.cuts, context);
        if (!cut)
            return cut.problem();
        own = std::move(cut->plan);
    }
    FoundCuts found;
    bool any = false;
    SuggestOptions options;
    options.fit = {design.marginMm, design.anyRotation};
    options.islandsApart = design.islandsApart;
    options.seconds = wish.seconds;
    if (!part.keepClear.empty())
        options.keepClear = std::make_shared<const KeepClear>(*part.source, part.keepClear, part.scale);
    options.onBetter = [&](const Suggestion& better) {
        found.suggestion = better;
        any = true;
        if (onBetter)
            onBetter(better);
    };
    auto best = suggestGrid(scaled, own, design.beds, options, context);
    if (best)
        found.suggestion = std::move(*best);
    else if (best.problem().reason != Reason::Cancelled || !any)
        return best.problem();
    else
        found.stoppedEarly = true;
    // Not to be cancelled: the user who has stopped the search wants to see what it found.
    auto terms =
        termsOf(scaled, found.suggestion.plan, design.beds, options.fit, design.islandsApart, found.suggestion.bound);
    if (!terms)
        return terms.problem();
    found.terms = std::move(*terms);
    return found;
}

} // namespace quoin::core
