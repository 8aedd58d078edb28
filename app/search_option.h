// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/suggest_part.h"

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <string>

namespace quoin::app {

/// How cuts are to be looked for, as typed.
struct SearchOptions {
    std::string prefer, weights;
    int morePieces = 0, alternatives = 3, take = 1, seconds = 30;
    unsigned seed = 1;
};

/// Adds --prefer, --weights, --more-pieces, --alternatives, --take, --seconds and --seed.
void addSearchOptions(CLI::App& verb, SearchOptions& options);

/// BadArgument for a preference or a weight that there isn't.
Result<core::SuggestWish> wishFrom(const SearchOptions& options);

/// The terms of a way of cutting by cut and in total, as a table with its legend.
void printTerms(const core::PlanTerms& terms, const core::CutWeights& weights);
/// {"cuts": [{"seams": ..., "weighed": ...}], "total": {...}, "weights": {...}}; null when they weren't reckoned.
nlohmann::json termsJson(const core::PlanTerms& terms, const core::CutWeights& weights);
/// Pieces, bound and the rest of one suggestion, in one object.
nlohmann::json wayJson(const core::Suggestion& way, const core::CutWeights& weights);

} // namespace quoin::app
