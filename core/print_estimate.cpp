// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/print_estimate.h"

#include "core/layer_fill.h"
#include "core/layer_motion.h"
#include "core/layer_support.h"
#include "mesh/mass.h"
#include "mesh/region.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace quoin::core {

namespace {

constexpr double secondsPerHour = 3600;
constexpr double mm3PerCm3 = 1000;
/// Of the line width: how far the outlines may be simplified.
constexpr double outlineShare = 0.05;
/// More would only be a mistake in the units.
constexpr std::size_t mostLayers = 200000;

/// What one layer takes, or many.
struct Tally {
    std::array<double, printShares.size()> mm3{}, seconds{};
    double waiting = 0;

    double& mm3Of(PrintShare s) { return mm3[static_cast<std::size_t>(s)]; }
    double& secondsOf(PrintShare s) { return seconds[static_cast<std::size_t>(s)]; }
};

/// Adds up layers by a recipe.
class Layers {
public:
    Layers(const LayerStack& stack, const Recipe& recipe) : m_stack(stack), m_recipe(recipe) {}

    void add(std::size_t layer, const LayerFill& fill, const FilledArea& support, const mesh::Region* brimOf)
    {
        const double h = m_stack.thickness(layer), pitch = m_recipe.pitchMm(h);
        const bool solid = m_recipe.infillShare >= 1;
        Tally t;
        t.mm3Of(PrintShare::Walls) = (fill.outerWallMm + fill.innerWallsMm) * pitch * h;
        t.secondsOf(PrintShare::Walls) = fill.outerWallSeconds + fill.innerWallsSeconds;
        lay(t, PrintShare::Skin, fill.skin, solid ? m_recipe.infillMmS : m_recipe.skinMmS, 1, InfillPattern::Lines,
            layer);
        lay(t, PrintShare::Infill, fill.infill, m_recipe.infillMmS, m_recipe.infillShare, m_recipe.infill, layer);
        lay(t, PrintShare::Support, support, m_recipe.supportMmS, m_recipe.supportShare, InfillPattern::Lines, layer);
        double& overhead = t.secondsOf(PrintShare::Overhead);
        overhead = travelSeconds(fill) + m_recipe.layerChangeS +
                   m_recipe.pathStartS * (fill.contours + fill.skin.islands + fill.infill.islands + support.islands);
        if (brimOf != nullptr)
            addBrim(t, *brimOf, h);
        double sum = 0;
        for (const double s : t.seconds)
            sum += s;
        t.waiting = std::max(0.0, m_recipe.leastLayerS - sum);
        overhead += t.waiting;
        for (std::size_t i = 0; i < printShares.size(); ++i) {
            m_sum.mm3[i] += t.mm3[i];
            m_sum.seconds[i] += t.seconds[i];
        }
        m_sum.waiting += t.waiting;
    }
    const Tally& sum() const { return m_sum; }

private:
    double speed(double mmS, std::size_t layer) const
    {
        return m_recipe.speedWithin(layer == 0 ? std::min(mmS, m_recipe.firstLayerMmS) : mmS, m_stack.thickness(layer));
    }

    void lay(Tally& t, PrintShare share, const FilledArea& area, double mmS, double density, InfillPattern pattern,
             std::size_t layer) const
    {
        const double h = m_stack.thickness(layer), pitch = m_recipe.pitchMm(h);
        const FillFigures figures = fillFigures(area.areaMm2, area.outlineMm, density, pitch, pattern,
                                                {speed(mmS, layer), m_recipe.accelerationMmS2, m_recipe.cornerMmS});
        t.mm3Of(share) = figures.lengthMm * pitch * h;
        t.secondsOf(share) = figures.seconds;
    }

    double travelSeconds(const LayerFill& fill) const
    {
        if (fill.hops <= 0)
            return 0;
        const Motion motion{m_recipe.travelMmS, m_recipe.accelerationMmS2, m_recipe.cornerMmS};
        const double start = std::min(m_recipe.cornerMmS, m_recipe.travelMmS);
        return m_recipe.travelFactor * fill.hops * runSeconds(fill.travelMm / fill.hops, start, start, motion);
    }

    void addBrim(Tally& t, const mesh::Region& outline, double h) const
    {
        const double area = mesh::area(mesh::offset(outline, m_recipe.brimMm)) - mesh::area(outline);
        t.mm3Of(PrintShare::Overhead) = area * h;
        t.secondsOf(PrintShare::Overhead) += area / m_recipe.pitchMm(h) / speed(m_recipe.outerWallMmS, 0);
    }

    const LayerStack& m_stack;
    const Recipe& m_recipe;
    Tally m_sum;
};

Tally tallyOf(const std::vector<LayerSection>& sections, const std::vector<LayerFill>& fills,
              const std::vector<SupportFill>& support, const LayerStack& stack, const Recipe& recipe)
{
    std::vector<const FilledArea*> supports(sections.size(), nullptr);
    for (const SupportFill& s : support)
        for (std::size_t i = 0; i < s.layers; ++i)
            supports[s.firstLayer + i] = &s.area;
    Layers layers(stack, recipe);
    for (std::size_t i = 0; i < sections.size(); ++i)
        layers.add(i, fills[i], supports[i] != nullptr ? *supports[i] : FilledArea{},
                   i == 0 && recipe.brimMm > 0 ? &sections[0].outline : nullptr);
    return layers.sum();
}

Likely around(double value, double spread)
{
    return {std::max(0.0, value * (1 - spread)), value * (1 + spread)};
}

/// Grams and hours from volumes and seconds, by the factors that the log has taught.
void addFigures(PieceEstimate& out, const Tally& tally, const Recipe& recipe, const PrintRates& rates,
                const PrintFactors& factors)
{
    const double gramsPerMm3 = rates.densityGPerCm3 / mm3PerCm3 * factors.mass;
    for (std::size_t i = 0; i < printShares.size(); ++i) {
        const bool overhead = printShares[i] == PrintShare::Overhead;
        out.shares[i].grams = tally.mm3[i] * gramsPerMm3;
        out.shares[i].hours = tally.seconds[i] / secondsPerHour * (overhead ? factors.overhead : factors.extrusion);
        out.grams += out.shares[i].grams;
        out.hours += out.shares[i].hours;
    }
    static_assert(printShares.back() == PrintShare::Overhead);
    out.modelGrams = out.grams / factors.mass;
    out.modelOverheadHours = tally.seconds.back() / secondsPerHour;
    out.modelExtrusionHours = std::accumulate(tally.seconds.begin(), tally.seconds.end() - 1, 0.0) / secondsPerHour;
    out.modelStartUpHours = recipe.startUpS / secondsPerHour;
    out.waitingHours = tally.waiting / secondsPerHour * factors.overhead;
    out.startUpHours = recipe.startUpS / secondsPerHour * factors.overhead;
    out.startUpGrams = recipe.purgeMm3 * gramsPerMm3;
    out.likelyGrams = around(out.grams, factors.massSpread);
    out.likelyHours = around(out.hours, factors.timeSpread);
    const double filamentMm2 = std::numbers::pi / 4 * rates.filamentDiameterMm * rates.filamentDiameterMm;
    out.metres = out.grams / rates.densityGPerCm3 * mm3PerCm3 / filamentMm2 / 1000;
    out.energyKwh = recipe.powerW * out.hours / 1000;
    out.materialCost = out.grams / 1000 * rates.pricePerKg;
    out.machineCost = out.hours * rates.machinePerHour + out.energyKwh * rates.pricePerKwh;
}

void addNotes(PieceEstimate& out, const std::vector<LayerSection>& sections)
{
    const auto count = [&](auto member) {
        return static_cast<int>(
            std::count_if(sections.begin(), sections.end(), [&](const LayerSection& s) { return s.*member; }));
    };
    out.mendedLayers = count(&LayerSection::mended);
    if (out.mendedLayers > 0)
        out.notes.push_back({Note::Severity::Warning,
                             fmt::format("the surface is open: the outlines of {} of {} layers were closed by straight "
                                         "lines, so that the figures are rough",
                                         out.mendedLayers, sections.size()),
                             {}});
    if (const int overlapping = count(&LayerSection::overlapping); overlapping > 0)
        out.notes.push_back(
            {Note::Severity::Warning,
             fmt::format("bodies lie in one another in {} of {} layers; what they share is counted once", overlapping,
                         sections.size()),
             {}});
}

Status checkRates(const PrintRates& r, const PrintFactors& f)
{
    const auto good = [](double x, double low, double high) { return x >= low && x <= high; };
    if (!good(r.densityGPerCm3, 0.1, 25) || !good(r.filamentDiameterMm, 0.5, 10) || !good(r.pricePerKg, 0, 1e6) ||
        !good(r.machinePerHour, 0, 1e6) || !good(r.pricePerKwh, 0, 1e6) || !good(f.mass, 0.1, 10) ||
        !good(f.extrusion, 0.1, 10) || !good(f.overhead, 0, 100) || !good(f.massSpread, 0, 10) ||
        !good(f.timeSpread, 0, 10))
        return Problem{Reason::BadArgument,
                       "a density, a price or a factor of the log is out of all bounds",
                       {},
                       {},
                       "Density 0.1 to 25 g/cm3, filament 0.5 to 10 mm, prices from 0 to a million."};
    return Done{};
}

} // namespace

std::string shareName(PrintShare share)
{
    switch (share) {
    case PrintShare::Walls:
        return "walls";
    case PrintShare::Skin:
        return "skin";
    case PrintShare::Infill:
        return "infill";
    case PrintShare::Support:
        return "support";
    case PrintShare::Overhead:
        return "overhead";
    }
    return {};
}

Result<PieceEstimate> estimatePiece(const mesh::Mesh& mesh, const Recipe& recipe, const PrintRates& rates,
                                    const PrintFactors& factors, const Context& context, double progressFrom,
                                    double progressTo)
{
    const auto at = [&](double share) { return progressFrom + (progressTo - progressFrom) * share; };
    for (const Status& s : {checkRecipe(recipe), checkRates(rates, factors)})
        if (!s)
            return s.problem();
    const mesh::Box3 box = mesh::bounds(mesh);
    if (mesh.empty() || !(box.extents().z / recipe.layerMm < static_cast<double>(mostLayers)))
        return Problem{Reason::NoVolume,
                       mesh.empty() ? "there is nothing to print"
                                    : fmt::format("with layers of {:g} mm it would take more than {} of them",
                                                  recipe.layerMm, mostLayers),
                       {},
                       {},
                       "Check the model and its unit."};
    const LayerStack stack = stackOf(box.min.z, box.max.z, recipe.firstLayerMm, recipe.layerMm);
    const auto sections = sectionsOf(mesh, stack, outlineShare * recipe.lineWidthMm, context, at(0), at(0.3));
    if (!sections)
        return sections.problem();
    if (std::none_of(sections->begin(), sections->end(), [](const LayerSection& s) { return s.areaMm2 > 0; }))
        return Problem{Reason::NoVolume,
                       "no layer of it has a section: it is thinner than half a layer, or has no inside",
                       {},
                       {},
                       "Check the model with quoin check, or take a recipe with thinner layers."};
    const auto fills = fillsOf(*sections, stack, recipe, context, at(0.3), at(0.8));
    if (!fills)
        return fills.problem();
    const auto support = supportOf(*sections, stack, recipe, context, at(0.8), at(1));
    if (!support)
        return support.problem();
    PieceEstimate out;
    out.volumeMm3 = mesh::volume(mesh);
    out.layers = static_cast<int>(stack.count);
    out.heightMm = stack.top(stack.count - 1) - stack.plateMm;
    addNotes(out, *sections);
    addFigures(out, tallyOf(*sections, *fills, *support, stack, recipe), recipe, rates, factors);
    return out;
}

} // namespace quoin::core
