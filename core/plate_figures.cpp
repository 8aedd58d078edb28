// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/plate_figures.h"

#include "core/calibration.h"
#include "core/same_word.h"

#include <algorithm>

namespace quoin::core {

namespace {

/// "standard" of "0.6 standard".
std::string purposeOf(const std::string& recipe)
{
    const std::size_t blank = recipe.find(' ');
    return blank == std::string::npos ? std::string() : recipe.substr(blank + 1);
}

} // namespace

PieceFigures figuresOf(const PieceEstimate& e, const Recipe& recipe)
{
    PieceFigures f;
    f.recipe = recipe.name;
    f.nozzleMm = recipe.nozzleMm;
    f.grams = e.grams;
    f.hours = e.hours;
    f.lowGrams = e.likelyGrams.low;
    f.highGrams = e.likelyGrams.high;
    f.lowHours = e.likelyHours.low;
    f.highHours = e.likelyHours.high;
    f.startUpHours = e.startUpHours;
    f.startUpGrams = e.startUpGrams;
    f.powerW = recipe.powerW;
    f.modelGrams = e.modelGrams;
    f.modelExtrusionHours = e.modelExtrusionHours;
    f.modelOverheadHours = e.modelOverheadHours + e.modelStartUpHours;
    return f;
}

FiguresOf figuresWith(const PrintSetup& setup, const std::vector<std::string>& others)
{
    std::vector<std::string> names{setup.recipe.empty() ? std::string(usualRecipe) : setup.recipe};
    names.insert(names.end(), others.begin(), others.end());
    return [setup, names](const mesh::Mesh& mesh, const std::string& material, const Context& context, double from,
                          double to) -> Result<std::vector<PieceFigures>> {
        const auto filament = setup.filaments.find(setup.material.empty() ? material : setup.material);
        if (!filament)
            return filament.problem();
        std::vector<PieceFigures> out;
        for (const std::string& name : names) {
            const auto recipe = setup.recipes.find(name);
            if (!recipe)
                return recipe.problem();
            const PrintRates rates{filament->densityGPerCm3, filament->diameterMm, filament->pricePerKg,
                                   setup.machinePerHour, setup.pricePerKwh};
            const PrintFactors factors = calibrated(setup.log, {recipe->name, filament->material, setup.machine});
            const double share = (to - from) / static_cast<double>(names.size());
            const double at = from + share * static_cast<double>(&name - names.data());
            const auto estimate = estimatePiece(mesh, *recipe, rates, factors, context, at, at + share);
            if (estimate)
                out.push_back(figuresOf(*estimate, *recipe));
            else if (out.empty()) // a comparison that can't be made is none
                return estimate.problem();
        }
        return out;
    };
}

std::vector<std::string> coarserRecipes(const RecipeBook& recipes, const std::string& name)
{
    const auto recipe = recipes.find(name.empty() ? usualRecipe : name);
    if (!recipe)
        return {};
    std::vector<std::string> out;
    const Recipe* nozzle = nullptr;
    const Recipe* layer = nullptr;
    const std::vector<Recipe> all = recipes.all();
    for (const Recipe& r : all) {
        if (sameWord(purposeOf(r.name), purposeOf(recipe->name)) && r.nozzleMm > recipe->nozzleMm &&
            (nozzle == nullptr || r.nozzleMm < nozzle->nozzleMm))
            nozzle = &r;
        if (r.nozzleMm == recipe->nozzleMm && r.layerMm > recipe->layerMm &&
            (layer == nullptr || r.layerMm < layer->layerMm))
            layer = &r;
    }
    for (const Recipe* r : {nozzle, layer})
        if (r != nullptr)
            out.push_back(r->name);
    return out;
}

Result<PrintLog> logWith(const PrintLog& log, const PlatePieceInfo& piece, const PieceReport& report)
{
    const PieceFigures& f = piece.figures;
    if (report.state != PieceState::Printed || f.modelGrams <= 0 ||
        (report.grams.value_or(0) <= 0 && report.hours.value_or(0) <= 0))
        return log;
    return log.withRow({momentText(report.at).substr(0, 10), piece.name, f.recipe, piece.material, report.machine,
                        f.modelGrams, f.modelExtrusionHours, f.modelOverheadHours, report.grams.value_or(0),
                        report.hours.value_or(0)});
}

} // namespace quoin::core
