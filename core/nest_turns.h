// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/nest.h"

#include <numbers>
#include <vector>

namespace quoin::core {

inline constexpr double quarterTurn = std::numbers::pi / 2;

/// Turns of an outline from which others follow by quarters: as it is, and where it may be aligned and that makes the
/// box round it smaller, along an edge of its hull (the least box has a side along one: Freeman and Shapira 1975).
std::vector<double> firstTurns(const mesh::Region& outline, NestTurns how);

/// Quarter turns that make a difference: 1, 2 or 4.
int differentQuarters(const mesh::Region& outline);

} // namespace quoin::core
