// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/print_totals.h"

#include "core/csv_text.h"
#include "core/own_file.h"
#include "core/same_word.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>

namespace quoin::core {

namespace {

using Json = nlohmann::ordered_json;

double spoolOf(const ProjectEstimate& e, const std::string& material)
{
    for (const Filament& f : e.filaments)
        if (sameWord(f.material, material))
            return f.spoolG;
    return 1000;
}

void add(PrintTotals& sum, const EstimatedPiece& p, double spoolG)
{
    const double n = p.count;
    sum.prints += p.count;
    sum.grams += n * p.each.grams;
    sum.hours += n * p.each.hours;
    sum.metres += n * p.each.metres;
    sum.materialCost += n * p.each.materialCost;
    sum.machineCost += n * p.each.machineCost;
    sum.energyKwh += n * p.each.energyKwh;
    sum.likelyGrams.low += n * p.each.likelyGrams.low;
    sum.likelyGrams.high += n * p.each.likelyGrams.high;
    sum.likelyHours.low += n * p.each.likelyHours.low;
    sum.likelyHours.high += n * p.each.likelyHours.high;
    sum.spools += n * p.each.grams / spoolG;
    for (std::size_t i = 0; i < printShares.size(); ++i) {
        sum.shares[i].grams += n * p.each.shares[i].grams;
        sum.shares[i].hours += n * p.each.shares[i].hours;
    }
}

/// Totals by a name of each line, in the order in which names come up.
std::vector<NamedTotals> grouped(const ProjectEstimate& e,
                                 const std::function<std::string(const EstimatedPiece&)>& nameOf)
{
    std::vector<NamedTotals> groups;
    for (const EstimatedPiece& p : e.pieces) {
        const std::string name = nameOf(p);
        auto at = std::find_if(groups.begin(), groups.end(), [&](const NamedTotals& g) { return g.name == name; });
        if (at == groups.end())
            at = groups.insert(groups.end(), NamedTotals{name, {}});
        add(at->totals, p, spoolOf(e, p.material));
    }
    return groups;
}

Json sharesJson(const std::array<ShareFigures, printShares.size()>& shares)
{
    Json out = Json::object();
    for (std::size_t i = 0; i < printShares.size(); ++i)
        out[shareName(printShares[i])] = {{"g", shares[i].grams}, {"h", shares[i].hours}};
    return out;
}

Json likelyJson(const Likely& l)
{
    return {{"low", l.low}, {"high", l.high}};
}

Json totalsJson(const PrintTotals& t)
{
    return {{"prints", t.prints},
            {"mass_g", t.grams},
            {"likely_g", likelyJson(t.likelyGrams)},
            {"time_h", t.hours},
            {"likely_h", likelyJson(t.likelyHours)},
            {"filament_m", t.metres},
            {"spools", t.spools},
            {"material_cost", t.materialCost},
            {"machine_cost", t.machineCost},
            {"energy_kwh", t.energyKwh},
            {"shares", sharesJson(t.shares)}};
}

Json groupsJson(const std::vector<NamedTotals>& groups)
{
    Json out = Json::array();
    for (const NamedTotals& g : groups) {
        out.push_back({{"name", orderedText(g.name)}});
        out.back().update(totalsJson(g.totals));
    }
    return out;
}

Json notesJson(const std::vector<Note>& notes)
{
    Json out = Json::array();
    for (const Note& n : notes)
        out.push_back({{"severity", n.severity == Note::Severity::Info ? "info" : "warning"}, {"text", n.text}});
    return out;
}

Json pieceJson(const EstimatedPiece& p)
{
    Json out{{"part", orderedText(p.part)},
             {"number", p.number},
             {"kind", p.kind},
             {"name", orderedText(p.name)},
             {"file", orderedText(p.file)},
             {"count", p.count},
             {"machine", orderedText(p.machine)},
             {"recipe", orderedText(p.recipe)},
             {"material", p.material}};
    out.update(toJson(p.each));
    return out;
}

} // namespace

PrintTotals ProjectEstimate::all() const
{
    PrintTotals sum;
    for (const EstimatedPiece& p : pieces)
        add(sum, p, spoolOf(*this, p.material));
    return sum;
}

std::vector<NamedTotals> ProjectEstimate::byPart() const
{
    return grouped(*this, [](const EstimatedPiece& p) { return p.part; });
}

std::vector<NamedTotals> ProjectEstimate::byMachine() const
{
    return grouped(*this, [](const EstimatedPiece& p) { return p.machine; });
}

std::vector<NamedTotals> ProjectEstimate::byMaterial() const
{
    return grouped(*this, [](const EstimatedPiece& p) { return p.material; });
}

const char* estimateCaution()
{
    return "Estimates for planning, from geometry and a recipe. Print a piece, weigh it and note its hours before you "
           "promise a date or a price. Don't leave printers alone, and air the room.";
}

Json toJson(const PieceEstimate& e)
{
    Json out{{"mass_g", e.grams},
             {"likely_g", likelyJson(e.likelyGrams)},
             {"time_h", e.hours},
             {"likely_h", likelyJson(e.likelyHours)},
             {"waiting_h", e.waitingHours},
             {"start_up_h", e.startUpHours},
             {"start_up_g", e.startUpGrams},
             {"filament_m", e.metres},
             {"material_cost", e.materialCost},
             {"machine_cost", e.machineCost},
             {"energy_kwh", e.energyKwh},
             {"volume_mm3", e.volumeMm3},
             {"height_mm", e.heightMm},
             {"layers", e.layers},
             {"mended_layers", e.mendedLayers},
             {"shares", sharesJson(e.shares)},
             {"model",
              {{"mass_g", e.modelGrams},
               {"extrusion_h", e.modelExtrusionHours},
               {"overhead_h", e.modelOverheadHours},
               {"start_up_h", e.modelStartUpHours}}}};
    if (!e.notes.empty())
        out["notes"] = notesJson(e.notes);
    return out;
}

Json toJson(const ProjectEstimate& e)
{
    Json pieces = Json::array(), filaments = Json::array();
    for (const EstimatedPiece& p : e.pieces)
        pieces.push_back(pieceJson(p));
    for (const Filament& f : e.filaments)
        filaments.push_back(filamentJson(f));
    return {{"kind", "quoin estimate"},
            {"version", 1},
            {"caution", estimateCaution()},
            {"recipe", orderedText(e.recipe)},
            {"calibration", orderedText(e.calibration)},
            {"materials", filaments},
            {"totals", totalsJson(e.all())},
            {"by_part", groupsJson(e.byPart())},
            {"by_machine", groupsJson(e.byMachine())},
            {"by_material", groupsJson(e.byMaterial())},
            {"pieces", pieces},
            {"notes", notesJson(e.notes)}};
}

std::string toCsv(const ProjectEstimate& e)
{
    std::string out =
        "part,number,kind,name,file,count,machine,recipe,material,mass_g,low_g,high_g,time_h,low_h,high_h,"
        "filament_m,material_cost,machine_cost,energy_kwh,height_mm,layers";
    for (const PrintShare s : printShares)
        out += fmt::format(",{0}_g,{0}_h", shareName(s));
    out += "\r\n";
    for (const EstimatedPiece& p : e.pieces) {
        const PieceEstimate& each = p.each;
        out +=
            fmt::format("{},{},{},{},{},{},{},{},{},{:.2f},{:.2f},{:.2f},{:.4f},{:.4f},{:.4f},{:.3f},{:.2f},{:.2f},"
                        "{:.3f},{:.2f},{}",
                        csvField(p.part), p.number, csvField(p.kind), csvField(p.name), csvField(p.file), p.count,
                        csvField(p.machine), csvField(p.recipe), csvField(p.material), each.grams, each.likelyGrams.low,
                        each.likelyGrams.high, each.hours, each.likelyHours.low, each.likelyHours.high, each.metres,
                        each.materialCost, each.machineCost, each.energyKwh, each.heightMm, each.layers);
        for (const PrintShare s : printShares)
            out += fmt::format(",{:.2f},{:.4f}", each.share(s).grams, each.share(s).hours);
        out += "\r\n";
    }
    return out;
}

} // namespace quoin::core
