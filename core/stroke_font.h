// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/plane.h"

#include <string_view>
#include <vector>

namespace quoin::core {

/// Open paths of a text in plain single-stroke letters of our own. Unit: the height of a capital, so that a caller
/// scales by it in mm; baseline at y = 0, first letter at x = 0.
///
/// Knows A to Z (small letters are drawn as capitals), 0 to 9, '-', '.', ' ' and '_'. 6 and 9 stand on a bar below the
/// baseline, since a piece is read from any side; 1 has a flag and I has serifs for the same reason. Anything else is
/// drawn as an empty box. Each path has at least two points. Curves are chords of 15 degrees.
struct StrokeText {
    std::vector<std::vector<mesh::Vec2>> paths;
    double width = 0;  ///< x runs from 0 to this
    double bottom = 0; ///< lowest y: 0, or strokeBarY when a bar is drawn; y runs up to 1 at most
};
StrokeText strokeText(std::string_view text);

/// Where the bar under 6 and 9 runs, in units of the height.
inline constexpr double strokeBarY = -0.3;

} // namespace quoin::core
