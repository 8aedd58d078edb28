// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed_fit.h"

#include <array>
#include <vector>

namespace quoin::core {

/// Whether a solid box of these sides fits a bed standing on one of its faces: as fitOnBeds, but quick enough to be
/// asked thousands of times. The stricter form leaves what rounding may add (core/bed_room.h) unused.
bool boxFits(mesh::Vec3 sidesMm, const std::vector<Bed>& beds, double marginMm);
bool boxFitsStrictly(mesh::Vec3 sidesMm, const std::vector<Bed>& beds, double marginMm);

/// Numbers of equal cells along three axes.
using CellCounts = std::array<int, 3>;

/// All ways of dividing a box into equal cells that fit a bed, of which no number can be made less. Empty when the
/// beds have no room, or more than `mostCells` cells would be needed.
std::vector<CellCounts> leastCellCounts(mesh::Vec3 extentsMm, const std::vector<Bed>& beds, const FitOptions& options);
inline constexpr double mostCells = 20'000;

/// The longest that a cell may be along one axis, its other sides given; at least `leastMm`, the even division.
double longestCellMm(mesh::Vec3 cellMm, int axis, double leastMm, const std::vector<Bed>& beds, double marginMm);

} // namespace quoin::core
