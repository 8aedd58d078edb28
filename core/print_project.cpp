// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/print_project.h"

#include "core/calibration.h"
#include "core/same_word.h"
#include "mesh/mass.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

/// What the pieces of one part are printed with.
struct Printing {
    Recipe recipe;
    Filament filament;
    std::string machine;
    PrintRates rates;
    PrintFactors factors;
};

Result<Printing> printingFor(const PartToPrint& part, const PrintSetup& setup)
{
    Printing out;
    auto recipe = setup.recipes.find(setup.recipe.empty() ? usualRecipe : setup.recipe);
    if (!recipe)
        return recipe.problem();
    auto filament = setup.filaments.find(setup.material.empty() ? part.material : setup.material);
    if (!filament)
        return filament.problem();
    out.recipe = std::move(*recipe);
    out.filament = std::move(*filament);
    out.machine = setup.machine.empty() ? part.machine : setup.machine;
    out.rates = {out.filament.densityGPerCm3, out.filament.diameterMm, out.filament.pricePerKg, setup.machinePerHour,
                 setup.pricePerKwh};
    out.factors = calibrated(setup.log, {out.recipe.name, out.filament.material, out.machine});
    return out;
}

std::size_t linesIn(const std::vector<PartToPrint>& parts)
{
    std::size_t lines = 0;
    for (const PartToPrint& part : parts)
        lines += part.list.size();
    return lines;
}

void addWords(std::string& words, const std::string& more)
{
    if (words.find(more) == std::string::npos)
        words += (words.empty() ? "" : "; ") + more;
}

/// @param at, step  fraction of the progress that it begins with, and of each line
Status addPart(const PartToPrint& part, const Printing& with, double at, double step, ProjectEstimate& out,
               const Context& context)
{
    for (const ListedPart& line : part.list) {
        if (context.cancelled())
            return Problem{Reason::Cancelled, "cancelled", {}, {}, {}};
        auto estimate = estimatePiece(line.mesh, with.recipe, with.rates, with.factors, context, at, at + step);
        at += step;
        if (!estimate && estimate.problem().reason == Reason::Cancelled)
            return estimate.problem();
        if (!estimate) {
            out.notes.push_back({Note::Severity::Warning,
                                 fmt::format("{} is not in the totals: {}", line.name, estimate.problem().what),
                                 line.file});
            continue;
        }
        for (const Note& n : estimate->notes)
            out.notes.push_back({n.severity, fmt::format("{}: {}", line.name, n.text), line.file});
        out.pieces.push_back({part.name, line.number, line.kind, line.name, line.file, line.count * part.quantity,
                              with.machine.empty() ? line.bed : with.machine, with.recipe.name, with.filament.material,
                              std::move(*estimate)});
    }
    return Done{};
}

/// The small part in one piece; none when it is too thin for the recipe.
Result<std::optional<PrintFigures>> smallFigures(const PartToPrint& part, const Printing& with, const Context& context)
{
    const auto estimate = estimatePiece(*part.small, with.recipe, with.rates, with.factors, context);
    if (!estimate && estimate.problem().reason == Reason::Cancelled)
        return estimate.problem();
    if (!estimate)
        return std::optional<PrintFigures>{};
    const double n = part.quantity;
    return std::optional<PrintFigures>(PrintFigures{n * estimate->grams, n * estimate->hours, n * estimate->money()});
}

/// What a part adds to the table.
Result<ScalingInput> scalingInput(const PartToPrint& part, const ProjectEstimate& estimate, const PrintSetup& setup,
                                  const Context& context)
{
    const auto with = printingFor(part, setup);
    if (!with)
        return with.problem();
    ScalingInput in;
    in.scale = part.scale;
    in.extentsMm = mesh::bounds(*part.small).extents();
    in.areaMm2 = part.quantity * mesh::area(*part.small);
    in.volumeMm3 = part.quantity * std::fabs(mesh::volume(*part.small));
    in.densityGPerCm3 = with->filament.densityGPerCm3;
    in.thinnestMm = 2 * with->recipe.lineWidthMm;
    auto small = smallFigures(part, *with, context);
    if (!small)
        return small.problem();
    for (const NamedTotals& t : estimate.byPart())
        if (t.name == part.name && *small) {
            in.smallPrint = *small;
            in.largePrint = PrintFigures{t.totals.grams, t.totals.hours, t.totals.money()};
        }
    return in;
}

} // namespace

Result<PrintSetup> loadPrintSetup()
{
    PrintSetup setup;
    auto recipes = RecipeBook::load(RecipeBook::defaultFile());
    if (!recipes)
        return recipes.problem();
    auto filaments = FilamentShelf::load(FilamentShelf::defaultFile());
    if (!filaments)
        return filaments.problem();
    auto log = PrintLog::load(PrintLog::defaultFile());
    if (!log)
        return log.problem();
    setup.recipes = std::move(*recipes);
    setup.filaments = std::move(*filaments);
    setup.log = std::move(*log);
    return setup;
}

Result<ProjectEstimate> estimateParts(const std::vector<PartToPrint>& parts, const PrintSetup& setup,
                                      const Context& context, double progressFrom, double progressTo)
{
    ProjectEstimate out;
    const double step = (progressTo - progressFrom) / static_cast<double>(std::max<std::size_t>(1, linesIn(parts)));
    double at = progressFrom;
    for (const PartToPrint& part : parts) {
        const auto with = printingFor(part, setup);
        if (!with)
            return with.problem();
        out.recipe = with->recipe.name;
        addWords(out.calibration, with->factors.words);
        if (std::none_of(out.filaments.begin(), out.filaments.end(),
                         [&](const Filament& f) { return f.material == with->filament.material; }))
            out.filaments.push_back(with->filament);
        if (const Status s = addPart(part, *with, at, step, out, context); !s)
            return s.problem();
        at += step * static_cast<double>(part.list.size());
    }
    return out;
}

Result<std::vector<ScalingRow>> scalingOf(const PartToPrint& part, const ProjectEstimate& estimate,
                                          const PrintSetup& setup, const Context& context)
{
    if (part.small == nullptr)
        return std::vector<ScalingRow>{};
    const auto in = scalingInput(part, estimate, setup, context);
    if (!in)
        return in.problem();
    return scalingTable(*in);
}

Result<std::vector<ScalingRow>> scalingOfAll(const std::vector<PartToPrint>& parts, const ProjectEstimate& estimate,
                                             const PrintSetup& setup, const Context& context)
{
    std::optional<ScalingInput> sum;
    double grams = 0;
    for (const PartToPrint& part : parts) {
        if (part.small == nullptr || part.scale != parts.front().scale)
            return std::vector<ScalingRow>{};
        auto in = scalingInput(part, estimate, setup, context);
        if (!in)
            return in.problem();
        grams += in->volumeMm3 * in->densityGPerCm3;
        if (!sum) {
            sum = std::move(*in);
            continue;
        }
        if (length(in->extentsMm) > length(sum->extentsMm))
            sum->extentsMm = in->extentsMm;
        sum->areaMm2 += in->areaMm2;
        sum->volumeMm3 += in->volumeMm3;
        if (!in->smallPrint || !sum->smallPrint) {
            sum->smallPrint = sum->largePrint = std::nullopt;
            continue;
        }
        const auto plus = [](PrintFigures& a, const PrintFigures& b) {
            a = {a.grams + b.grams, a.hours + b.hours, a.money + b.money};
        };
        plus(*sum->smallPrint, *in->smallPrint);
        plus(*sum->largePrint, *in->largePrint);
    }
    if (!sum || !(sum->volumeMm3 > 0))
        return std::vector<ScalingRow>{};
    sum->densityGPerCm3 = grams / sum->volumeMm3;
    return scalingTable(*sum);
}

} // namespace quoin::core
