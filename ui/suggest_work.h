// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"
#include "core/suggest.h"
#include "core/suggestion_terms.h"
#include "ui/suggest_panel.h"

#include <functional>

namespace quoin::ui {

/// A suggestion, with what it comes to.
struct FoundCuts {
    core::Suggestion suggestion;
    core::SuggestionTerms terms;
    bool stoppedEarly = false;
};
using SuggestOutcome = Result<FoundCuts>;

/// The best so far.
struct SuggestBest {
    int pieces = 0;
    core::LowerBound bound;
};

/// Looking for cuts of one part, on a worker.
struct SuggestWork {
    core::Design design;
    core::PartDesign part;
    SuggestWish wish;

    /// Stopped by the user, the best so far is the answer, if there is one. @param hear  may be empty
    SuggestOutcome look(const Context& context, const std::function<void(SuggestBest)>& hear) const;
};

} // namespace quoin::ui
