// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/console.h"
#include "app/part_option.h"
#include "app/search_option.h"
#include "app/verbs.h"

#include "core/design_file.h"
#include "core/suggest_part.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <iostream>

namespace quoin::app {

namespace {

struct SuggestVerb {
    std::string design, save;
    std::vector<std::string> parts, beds;
    SearchOptions search;
    bool afresh = false, asJson = false;
};

nlohmann::json jsonOf(const core::PartDesign& part, const core::FoundCuts& found, int take)
{
    nlohmann::json ways = nlohmann::json::array();
    for (const core::CutWay& way : found.ways) {
        nlohmann::json one = wayJson(way.suggestion, way.terms.weights);
        one["terms"] = nlohmann::json::object();
        for (const core::Term& t : core::termLines(way.terms))
            one["terms"][t.key] = t.value;
        ways.push_back(std::move(one));
    }
    const nlohmann::json& taken = ways[static_cast<std::size_t>(take - 1)];
    return {{"name", part.name},
            {"words", taken["words"]},
            {"terms", taken["terms"]},
            {"judged", taken["judged"]},
            {"taken", take},
            {"ways", ways},
            {"seconds", found.seconds},
            {"stopped_early", found.stoppedEarly}};
}

void print(const core::PartDesign& part, const core::FoundCuts& found, int take)
{
    clearProgress();
    fmt::print("{}: {} of cutting in {:.1f} s{}\n", part.name,
               found.ways.size() == 1 ? std::string("one way") : fmt::format("{} ways", found.ways.size()),
               found.seconds, found.stoppedEarly ? ", stopped early" : "");
    for (std::size_t i = 0; i < found.ways.size(); ++i) {
        const core::CutWay& way = found.ways[i];
        fmt::print("{} {}: {}\n  cut by {}\n", static_cast<int>(i) + 1 == take ? "*" : " ", i + 1, core::wayWords(way),
                   way.suggestion.words);
        printTerms(way.suggestion.terms, way.terms.weights);
        if (static_cast<int>(i) + 1 != take)
            continue;
        for (const core::Term& t : core::termLines(way.terms))
            if (t.key.rfind("judged_", 0) != 0)
                fmt::print("  {:<22} {}\n", t.name, t.words);
    }
}

int suggest(const SuggestVerb& o, const Context& context)
{
    core::MeshKeeper keeper;
    const auto opened = core::openDesign(o.design, keeper, {}, context);
    if (!opened)
        return say(opened.problem());
    core::Design design = opened->design;
    if (!o.beds.empty()) {
        const auto known = core::BedShelf(core::BedShelf::defaultFile()).all();
        if (!known)
            return say(known.problem());
        design.beds.clear();
        for (const std::string& text : o.beds) {
            auto bed = core::bedFromText(text, *known);
            if (!bed)
                return say(bed.problem());
            design.beds.push_back(std::move(*bed));
        }
    }
    auto wish = wishFrom(o.search);
    if (!wish)
        return say(wish.problem());
    wish->keepOwnCuts = !o.afresh;
    const auto ids = partIds(design, o.parts);
    if (!ids)
        return say(ids.problem());
    nlohmann::json list = nlohmann::json::array();
    for (const int id : *ids) {
        core::PartDesign& part = *design.part(id);
        const auto found = core::suggestPart(design, part, *wish, {}, context);
        const auto taken =
            found ? core::suggestionTaken(*found, o.search.take) : Result<core::Suggestion>(found.problem());
        if (!taken) {
            Problem problem = taken.problem();
            problem.what = part.name + ": " + problem.what;
            return say(problem);
        }
        if (o.asJson)
            list.push_back(jsonOf(part, *found, o.search.take));
        else
            print(part, *found, o.search.take);
        part = core::withPlan(part, taken->plan, taken->words);
    }
    const std::filesystem::path file = core::withDesignSuffix(o.save.empty() ? o.design : o.save);
    if (const Status s = core::saveDesign(design, file, keeper, context); !s)
        return say(s.problem());
    if (o.asJson)
        std::cout << nlohmann::json{{"design", file.string()}, {"parts", list}}.dump(
                         1, ' ', false, nlohmann::json::error_handler_t::replace)
                  << "\n";
    else
        fmt::print("saved as {}\n", file.string());
    return Ok;
}

} // namespace

void addSuggest(CLI::App& app, Work& run)
{
    auto o = std::make_shared<SuggestVerb>();
    CLI::App* verb = app.add_subcommand(
        "suggest", "Look for cuts of a saved design's parts, keeping clear of marked places, and save it");
    verb->add_option("design", o->design, "NAME.quoin.json")->required();
    verb->add_option("--save", o->save, "Save under this name (default: the design itself)");
    verb->add_option("--part", o->parts, "Only the part of this name; may be repeated")->allow_extra_args(false);
    verb->add_option("--bed", o->beds, "Bed to use instead of the design's; may be repeated")->allow_extra_args(false);
    addSearchOptions(*verb, o->search);
    verb->add_flag("--afresh", o->afresh, "Forget the cuts that are there; else they are kept and completed");
    verb->add_flag("--json", o->asJson, "A summary for programs");
    verb->callback([o, &run] { run = [o](const Context& context) { return suggest(*o, context); }; });
}

} // namespace quoin::app
