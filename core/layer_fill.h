// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/layer_sections.h"
#include "core/recipe.h"

/// What each layer of a print is filled with: walls along the outline, skin where air is near above or below, infill.
/// The three always make up the section.
namespace quoin::core {

/// An area with what its lines follow from.
struct FilledArea {
    double areaMm2 = 0;
    double outlineMm = 0; ///< length of all its outlines
    int islands = 0;
};

/// One layer. A line takes a strip as wide as the pitch of lines that lie beside each other (Recipe::pitchMm), so that
/// a solid layer holds as much plastic as its section says.
struct LayerFill {
    double outerWallMm = 0, innerWallsMm = 0;           ///< lengths of line: the area of each strip over the pitch
    double outerWallSeconds = 0, innerWallsSeconds = 0; ///< laying them, core/layer_motion.h
    FilledArea skin, infill;
    int contours = 0;    ///< closed outlines, each with its walls
    double travelMm = 0; ///< between what isn't joined
    double hops = 0;     ///< moves that make up the travel
};

/// Shares every section out. Walls: strips taken off the outline one after the other. Skin: what of the rest isn't
/// covered by all of the next `topLayers` above and `bottomLayers` below; found for all layers with three intersections
/// each (van Herk, Pattern Recognition Letters 13, 1992, for running minima). Beyond the first and the last layer is
/// air. Runs on all cores.
/// @return one a layer; Cancelled
Result<std::vector<LayerFill>> fillsOf(const std::vector<LayerSection>& sections, const LayerStack& stack,
                                       const Recipe& recipe, const Context& context = {}, double progressFrom = 0,
                                       double progressTo = 1);

/// Area, length of outlines and outer loops of a region. @param leastMm2  islands smaller than this are not counted:
/// slivers that are laid along with what is beside them
FilledArea filledArea(const mesh::Region& region, double leastMm2 = 0);

} // namespace quoin::core
