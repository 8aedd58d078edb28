// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/suggest_work.h"

#include "core/cut_steps.h"
#include "core/keep_clear.h"
#include "core/realise.h"

namespace quoin::ui {

SuggestOutcome SuggestWork::look(const Context& context, const std::function<void(SuggestBest)>& hear) const
{
    const mesh::Mesh scaled = core::scaledPart(*part.source, part.scale);
    core::CutPlan own;
    if (wish.keepOwnCuts) {
        auto cut = core::cutBySteps(scaled, part.cuts, context);
        if (!cut)
            return cut.problem();
        own = std::move(cut->plan);
    }
    FoundCuts found;
    bool any = false;
    core::SuggestOptions options;
    options.fit = {design.marginMm, design.anyRotation};
    options.islandsApart = design.islandsApart;
    options.seconds = wish.seconds;
    if (!part.keepClear.empty())
        options.keepClear = std::make_shared<const core::KeepClear>(*part.source, part.keepClear, part.scale);
    options.onBetter = [&](const core::Suggestion& better) {
        found.suggestion = better;
        any = true;
        if (hear)
            hear({better.pieces, better.bound});
    };
    auto best = core::suggestGrid(scaled, own, design.beds, options, context);
    if (best)
        found.suggestion = std::move(*best);
    else if (best.problem().reason != Reason::Cancelled || !any)
        return best.problem();
    else
        found.stoppedEarly = true;
    auto terms = core::termsOf(scaled, found.suggestion.plan, design.beds, options.fit, design.islandsApart,
                               found.suggestion.bound);
    if (!terms)
        return terms.problem();
    found.terms = std::move(*terms);
    return found;
}

} // namespace quoin::ui
