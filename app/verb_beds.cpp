// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/verbs.h"

#include "core/bed.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <iostream>

namespace quoin::app {

namespace {

core::BedShelf shelf()
{
    return core::BedShelf(core::BedShelf::defaultFile());
}

std::string sizeOf(const core::Bed& b)
{
    return b.shape == core::Bed::Shape::Round
               ? fmt::format("round, diameter {:g} x {:g} mm high", b.widthMm, b.heightMm)
               : fmt::format("{:g} x {:g} x {:g} mm", b.widthMm, b.depthMm, b.heightMm);
}

int list(bool asJson)
{
    const auto beds = shelf().all();
    if (!beds)
        return say(beds.problem());
    nlohmann::json j = nlohmann::json::array();
    for (const core::Bed& b : *beds) {
        if (!asJson)
            fmt::print("{:<20} {}{}\n", b.name, sizeOf(b),
                       b.machines == 1 ? "" : fmt::format(", {} machines", b.machines));
        j.push_back({{"name", b.name},
                     {"shape", b.shape == core::Bed::Shape::Round ? "round" : "rectangular"},
                     {"width_mm", b.widthMm},
                     {"depth_mm", b.depthMm},
                     {"height_mm", b.heightMm},
                     {"machines", b.machines}});
    }
    if (asJson)
        std::cout << j.dump(1) << "\n";
    return Ok;
}

int add(const std::string& name, const std::string& size, bool replace)
{
    auto bed = core::bedFromText(size, {});
    if (!bed)
        return say(bed.problem());
    bed->name = name;
    const Status s = shelf().add(*bed, replace);
    if (!s)
        return say(s.problem());
    fmt::print("{}: {}, kept in {}\n", name, sizeOf(*bed), core::BedShelf::defaultFile().string());
    return Ok;
}

} // namespace

void addBeds(CLI::App& app, Work& run)
{
    struct Options {
        std::string name, size;
        bool asJson = false, replace = false;
    };
    auto o = std::make_shared<Options>();
    CLI::App* verb = app.add_subcommand("beds", "The beds that the program knows: shipped ones and your own");
    verb->require_subcommand(0, 1);
    verb->callback([o, &run, verb] {
        if (verb->get_subcommands().empty())
            run = [](const Context&) { return list(false); };
    });
    CLI::App* listing = verb->add_subcommand("list", "List them");
    listing->add_flag("--json", o->asJson, "For programs");
    listing->callback([o, &run] { run = [o](const Context&) { return list(o->asJson); }; });
    CLI::App* adding = verb->add_subcommand("add", "Keep a bed of your own under a name");
    adding->add_option("name", o->name, "Its name")->required();
    adding->add_option("size", o->size, "300x300x400, or d250x300 for a round one; *2 for two machines")->required();
    adding->add_flag("--replace", o->replace, "Replace one of the same name");
    adding->callback([o, &run] { run = [o](const Context&) { return add(o->name, o->size, o->replace); }; });
    CLI::App* removing = verb->add_subcommand("remove", "Forget a bed of your own");
    removing->add_option("name", o->name, "Its name")->required();
    removing->callback([o, &run] {
        run = [o](const Context&) {
            const Status s = shelf().remove(o->name);
            return s ? static_cast<int>(Ok) : say(s.problem());
        };
    });
}

} // namespace quoin::app
