// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <numbers>

/// Sizes of a cut plane's handle, in pixels on the screen whatever the distance.
namespace quoin::ui::cut_handle {

inline constexpr double arrowPx = 118;
inline constexpr double arcPx = 78;
/// An arc reaches this far to both sides of the normal; its knobs sit here.
inline constexpr double arcRadians = 72 * std::numbers::pi / 180;
inline constexpr double knobRadians = 45 * std::numbers::pi / 180;
/// How near the pointer must be.
inline constexpr double reachPx = 12;
/// Where arrow and arc cross, the arrow is preferred by this much.
inline constexpr double arrowBonusPx = 4;

} // namespace quoin::ui::cut_handle
