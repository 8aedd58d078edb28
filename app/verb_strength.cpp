// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/console.h"
#include "app/load_option.h"
#include "app/part_option.h"
#include "app/verbs.h"

#include "core/design_file.h"
#include "core/realise.h"
#include "core/strength_json.h"

#include <fmt/format.h>

#include <cmath>
#include <iostream>

namespace quoin::app {

namespace {

struct StrengthVerb {
    std::string design;
    std::string save;
    std::vector<std::string> parts;
    LoadOptions load;
    bool asJson = false, all = false;
};

void print(const std::string& name, const core::StrengthReport& report, bool all)
{
    clearProgress();
    fmt::print("{}\n", name);
    for (const core::JointCheck& j : report.joints) {
        fmt::print("  {}\n", j.words);
        for (const core::StrengthCheck& c : j.checks)
            if (all)
                fmt::print("    {}: {:.3f} of {:.3f} {}, safety {}\n      {}\n      {}\n", c.name, c.demand, c.capacity,
                           c.unit, std::isfinite(c.safety) ? fmt::format("{:.2f}", c.safety) : "not strained",
                           c.formula, c.source);
    }
    if (report.joints.empty())
        fmt::print("  There are no seams.\n");
    for (const Note& n : report.notes)
        if (n.place.empty()) // those of seams have been said
            fmt::print("{}: {}\n", n.severity == Note::Severity::Info ? "note" : "warning", n.text);
}

int estimate(const StrengthVerb& o, const Context& context)
{
    core::MeshKeeper keeper;
    auto opened = core::openDesign(o.design, keeper, {}, context);
    if (!opened)
        return say(opened.problem());
    const auto ids = partIds(opened->design, o.parts);
    if (!ids)
        return say(ids.problem());
    nlohmann::json list = nlohmann::json::array();
    for (const int id : *ids) {
        core::PartDesign& part = *opened->design.part(id);
        auto load = loadWith(o.load, part.load);
        if (!load)
            return say(load.problem());
        part.load = std::move(*load);
        const auto realised = core::realise(opened->design, part, {}, {}, context);
        if (!realised)
            return say(realised.problem());
        const auto report = core::strengthOf((*realised)->project, context);
        if (!report)
            return say(report.problem());
        if (!o.asJson)
            print(part.name, *report, o.all);
        list.push_back(core::toJson(*report, part.load));
        list.back()["name"] = part.name;
    }
    if (!o.save.empty()) {
        const std::filesystem::path file = core::withDesignSuffix(o.save);
        if (const Status s = core::saveDesign(opened->design, file, keeper, context); !s)
            return say(s.problem());
        if (!o.asJson)
            fmt::print("design saved to {}\n", file.string());
    }
    if (o.asJson)
        std::cout << nlohmann::json{{"parts", list}}.dump(1, ' ', false, nlohmann::json::error_handler_t::replace)
                  << "\n";
    return Ok;
}

} // namespace

void addStrength(CLI::App& app, Work& run)
{
    auto o = std::make_shared<StrengthVerb>();
    CLI::App* verb = app.add_subcommand("strength", "Estimate what the joints of a saved design have to carry, and do");
    verb->add_option("design", o->design, "NAME.quoin.json, or the folder of an earlier export")->required();
    verb->add_option("--part", o->parts, "Only the part of this name; may be repeated")->allow_extra_args(false);
    addLoadOptions(*verb, o->load);
    verb->add_option("--save", o->save, "Save the design with this load: NAME.quoin.json");
    verb->add_flag("--all", o->all, "Every check with its formula and source");
    verb->add_flag("--json", o->asJson, "All figures, for programs");
    verb->callback([o, &run] { run = [o](const Context& context) { return estimate(*o, context); }; });
}

} // namespace quoin::app
