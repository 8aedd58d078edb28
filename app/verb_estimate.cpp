// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/console.h"
#include "app/print_option.h"
#include "app/unit_option.h"
#include "app/verbs.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iostream>

namespace quoin::app {

namespace {

struct EstimateVerb {
    std::string path, unit;
    std::vector<std::string> parts;
    PrintOptions print;
    bool asJson = false, asCsv = false, scaling = false, shares = false;
};

/// "31 h 20 min" or "25 min".
std::string timeWords(double hours)
{
    const long minutes = std::lround(60 * hours);
    return minutes < 60 ? fmt::format("{} min", minutes) : fmt::format("{} h {:02} min", minutes / 60, minutes % 60);
}

std::string massWords(double grams)
{
    return grams < 1000 ? fmt::format("{:.1f} g", grams) : fmt::format("{:.2f} kg", grams / 1000);
}

void printPieces(const core::ProjectEstimate& e)
{
    fmt::print("{:<34} {:>6} {:>10} {:>14} {:>8} {:>9} {:>8}\n", "piece", "copies", "weight", "time", "layers",
               "height mm", "g/h");
    for (const core::EstimatedPiece& p : e.pieces)
        fmt::print("{:<34} {:>6} {:>10} {:>14} {:>8} {:>9.1f} {:>8.1f}\n", p.name, p.count, massWords(p.each.grams),
                   timeWords(p.each.hours), p.each.layers, p.each.heightMm,
                   p.each.hours > 0 ? p.each.grams / p.each.hours : 0);
}

void printTotals(const std::string& name, const core::PrintTotals& t)
{
    fmt::print("{}: {} in {} prints, {} to {}; {}, {} to {}\n", name, massWords(t.grams), t.prints,
               massWords(t.likelyGrams.low), massWords(t.likelyGrams.high), timeWords(t.hours),
               timeWords(t.likelyHours.low), timeWords(t.likelyHours.high));
}

void printShares(const core::PrintTotals& t)
{
    for (const core::PrintShare s : core::printShares) {
        const core::ShareFigures& f = t.shares[static_cast<std::size_t>(s)];
        fmt::print("  {:<10} {:>10} {:>14}\n", core::shareName(s), massWords(f.grams), timeWords(f.hours));
    }
}

void print(const core::ProjectEstimate& e, bool shares)
{
    clearProgress();
    printPieces(e);
    const core::PrintTotals all = e.all();
    if (e.byPart().size() > 1)
        for (const core::NamedTotals& t : e.byPart())
            printTotals(t.name, t.totals);
    if (e.byMachine().size() > 1)
        for (const core::NamedTotals& t : e.byMachine())
            printTotals("on " + (t.name.empty() ? "no machine" : t.name), t.totals);
    printTotals("all", all);
    if (shares)
        printShares(all);
    fmt::print("{:.0f} m of filament, {:.2f} spools; {:.2f} for plastic, {:.2f} for machines and {:.1f} kWh: {:.2f}\n",
               all.metres, all.spools, all.materialCost, all.machineCost, all.energyKwh, all.money());
    if (!e.pieces.empty())
        fmt::print("Starting up comes on top: {} and {} of purge a plate.\n",
                   timeWords(e.pieces.front().each.startUpHours), massWords(e.pieces.front().each.startUpGrams));
    fmt::print("By recipe \"{}\", {}. The ranges hold nine of ten prints.\n", e.recipe, e.calibration);
    for (const Note& n : e.notes)
        fmt::print("{}: {}\n", n.severity == Note::Severity::Info ? "note" : "warning", n.text);
    fmt::print("{}\n", core::estimateCaution());
}

/// Small and large side by side, part by part and together.
Result<nlohmann::ordered_json> scaling(const std::vector<core::PartToPrint>& parts, const core::ProjectEstimate& e,
                                       const core::PrintSetup& setup, bool printIt, const Context& context)
{
    nlohmann::ordered_json json{{"parts", nlohmann::ordered_json::array()}};
    for (const core::PartToPrint& part : parts) {
        const auto rows = core::scalingOf(part, e, setup, context);
        if (!rows)
            return rows.problem();
        json["parts"].push_back({{"name", part.name}});
        json["parts"].back().update(core::toJson(*rows, part.scale));
        clearProgress();
        if (printIt && !rows->empty())
            fmt::print("\n{}, {:g} times as large:\n{}", part.name, part.scale,
                       core::scalingText(*rows, parts.size() == 1));
    }
    const auto all = core::scalingOfAll(parts, e, setup, context);
    if (!all)
        return all.problem();
    clearProgress();
    if (!all->empty() && parts.size() > 1) {
        json["all"] = core::toJson(*all, parts.front().scale);
        if (printIt)
            fmt::print("\nall together, {:g} times as large (extents of the largest part):\n{}", parts.front().scale,
                       core::scalingText(*all, true));
    }
    return json;
}

int estimate(const EstimateVerb& o, const Context& context)
{
    const auto unit = unitOption(o.unit);
    if (!unit)
        return say(unit.problem());
    const auto setup = printSetup(o.print);
    if (!setup)
        return say(setup.problem());
    const auto parts = partsToPrint(o.path, o.parts, {*unit}, context);
    if (!parts)
        return say(parts.problem());
    const auto e = core::estimateParts(*parts, *setup, context);
    if (!e)
        return say(e.problem());
    if (o.asCsv) {
        clearProgress();
        std::cout << core::toCsv(*e);
        return Ok;
    }
    if (!o.asJson)
        print(*e, o.shares);
    if (!o.asJson && !o.scaling)
        return Ok;
    const auto table = scaling(*parts, *e, *setup, !o.asJson, context);
    if (!table)
        return say(table.problem());
    if (o.asJson) {
        nlohmann::ordered_json json = core::toJson(*e);
        json["scaling"] = *table;
        std::cout << json.dump(1, ' ', false, nlohmann::json::error_handler_t::replace) << "\n";
    }
    return Ok;
}

} // namespace

void addEstimate(CLI::App& app, Work& run)
{
    auto o = std::make_shared<EstimateVerb>();
    CLI::App* verb = app.add_subcommand("estimate", "Weight, time and cost of printing a design, an export or a model");
    verb->add_option("path", o->path, "NAME.quoin.json, the folder of an export or of several, or a model")->required();
    verb->add_option("--part", o->parts, "Only the part of this name; may be repeated")->allow_extra_args(false);
    verb->add_option("--unit", o->unit, "Unit of a bare model: mm, cm, m, inch");
    addPrintOptions(*verb, o->print);
    verb->add_flag("--shares", o->shares, "How much of it are walls, skin, infill, support and overhead");
    verb->add_flag("--scaling", o->scaling, "What the scale did: small and large side by side, with the reasons");
    CLI::Option* json = verb->add_flag("--json", o->asJson, "All figures, for programs");
    verb->add_flag("--csv", o->asCsv, "A line a piece, for a spreadsheet")->excludes(json);
    verb->callback([o, &run] { run = [o](const Context& context) { return estimate(*o, context); }; });
}

} // namespace quoin::app
