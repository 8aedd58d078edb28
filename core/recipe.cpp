// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/recipe.h"

#include "core/same_word.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <numbers>

namespace quoin::core {

namespace {

// Common practice, no source: a thinner layer tears, a thicker one doesn't stick; a line narrower than the nozzle
// isn't laid by it, a much wider one curls up at its sides.
constexpr double leastLayerShare = 0.2, mostLayerShare = 0.8;
constexpr double leastWidthShare = 1.0, mostWidthShare = 1.5;
constexpr double rounding = 1e-9; ///< of the shares: 0.32 of 0.4 is 80 % also in binary

constexpr double degree = std::numbers::pi / 180;
constexpr std::size_t longestName = 60, longestSource = 300;

Problem refused(const std::string& what, const std::string& remedy)
{
    return {Reason::BadArgument, what, {}, {}, remedy};
}

bool isPlain(const std::string& text, std::size_t longest)
{
    return text.size() <= longest && std::none_of(text.begin(), text.end(), [](char c) {
               return std::iscntrl(static_cast<unsigned char>(c)) != 0;
           });
}

/// A number of the recipe with its bounds, as a person would say it.
struct Bounded {
    const char* what;
    double value, low, high;
    const char* unit;
};

Status checkShares(const Recipe& r)
{
    for (const auto& [what, mm] : {std::pair{"layer height", r.layerMm}, {"height of the first layer", r.firstLayerMm}})
        if (!(mm >= (leastLayerShare - rounding) * r.nozzleMm && mm <= (mostLayerShare + rounding) * r.nozzleMm))
            return refused(
                fmt::format("the {} of {:g} mm is not 20 to 80 % of the nozzle of {:g} mm", what, mm, r.nozzleMm),
                fmt::format("With this nozzle, take {:g} to {:g} mm.", leastLayerShare * r.nozzleMm,
                            mostLayerShare * r.nozzleMm));
    if (!(r.lineWidthMm >= (leastWidthShare - rounding) * r.nozzleMm &&
          r.lineWidthMm <= (mostWidthShare + rounding) * r.nozzleMm))
        return refused(fmt::format("the line width of {:g} mm is not 100 to 150 % of the nozzle of {:g} mm",
                                   r.lineWidthMm, r.nozzleMm),
                       fmt::format("With this nozzle, take {:g} to {:g} mm.", leastWidthShare * r.nozzleMm,
                                   mostWidthShare * r.nozzleMm));
    return Done{};
}

} // namespace

std::string patternName(InfillPattern pattern)
{
    switch (pattern) {
    case InfillPattern::Lines:
        return "lines";
    case InfillPattern::Grid:
        return "grid";
    case InfillPattern::Triangles:
        return "triangles";
    case InfillPattern::Honeycomb:
        return "honeycomb";
    case InfillPattern::Gyroid:
        return "gyroid";
    }
    return {};
}

Result<InfillPattern> patternFromText(std::string_view text)
{
    for (const InfillPattern p : infillPatterns)
        if (sameWord(text, patternName(p)))
            return p;
    return refused(fmt::format("\"{}\" is no pattern of infill", text),
                   "Known are lines, grid, triangles, honeycomb and gyroid.");
}

double Recipe::beadMm2(double heightMm) const
{
    return (lineWidthMm - heightMm) * heightMm + std::numbers::pi * heightMm * heightMm / 4;
}

double Recipe::speedWithin(double mmS, double heightMm) const
{
    return std::min(mmS, flowMm3S / beadMm2(heightMm));
}

Status checkRecipe(const Recipe& r)
{
    if (r.name.empty() || !isPlain(r.name, longestName) || r.name.front() == ' ' || r.name.back() == ' ')
        return refused(fmt::format("\"{}\" can't be the name of a recipe", r.name),
                       fmt::format("Use 1 to {} plain characters, no blank at either end.", longestName));
    if (!isPlain(r.source, longestSource))
        return refused("the source of a recipe is too long or holds control characters",
                       fmt::format("Use at most {} plain characters.", longestSource));
    const Bounded all[]{
        {"nozzle", r.nozzleMm, 0.1, 5, "mm"},
        {"number of walls", static_cast<double>(r.walls), 0, 50, "lines"},
        {"number of top layers", static_cast<double>(r.topLayers), 0, 100, "layers"},
        {"number of bottom layers", static_cast<double>(r.bottomLayers), 0, 100, "layers"},
        {"infill", 100 * r.infillShare, 0, 100, "%"},
        {"speed of the outer wall", r.outerWallMmS, 1, 1000, "mm/s"},
        {"speed of inner walls", r.innerWallMmS, 1, 1000, "mm/s"},
        {"speed of the skin", r.skinMmS, 1, 1000, "mm/s"},
        {"speed of the infill", r.infillMmS, 1, 1000, "mm/s"},
        {"speed of the support", r.supportMmS, 1, 1000, "mm/s"},
        {"speed of the first layer", r.firstLayerMmS, 1, 1000, "mm/s"},
        {"speed of travel", r.travelMmS, 1, 2000, "mm/s"},
        {"acceleration", r.accelerationMmS2, 50, 100000, "mm/s2"},
        {"speed step at corners", r.cornerMmS, 0.1, 100, "mm/s"},
        {"flow limit", r.flowMm3S, 0.5, 500, "mm3/s"},
        {"least time of a layer", r.leastLayerS, 0, 600, "s"},
        {"time of a layer change", r.layerChangeS, 0, 60, "s"},
        {"time at the start of a path", r.pathStartS, 0, 30, "s"},
        {"factor on travel", r.travelFactor, 0, 10, "times"},
        {"time of starting up", r.startUpS / 60, 0, 240, "min"},
        {"power", r.powerW, 0, 20000, "W"},
        {"overhang angle", r.overhang / degree, 0, 89, "degrees from the vertical"},
        {"density of the support", 100 * r.supportShare, 0, 100, "%"},
        {"gap beside the support", r.supportGapMm, 0, 20, "mm"},
        {"brim", r.brimMm, 0, 100, "mm"},
        {"purge", r.purgeMm3, 0, 1e6, "mm3"},
    };
    for (const Bounded& b : all)
        if (!(b.value >= b.low * (1 - rounding) && b.value <= b.high * (1 + rounding)))
            return refused(fmt::format("the {} of {:g} {} is not between {:g} and {:g} {}", b.what, b.value, b.unit,
                                       b.low, b.high, b.unit),
                           fmt::format("Give {:g} to {:g} {}.", b.low, b.high, b.unit));
    if (r.infillShare < 1 && r.walls == 0 && r.topLayers + r.bottomLayers == 0 && r.infillShare == 0)
        return refused("a recipe without walls, skins and infill prints nothing", "Give at least one wall.");
    return checkShares(r);
}

} // namespace quoin::core
