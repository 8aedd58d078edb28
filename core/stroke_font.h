// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/plane.h"

#include <string_view>
#include <vector>

namespace quoin::core {

/// Open paths of a text in plain single-stroke letters of our own, capitals one unit high, baseline at y = 0, first
/// letter at x = 0. Knows A to Z, 0 to 9, '-', ' ', '.' and '_' below 6 and 9 (a bar marks their foot).
struct StrokeText {
    std::vector<std::vector<mesh::Vec2>> paths;
    double width = 0; ///< in units of the height
};
StrokeText strokeText(std::string_view text);

} // namespace quoin::core
