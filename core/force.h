// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <optional>
#include <string_view>

namespace quoin::core {

/// Newtons in a unit by its symbol: N (also ""), kN, kgf (standard gravity, ISO 80000-3), lbf (the international pound,
/// exactly 0.45359237 kg, times standard gravity). None when there is no such unit.
std::optional<double> newtonsIn(std::string_view unit);

/// Reads a force as people type it: "50 N", "0.5kN", "5 kgf", "10 lbf", "50" (N). Result in N. BadArgument for anything
/// else, for NaN and infinity.
Result<double> newtonsFrom(std::string_view text);

} // namespace quoin::core
