// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/layer_fill.h"

namespace quoin::core {

/// Support of a run of layers.
struct SupportFill {
    std::size_t firstLayer = 0, layers = 0; ///< that it stands beside
    FilledArea area;                        ///< the room of the columns, the same in each of these layers
};

/// The room below overhangs: columns from each overhanging face straight down to the plate, or to the body below, less
/// a gap beside the walls. Some layers together make a step of up to 0.8 mm, or a layer where these are thicker. A face
/// overhangs where its slope from the vertical is more than the recipe's angle: where a step reaches further past the
/// one below than the angle takes it.
/// @return runs from the plate upwards, only those with support; Cancelled
Result<std::vector<SupportFill>> supportOf(const std::vector<LayerSection>& sections, const LayerStack& stack,
                                           const Recipe& recipe, const Context& context = {}, double progressFrom = 0,
                                           double progressTo = 1);

} // namespace quoin::core
