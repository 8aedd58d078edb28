// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/search_option.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::app {

void addSearchOptions(CLI::App& verb, SearchOptions& o)
{
    std::string names, keys;
    for (const core::CutPreference p : core::cutPreferences())
        names += (names.empty() ? "" : ", ") + std::string(core::preferenceName(p));
    for (const core::CutTermKind& kind : core::cutTermKinds())
        keys += (keys.empty() ? "" : ", ") + std::string(kind.key);
    verb.add_option("--prefer", o.prefer,
                    "What matters among ways with the same number of pieces: " + names + " (default the first)");
    verb.add_option("--weights", o.weights, "Own weights, such as seams=2,area=0. Terms: " + keys);
    verb.add_option("--more-pieces", o.morePieces, "Pieces that may be spent on better cuts (default 0)")
        ->check(CLI::Range(0, core::mostMorePieces));
    verb.add_option("--alternatives", o.alternatives, "Ways of cutting to be shown, at most")
        ->check(CLI::Range(1, core::mostAlternatives))
        ->capture_default_str();
    verb.add_option("--take", o.take, "Which of them is taken (default 1, the best)")
        ->check(CLI::Range(1, core::mostAlternatives));
    verb.add_option("--seconds", o.seconds, "How long to look for better ones, for each part (default 30)")
        ->check(CLI::Range(1, 86400));
    verb.add_option("--seed", o.seed, "For choices made at random (default 1)");
}

Result<core::SuggestWish> wishFrom(const SearchOptions& o)
{
    core::SuggestWish wish;
    wish.seconds = o.seconds;
    wish.morePieces = o.morePieces;
    wish.alternatives = std::max(o.alternatives, o.take);
    wish.seed = o.seed;
    if (!o.prefer.empty()) {
        const auto preference = core::preferenceFromText(o.prefer);
        if (!preference)
            return preference.problem();
        wish.weights = core::weightsFor(*preference);
    }
    const auto weights = core::weightsFromText(o.weights, wish.weights);
    if (!weights)
        return weights.problem();
    wish.weights = *weights;
    return wish;
}

void printTerms(const core::PlanTerms& terms, const core::CutWeights& weights)
{
    if (!terms.judged || terms.cuts.empty())
        return;
    const core::TermTable table = core::termTable(terms, weights);
    fmt::print("  {:<10}", "by cut");
    for (const std::string& column : table.columns)
        fmt::print(" {:>9}", column);
    fmt::print("\n");
    for (const core::TermTable::Row& row : table.rows) {
        fmt::print("  {:<10}", row.name);
        for (std::size_t i = 0; i < row.values.size(); ++i)
            fmt::print(" {:>9}",
                       row.name == "weight" && i + 1 == row.values.size() ? "" : fmt::format("{:.3f}", row.values[i]));
        fmt::print("\n");
    }
}

nlohmann::json termsJson(const core::PlanTerms& terms, const core::CutWeights& weights)
{
    if (!terms.judged)
        return nullptr;
    const auto one = [&](const core::CutTerms& t) {
        nlohmann::json out = nlohmann::json::object();
        for (const core::CutTermKind& kind : core::cutTermKinds())
            out[kind.key] = t.*kind.value;
        out["weighed"] = core::weighed(t, weights);
        return out;
    };
    nlohmann::json cuts = nlohmann::json::array(), heavy = nlohmann::json::object();
    for (const core::CutTerms& cut : terms.cuts)
        cuts.push_back(one(cut));
    for (const core::CutTermKind& kind : core::cutTermKinds())
        heavy[kind.key] = weights.*kind.weight;
    return {{"cuts", cuts}, {"total", one(terms.total)}, {"weights", heavy}};
}

nlohmann::json wayJson(const core::Suggestion& way, const core::CutWeights& weights)
{
    return {{"pieces", way.pieces},
            {"lower_bound", way.bound.pieces},
            {"lower_bound_reason", way.bound.reason},
            {"gap", way.pieces - way.bound.pieces},
            {"words", way.words},
            {"found_after_s", way.seconds},
            {"seed", way.seed},
            {"judged", termsJson(way.terms, weights)}};
}

} // namespace quoin::app
