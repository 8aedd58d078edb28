// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/suggest_part.h"

#include "core/cut_steps.h"
#include "core/keep_clear.h"
#include "core/realise.h"

namespace quoin::core {

JudgeOptions judgeOptionsOf(const PartDesign& part)
{
    return {part.joints, part.load, part.material};
}

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
    SuggestOptions options;
    options.fit = {design.marginMm, design.anyRotation};
    options.islandsApart = design.islandsApart;
    options.seconds = wish.seconds;
    options.seed = wish.seed;
    options.weights = wish.weights;
    options.morePieces = wish.morePieces;
    options.alternatives = wish.alternatives;
    options.judge = judgeOptionsOf(part);
    if (!part.keepClear.empty())
        options.keepClear = std::make_shared<const KeepClear>(*part.source, part.keepClear, part.scale);
    options.onBetter = onBetter;
    return findCuts(scaled, own, design.beds, options, context);
}

} // namespace quoin::core
