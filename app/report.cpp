// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/report.h"

#include "app/console.h"
#include "app/search_option.h"
#include "core/suggestion_terms.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::app {

void printStrength(const core::Proof& proof)
{
    clearProgress();
    for (const Note& n : core::strengthNotes(proof.strength))
        fmt::print("{}{}\n", n.severity == Note::Severity::Info ? "" : "warning: ", n.text);
}

void printProof(const core::Proof& proof)
{
    clearProgress();
    const auto held = std::count_if(proof.claims.begin(), proof.claims.end(), [](const auto& c) { return c.holds; });
    fmt::print("proof: {} of {} claims hold{}\n", held, proof.claims.size(),
               proof.holds() ? "; the pieces go back together" : "");
    for (const core::Claim& c : proof.claims)
        if (!c.holds)
            fmt::print("  FAILED {}: {}: measured {:.6g} {}, wanted {} {:.6g}\n", c.subject, c.text, c.measured, c.unit,
                       c.relation, c.limit);
}

namespace {

/// What the cuts come to; nothing where no beds say how pieces are printed, and not what is said elsewhere.
std::vector<core::Term> termsOf(const core::Project& project)
{
    if (project.beds.empty())
        return {};
    auto lines = core::termLines(core::termsOf(project.pieces, project.seams, project.suggestion.bound));
    std::erase_if(lines, [](const core::Term& t) {
        return t.key == "pieces" || t.key == "lower_bound" || t.key == "gap" || t.key.rfind("judged_", 0) == 0;
    });
    return lines;
}

/// A line a seam; seams with the same words to say share one.
void printSeams(const core::Project& project)
{
    std::vector<std::pair<std::string, std::vector<const core::Seam*>>> groups;
    for (const core::SeamReport& r : project.layout.reports) {
        auto group = std::ranges::find(groups, r.text, [](const auto& g) { return g.first; });
        if (group == groups.end())
            group = groups.insert(groups.end(), {r.text, {}});
        group->second.push_back(&project.seams[r.seam]);
    }
    for (const auto& [text, seams] : groups) {
        if (seams.size() == 1) {
            const core::Seam& s = *seams.front();
            fmt::print("  seam {} of pieces {} and {}: {}\n", s.mark, s.pieceBelow, s.pieceAbove, text);
            continue;
        }
        std::string names;
        for (const core::Seam* s : seams)
            names += fmt::format("{}{} ({}-{})", names.empty() ? "" : ", ", s->mark, s->pieceBelow, s->pieceAbove);
        fmt::print("  seams {}: {}\n", names, text);
    }
}

/// The weakest seam and what to be warned of; all figures are in strength.json.
nlohmann::json strengthJson(const core::StrengthEstimate& estimate)
{
    if (!estimate.report)
        return {{"not_estimated", estimate.whyNot}};
    nlohmann::json warnings = nlohmann::json::array();
    for (const Note& n : core::strengthNotes(estimate))
        if (n.severity == Note::Severity::Warning)
            warnings.push_back(n.text);
    const core::JointCheck* weakest = estimate.report->weakest();
    return {{"caution", core::strengthCaution()},
            {"safety", weakest != nullptr ? nlohmann::json(weakest->safety) : nlohmann::json(nullptr)},
            {"weakest", weakest != nullptr ? nlohmann::json(weakest->words) : nlohmann::json(nullptr)},
            {"warnings", warnings}};
}

/// What printing it all takes, in a line; all figures are in estimate.json.
void printEstimate(const core::ProjectEstimate& estimate)
{
    const core::PrintTotals all = estimate.all();
    if (!estimate.pieces.empty())
        fmt::print(
            "printing: {:.2f} kg ({:.2f} to {:.2f}), {:.1f} h ({:.1f} to {:.1f}) without starting up, {:.2f} for "
            "plastic and energy; by recipe \"{}\", {}\n",
            all.grams / 1000, all.likelyGrams.low / 1000, all.likelyGrams.high / 1000, all.hours, all.likelyHours.low,
            all.likelyHours.high, all.money(), estimate.recipe, estimate.calibration);
    for (const Note& n : estimate.notes)
        fmt::print("note: {}\n", n.text);
}

nlohmann::json estimateJson(const core::ProjectEstimate& estimate)
{
    const core::PrintTotals all = estimate.all();
    nlohmann::json notes = nlohmann::json::array();
    for (const Note& n : estimate.notes)
        notes.push_back(n.text);
    return {{"caution", core::estimateCaution()},
            {"recipe", estimate.recipe},
            {"mass_g", all.grams},
            {"time_h", all.hours},
            {"likely_h", {{"low", all.likelyHours.low}, {"high", all.likelyHours.high}}},
            {"cost", all.money()},
            {"notes", notes}};
}

} // namespace

void printSplit(const core::Project& project, const core::Exported& exported, const core::CutWeights& weights)
{
    clearProgress();
    for (const Note& n : project.notes)
        fmt::print("{}{}{}\n", n.severity == Note::Severity::Info ? "" : "note: ", n.text,
                   n.place.empty() ? "" : " (" + n.place + ")");
    const core::Suggestion& s = project.suggestion;
    fmt::print("{}: {} {}", project.part.name, project.pieces.size(), project.pieces.size() == 1 ? "piece" : "pieces");
    if (!s.words.empty())
        fmt::print(" ({}); no way of cutting needs fewer than {} ({})", s.words, s.bound.pieces, s.bound.reason);
    fmt::print("\n");
    if (s.terms.judged)
        fmt::print("  found after {:.1f} s, seed {}; terms of the cuts, less is better:\n", s.seconds, s.seed);
    printTerms(s.terms, weights);
    for (const core::Suggestion& other : s.others)
        fmt::print("  or: {} {} ({}), weighed sum {:.2f}\n", other.pieces, other.pieces == 1 ? "piece" : "pieces",
                   other.words, core::weighed(other.terms.total, weights));
    for (const core::Term& t : termsOf(project))
        fmt::print("  {}: {}\n", t.name, t.words);
    for (const core::Piece& p : project.pieces)
        fmt::print("  piece {:>2}: {:.1f} x {:.1f} x {:.1f} mm on {}, {:.1f} mm to spare{}\n", p.number,
                   p.pose.extentsMm.x, p.pose.extentsMm.y, p.pose.extentsMm.z, project.beds[p.pose.bed].name,
                   p.pose.slackMm, p.pose.standsFlat ? "" : ", needs support");
    printSeams(project);
    printStrength(exported.proof);
    printEstimate(exported.estimate);
    printProof(exported.proof);
    fmt::print("written to {}\n", exported.folder.string());
}

nlohmann::json splitJson(const core::Project& project, const core::Exported& exported, const core::CutWeights& weights)
{
    nlohmann::json notes = nlohmann::json::array(), seams = nlohmann::json::array(), failed = nlohmann::json::array();
    for (const Note& n : project.notes)
        notes.push_back(n.text);
    for (const core::SeamReport& r : project.layout.reports) {
        const core::Seam& seam = project.seams[r.seam];
        seams.push_back({{"mark", seam.mark},
                         {"pieces", {seam.pieceBelow, seam.pieceAbove}},
                         {"area_mm2", seam.areaMm2},
                         {"butt", r.butt},
                         {"text", r.text}});
    }
    for (const core::Claim& c : exported.proof.claims)
        if (!c.holds)
            failed.push_back({{"id", c.id}, {"subject", c.subject}, {"measured", c.measured}, {"limit", c.limit}});
    nlohmann::json terms = nlohmann::json::object();
    for (const core::Term& t : termsOf(project))
        terms[t.key] = t.value;
    nlohmann::json others = nlohmann::json::array();
    for (const core::Suggestion& other : project.suggestion.others)
        others.push_back(wayJson(other, weights));
    return {{"folder", exported.folder.string()},
            {"scale", project.part.scale},
            {"pieces", project.pieces.size()},
            {"lower_bound", project.suggestion.bound.pieces},
            {"lower_bound_reason", project.suggestion.bound.reason},
            {"gap", project.suggestion.words.empty()
                        ? nlohmann::json(nullptr)
                        : nlohmann::json(project.suggestion.pieces - project.suggestion.bound.pieces)},
            {"found_after_s", project.suggestion.seconds},
            {"seed", project.suggestion.seed},
            {"judged", termsJson(project.suggestion.terms, weights)},
            {"other_ways", others},
            {"terms", terms},
            {"joints", project.layout.joints.size()},
            {"seams", seams},
            {"claims", exported.proof.claims.size()},
            {"strength", strengthJson(exported.proof.strength)},
            {"estimate", estimateJson(exported.estimate)},
            {"proved", exported.proof.holds()},
            {"failed_claims", failed},
            {"notes", notes}};
}

} // namespace quoin::app
