// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/keep_clear.h"

#include <optional>
#include <vector>

namespace quoin::core {

/// Where a cut goes, and how far it may be moved while the cells beside it can still be cut short enough.
struct ClearPlace {
    double at = 0;
    double low = 0, high = 0;
};

/// Places for cuts between `from` and `to`, all in free ranges, that leave no cell longer than `longest`: at least
/// `cells` - 1 of them, more where the free ranges ask for more; each near to where an even division has it, and off
/// the ends of its free range where there is room.
/// @param free     rising, apart, within from and to
/// @param longest  mm; may be infinite
/// @return rising; fewer than `cells` - 1 when two would fall together; none when a blocked range is too long
std::optional<std::vector<ClearPlace>> clearPlaces(double from, double to, int cells, double longest,
                                                   const std::vector<OffsetRange>& free);

/// The free offset nearest to `wanted` within a range, kept off the ends of its free range where there is room.
std::optional<double> nearestFree(double wanted, OffsetRange within, const std::vector<OffsetRange>& free);

bool isFree(double offset, const std::vector<OffsetRange>& free);

/// The longest stretch between two offsets in which nothing is free.
OffsetRange longestBlocked(double from, double to, const std::vector<OffsetRange>& free);

} // namespace quoin::core
