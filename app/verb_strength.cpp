// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/console.h"
#include "app/part_option.h"
#include "app/verbs.h"

#include "core/design_file.h"
#include "core/realise.h"
#include "core/strength_json.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <iostream>
#include <optional>
#include <string_view>

namespace quoin::app {

namespace {

struct StrengthVerb {
    std::string design;
    std::vector<std::string> parts, forces;
    std::string gravity;
    core::LoadCase load;
    bool asJson = false, all = false;
};

/// "1,2,3" as three finite numbers.
std::optional<mesh::Vec3> tripleFrom(std::string_view text)
{
    double v[3];
    for (int i = 0; i < 3; ++i) {
        while (!text.empty() && text.front() == ' ')
            text.remove_prefix(1);
        const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), v[i]);
        if (error != std::errc() || !std::isfinite(v[i]))
            return std::nullopt;
        text.remove_prefix(static_cast<std::size_t>(end - text.data()));
        while (!text.empty() && text.front() == ' ')
            text.remove_prefix(1);
        if (i < 2 && (text.empty() || text.front() != ','))
            return std::nullopt;
        if (i < 2)
            text.remove_prefix(1);
    }
    return text.empty() ? std::optional(mesh::Vec3{v[0], v[1], v[2]}) : std::nullopt;
}

Result<core::LoadCase> loadOf(const StrengthVerb& o)
{
    core::LoadCase load = o.load;
    if (!o.gravity.empty()) {
        const auto down = tripleFrom(o.gravity);
        if (!down)
            return Problem{Reason::BadArgument, "\"" + o.gravity + "\" is not a direction", "", "",
                           "Write three numbers, as in --gravity 0,0,-1."};
        load.gravity = *down;
    }
    for (const std::string& text : o.forces) {
        const auto colon = text.find(':');
        const auto at = tripleFrom(std::string_view(text).substr(0, colon));
        const auto force =
            colon == std::string::npos ? std::nullopt : tripleFrom(std::string_view(text).substr(colon + 1));
        if (!at || !force)
            return Problem{Reason::BadArgument, "\"" + text + "\" is not a force", "", "",
                           "Write its place in mm and the force in N, as in --force \"0,120,900:0,0,-50\"."};
        load.extra.push_back({*at, *force, 0});
    }
    return load;
}

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
    const auto load = loadOf(o);
    if (!load)
        return say(load.problem());
    core::MeshKeeper keeper;
    const auto opened = core::openDesign(o.design, keeper, {}, context);
    if (!opened)
        return say(opened.problem());
    const auto ids = partIds(opened->design, o.parts);
    if (!ids)
        return say(ids.problem());
    nlohmann::json list = nlohmann::json::array();
    for (const int id : *ids) {
        const core::PartDesign& part = *opened->design.part(id);
        const auto realised = core::realise(opened->design, part, {}, {}, context);
        if (!realised)
            return say(realised.problem());
        const auto report = core::strengthOf((*realised)->project, *load, context);
        if (!report)
            return say(report.problem());
        if (!o.asJson)
            print(part.name, *report, o.all);
        list.push_back(core::toJson(*report, *load));
        list.back()["name"] = part.name;
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
    verb->add_option("--held", o->load.held, "Pieces that are fixed, by number (default: the one with the lowest foot)")
        ->delimiter(',');
    verb->add_option("--factor", o->load.dynamicFactor, "Times own weight, for shocks (default 2)");
    verb->add_option("--gravity", o->gravity, "Which way is down (default 0,0,-1)");
    verb->add_option("--force", o->forces, "Another force: x,y,z:fx,fy,fz in mm and N; may be repeated")
        ->allow_extra_args(false);
    verb->add_option("--fill", o->load.fillShare, "Share of the volume that is printed (default 1: solid)");
    verb->add_option("--glue", o->load.glueMpa, "Strength of the glue in MPa (default 2; 0: none)");
    verb->add_option("--bolts", o->load.boltClass, "Class of bought bolts (default 8.8)");
    verb->add_option("--limit", o->load.safetyLimit, "Warn below this safety (default 3)");
    verb->add_flag("--all", o->all, "Every check with its formula and source");
    verb->add_flag("--json", o->asJson, "All figures, for programs");
    verb->callback([o, &run] { run = [o](const Context& context) { return estimate(*o, context); }; });
}

} // namespace quoin::app
