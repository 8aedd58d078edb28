// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/console.h"
#include "app/part_option.h"
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
    core::SuggestWish wish;
    bool afresh = false, asJson = false;
};

nlohmann::json jsonOf(const core::PartDesign& part, const core::FoundCuts& found)
{
    nlohmann::json terms = nlohmann::json::object();
    for (const core::Term& t : core::termLines(found.terms))
        terms[t.key] = t.value;
    return {{"name", part.name}, {"words", found.suggestion.words}, {"terms", terms}};
}

void print(const core::PartDesign& part, const core::FoundCuts& found)
{
    clearProgress();
    fmt::print("{}: {}\n", part.name, found.suggestion.words);
    for (const core::Term& t : core::termLines(found.terms))
        fmt::print("  {:<22} {}\n", t.name, t.words);
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
    const auto ids = partIds(design, o.parts);
    if (!ids)
        return say(ids.problem());
    nlohmann::json list = nlohmann::json::array();
    for (const int id : *ids) {
        core::PartDesign& part = *design.part(id);
        const auto found = core::suggestPart(design, part, o.wish, {}, context);
        if (!found) {
            Problem problem = found.problem();
            problem.what = part.name + ": " + problem.what;
            return say(problem);
        }
        if (o.asJson)
            list.push_back(jsonOf(part, *found));
        else
            print(part, *found);
        part = core::withPlan(part, found->suggestion.plan, found->suggestion.words);
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
    verb->add_option("--seconds", o->wish.seconds, "How long to look for better ones, for each part (default 30)")
        ->check(CLI::Range(1, 86400));
    verb->add_flag("--afresh", o->afresh, "Forget the cuts that are there; else they are kept and completed");
    verb->add_flag("--json", o->asJson, "A summary for programs");
    verb->callback([o, &run] {
        o->wish.keepOwnCuts = !o->afresh;
        run = [o](const Context& context) { return suggest(*o, context); };
    });
}

} // namespace quoin::app
