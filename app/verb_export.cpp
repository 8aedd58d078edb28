// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/console.h"
#include "app/part_option.h"
#include "app/report.h"
#include "app/verbs.h"

#include "core/design_file.h"
#include "core/export_design.h"
#include "ui/picture.h"

#include <fmt/format.h>

#include <algorithm>
#include <iostream>

namespace quoin::app {

namespace {

struct ExportVerb {
    std::string design, out, recipe;
    std::vector<std::string> parts;
    bool force = false, asJson = false, noPictures = false, unproved = false;
};

void print(const core::OpenedDesign& opened, const std::vector<core::ExportedPart>& parts)
{
    clearProgress();
    for (const Note& n : opened.notes)
        fmt::print("note: {}\n", n.text);
    for (const core::ExportedPart& part : parts) {
        printSplit(part.realised->project, part.exported);
        if (part.quantity > 1)
            fmt::print("print this set {} times\n", part.quantity);
    }
}

nlohmann::json summary(const core::OpenedDesign& opened, const std::vector<core::ExportedPart>& parts)
{
    nlohmann::json list = nlohmann::json::array(), notes = nlohmann::json::array();
    for (const Note& n : opened.notes)
        notes.push_back(n.text);
    for (const core::ExportedPart& part : parts) {
        list.push_back(splitJson(part.realised->project, part.exported));
        list.back()["name"] = part.name;
        list.back()["quantity"] = part.quantity;
    }
    return {{"parts", list}, {"notes", notes}};
}

int exportIt(const ExportVerb& o, const Context& context)
{
    core::MeshKeeper keeper;
    const auto opened = core::openDesign(o.design, keeper, {}, context);
    if (!opened)
        return say(opened.problem());
    const auto ids = partIds(opened->design, o.parts);
    if (!ids)
        return say(ids.problem());
    core::DesignExportOptions options;
    options.parts = *ids;
    options.each.force = o.force;
    options.each.evenIfProofFails = o.unproved;
    auto printing = core::loadPrintSetup();
    if (!printing)
        return say(printing.problem());
    options.each.printing = std::move(*printing);
    options.each.printing.recipe = o.recipe;
    if (!o.noPictures)
        options.each.draw = ui::drawPictures;
    options.onPart = [&context](std::size_t index, std::size_t count, const std::string& name) {
        context.report(0, count == 1 ? name : fmt::format("part {} of {}: {}", index + 1, count, name));
    };
    const auto parts = core::exportDesign(opened->design, o.out, options, context);
    if (!parts)
        return say(parts.problem());
    if (o.asJson)
        std::cout << summary(*opened, *parts).dump(1, ' ', false, nlohmann::json::error_handler_t::replace) << "\n";
    else
        print(*opened, *parts);
    const bool proved =
        std::all_of(parts->begin(), parts->end(), [](const core::ExportedPart& p) { return p.exported.proof.holds(); });
    return proved ? Ok : ProofDoesNotHold;
}

} // namespace

void addExport(CLI::App& app, Work& run)
{
    auto o = std::make_shared<ExportVerb>();
    CLI::App* verb = app.add_subcommand("export", "Cut, joint, prove and write the parts of a saved design");
    verb->add_option("design", o->design, "NAME.quoin.json, or the folder of an earlier export")->required();
    verb->add_option("--out", o->out, "Folder to write; of several parts, each gets a folder of its name in it")
        ->required();
    verb->add_option("--part", o->parts, "Only the part of this name; may be repeated")->allow_extra_args(false);
    verb->add_option("--recipe", o->recipe, "What weight, time and cost are estimated by; quoin recipes lists them");
    verb->add_flag("--force", o->force, "Replace an earlier export in the folder");
    verb->add_flag("--even-if-unproved", o->unproved, "Write the folder even when a claim of the proof fails");
    verb->add_flag("--no-pictures", o->noPictures, "Leave out assembled.png and exploded.png");
    verb->add_flag("--json", o->asJson, "A summary for programs");
    verb->callback([o, &run] { run = [o](const Context& context) { return exportIt(*o, context); }; });
}

} // namespace quoin::app
