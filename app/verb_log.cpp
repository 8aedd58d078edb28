// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/console.h"
#include "app/print_option.h"
#include "app/today.h"
#include "app/verbs.h"

#include "core/calibration.h"
#include "mesh/atomic_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <iostream>
#include <iterator>

namespace quoin::app {

namespace {

struct LogVerb {
    std::string path, date, file;
    PrintOptions print;
    std::vector<std::string> parts;
    int number = 0, copies = 1;
    std::size_t row = 0;
    double grams = 0, hours = 0;
    bool asJson = false, asCsv = false;
};

Result<core::PrintLog> log()
{
    return core::PrintLog::load(core::PrintLog::defaultFile());
}

/// The model's figures of what was printed, with starting up, as one plate of so many copies.
Result<core::PrintedRow> modelled(const LogVerb& o, const core::PrintSetup& setup, const Context& context)
{
    auto parts = partsToPrint(o.path, o.parts, {}, context);
    if (!parts)
        return parts.problem();
    std::size_t lines = 0;
    for (core::PartToPrint& part : *parts) {
        if (o.number > 0)
            std::erase_if(part.list, [&](const core::ListedPart& p) { return p.number != o.number; });
        lines += part.list.size();
    }
    if (lines != 1)
        return Problem{Reason::BadArgument,
                       lines == 0 ? fmt::format("there is no piece of number {}", o.number)
                                  : fmt::format("there are {} pieces, and one print is one row", lines),
                       o.path,
                       {},
                       "Say which with --piece NUMBER (and --part NAME), as the parts list numbers them."};
    const auto e = core::estimateParts(*parts, setup, context);
    if (!e)
        return e.problem();
    if (e->pieces.empty())
        return Problem{Reason::NoVolume,
                       e->notes.empty() ? "nothing of it can be estimated" : e->notes.front().text,
                       o.path,
                       {},
                       "Check the model with quoin check."};
    const core::EstimatedPiece& p = e->pieces.front();
    core::PrintedRow row{o.date.empty() ? today() : o.date, p.name, p.recipe, p.material, setup.machine};
    row.modelGrams = o.copies * p.each.modelGrams;
    row.modelExtrusionHours = o.copies * p.each.modelExtrusionHours;
    row.modelOverheadHours = o.copies * p.each.modelOverheadHours + p.each.modelStartUpHours;
    row.actualGrams = o.grams;
    row.actualHours = o.hours;
    return row;
}

int add(const LogVerb& o, const Context& context)
{
    const auto before = log();
    if (!before)
        return say(before.problem());
    const auto setup = printSetup(o.print);
    if (!setup)
        return say(setup.problem());
    const auto row = modelled(o, *setup, context);
    if (!row)
        return say(row.problem());
    const auto after = before->withRow(*row);
    if (!after)
        return say(after.problem());
    if (const Status s = after->save(core::PrintLog::defaultFile()); !s)
        return say(s.problem());
    clearProgress();
    const core::PrintFactors f = core::calibrated(*after, {row->recipe, row->material, row->machine});
    fmt::print("{}: modelled {:.1f} g and {:.2f} h with starting up; was {:.1f} g and {:.2f} h (0: not noted)\n"
               "From now on: grams times {:.3f}, extrusion times {:.3f}, the rest times {:.3f}; {}\n",
               row->piece, row->modelGrams, row->modelHours(), row->actualGrams, row->actualHours, f.mass, f.extrusion,
               f.overhead, f.words);
    return Ok;
}

int list(const LogVerb& o)
{
    const auto prints = log();
    if (!prints)
        return say(prints.problem());
    if (o.asCsv) {
        std::cout << prints->csv();
        return Ok;
    }
    fmt::print("{:>4} {:<10} {:<28} {:<14} {:<6} {:<14} {:>9} {:>9} {:>8} {:>8}\n", "", "date", "piece", "recipe", "",
               "machine", "model g", "actual g", "model h", "actual h");
    for (std::size_t i = 0; i < prints->rows().size(); ++i) {
        const core::PrintedRow& r = prints->rows()[i];
        fmt::print("{:>4} {:<10} {:<28} {:<14} {:<6} {:<14} {:>9.1f} {:>9.1f} {:>8.2f} {:>8.2f}\n", i + 1, r.date,
                   r.piece, r.recipe, r.material, r.machine, r.modelGrams, r.actualGrams, r.modelHours(),
                   r.actualHours);
    }
    return Ok;
}

nlohmann::ordered_json qualityJson(const core::PastQuality& q)
{
    return {{"prints", q.prints},          {"median_error", q.medianError}, {"median_signed", q.medianSigned},
            {"worst_error", q.worstError}, {"worst_row", q.worstRow + 1},   {"coverage", q.coverage}};
}

int report(const LogVerb& o)
{
    const auto prints = log();
    if (!prints)
        return say(prints.problem());
    const core::PastEstimates past = core::pastEstimates(*prints);
    const core::PrintFactors f = core::calibrated(*prints, {o.print.recipe, o.print.material, o.print.machine});
    if (o.asJson) {
        std::cout << nlohmann::ordered_json{{"words", past.words},
                                            {"grams", qualityJson(past.grams)},
                                            {"hours", qualityJson(past.hours)},
                                            {"factors",
                                             {{"mass", f.mass},
                                              {"extrusion", f.extrusion},
                                              {"overhead", f.overhead},
                                              {"mass_spread", f.massSpread},
                                              {"time_spread", f.timeSpread},
                                              {"rows", f.rows},
                                              {"words", f.words}}}}
                         .dump(1, ' ', false, nlohmann::json::error_handler_t::replace)
                  << "\n";
        return Ok;
    }
    fmt::print("{}\nIn force{}: grams times {:.3f} (+-{:.0f} %), extrusion times {:.3f}, the rest times {:.3f} "
               "(+-{:.0f} % in all); {}\n",
               past.words, o.print.machine.empty() && o.print.material.empty() ? "" : " for what you named", f.mass,
               100 * f.massSpread, f.extrusion, f.overhead, 100 * f.timeSpread, f.words);
    return Ok;
}

int importRows(const LogVerb& o)
{
    const auto before = log();
    if (!before)
        return say(before.problem());
    std::ifstream in(o.file, std::ios::binary);
    if (!in)
        return say({Reason::FileUnreadable, "the spreadsheet can't be read", o.file, "", "Check its name."});
    const std::string text{std::istreambuf_iterator<char>(in), {}};
    const auto after = before->withCsv(text);
    if (!after) {
        Problem problem = after.problem();
        problem.file = o.file;
        return say(problem);
    }
    if (const Status s = after->save(core::PrintLog::defaultFile()); !s)
        return say(s.problem());
    fmt::print("{} prints added, {} in the log\n", after->rows().size() - before->rows().size(), after->rows().size());
    return Ok;
}

int remove(const LogVerb& o)
{
    const auto before = log();
    if (!before)
        return say(before.problem());
    const auto after = before->withoutRow(o.row);
    if (!after)
        return say(after.problem());
    if (const Status s = after->save(core::PrintLog::defaultFile()); !s)
        return say(s.problem());
    fmt::print("print {} forgotten, {} left\n", o.row, after->rows().size());
    return Ok;
}

void addAdd(CLI::App* verb, const std::shared_ptr<LogVerb>& o, Work& run)
{
    CLI::App* adding = verb->add_subcommand("add", "Write down a print: what it weighed and how long it took");
    adding->add_option("path", o->path, "The design, export or model that it is of")->required();
    adding->add_option("--piece", o->number, "Its number in the parts list")->check(CLI::PositiveNumber);
    adding->add_option("--part", o->parts, "The part that it belongs to")->allow_extra_args(false);
    adding->add_option("--copies", o->copies, "So many on the plate (default 1)")->check(CLI::Range(1, 10000));
    adding->add_option("--grams", o->grams, "All copies weighed together, with support and brim");
    adding->add_option("--hours", o->hours, "From switching on to the end, in hours");
    adding->add_option("--date", o->date, "2026-11-29; today when left out");
    addPrintOptions(*adding, o->print);
    adding->callback([o, &run] { run = [o](const Context& context) { return add(*o, context); }; });
}

} // namespace

void addLog(CLI::App& app, Work& run)
{
    auto o = std::make_shared<LogVerb>();
    CLI::App* verb = app.add_subcommand("log", "What you printed: it makes estimates truer");
    verb->require_subcommand(1);
    addAdd(verb, o, run);
    CLI::App* listing = verb->add_subcommand("list", "List the prints");
    listing->add_flag("--csv", o->asCsv, "For a spreadsheet");
    listing->callback([o, &run] { run = [o](const Context&) { return list(*o); }; });
    CLI::App* reporting = verb->add_subcommand("report", "How good past estimates were, and what the log teaches");
    reporting->add_option("--recipe", o->print.recipe, "For prints by this recipe");
    reporting->add_option("--material", o->print.material, "For prints of this material");
    reporting->add_option("--machine", o->print.machine, "For prints on this machine");
    reporting->add_flag("--json", o->asJson, "For programs");
    reporting->callback([o, &run] { run = [o](const Context&) { return report(*o); }; });
    CLI::App* importing = verb->add_subcommand("import", "Add the prints of a spreadsheet (CSV, columns as listed)");
    importing->add_option("file", o->file, "The CSV file")->required();
    importing->callback([o, &run] { run = [o](const Context&) { return importRows(*o); }; });
    CLI::App* removing = verb->add_subcommand("remove", "Forget a print");
    removing->add_option("number", o->row, "As listed")->required();
    removing->callback([o, &run] { run = [o](const Context&) { return remove(*o); }; });
}

} // namespace quoin::app
