// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace quoin::core {

/// How the lines of an infill run. What each costs in length and in turns is in core/layer_motion.h.
enum class InfillPattern { Lines, Grid, Triangles, Honeycomb, Gyroid };
inline constexpr std::array infillPatterns{InfillPattern::Lines, InfillPattern::Grid, InfillPattern::Triangles,
                                           InfillPattern::Honeycomb, InfillPattern::Gyroid};
/// "lines", "grid", "triangles", "honeycomb", "gyroid".
std::string patternName(InfillPattern pattern);
Result<InfillPattern> patternFromText(std::string_view text);

/// How a machine is told to print: what weight and time follow from. A plain value. mm, mm/s, mm/s2, s, W; shares from
/// 0 to 1; angles in radians.
struct Recipe {
    std::string name; ///< "0.6 standard"
    double nozzleMm = 0.6;
    double lineWidthMm = 0.66;
    double layerMm = 0.3;
    double firstLayerMm = 0.3;
    int walls = 3;
    int topLayers = 4;
    int bottomLayers = 4;
    double infillShare = 0.15;
    InfillPattern infill = InfillPattern::Grid;

    double outerWallMmS = 40;
    double innerWallMmS = 60;
    double skinMmS = 60;
    double infillMmS = 80;
    double supportMmS = 60;
    double firstLayerMmS = 20;
    double travelMmS = 150;
    double accelerationMmS2 = 1500;
    double cornerMmS = 8;    ///< change of speed that a corner may ask for at once
    double flowMm3S = 15;    ///< the most that the hot end melts
    double leastLayerS = 10; ///< a layer takes no less, so that it cools
    double layerChangeS = 0.6;
    double pathStartS = 0.5; ///< drawing back and pushing on again, for each path that isn't joined to the last
    double travelFactor = 1; ///< on the travel found from the sections
    double startUpS = 420;   ///< heating and levelling, once a plate
    double powerW = 150;     ///< mean while printing

    bool support = true;
    double overhang = 0.7853981633974483; ///< from the vertical: steeper faces below carry themselves
    double supportShare = 0.15;           ///< of the support's room that is plastic
    double supportGapMm = 0.6;            ///< sideways between the piece and its support
    double brimMm = 0;                    ///< width of lines around the first layer
    double purgeMm3 = 500;                ///< pushed out before a plate begins
    std::string source;                   ///< who says so, in words

    friend bool operator==(const Recipe&, const Recipe&) = default;

    /// Section of a line as it lies, mm2: a stadium, (w - h)h + pi h^2 / 4.
    double beadMm2(double heightMm) const;
    /// Distance between lines that lie beside each other and fill the layer: bead over height.
    double pitchMm(double heightMm) const { return beadMm2(heightMm) / heightMm; }
    /// A speed, or less when the hot end can't melt as much.
    double speedWithin(double mmS, double heightMm) const;
};

/// Whether a recipe can be printed: layers of 20 to 80 % of the nozzle, lines of 100 to 150 % of it (common practice,
/// no source), every other number within its bounds. BadArgument names the field, its bounds and the remedy.
Status checkRecipe(const Recipe& recipe);

/// Generic recipes, named by nozzle and purpose: 0.4, 0.6, 0.8 and 1.0 mm; fine, standard and strong. All common
/// practice, no source.
const std::vector<Recipe>& shippedRecipes();

} // namespace quoin::core
