// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "core/nest_no_fit.h"

#include <optional>
#include <vector>

namespace quoin::core {

/// A plate as nesting sees it, its middle at (0, 0): a rectangle or a circle that the hulls of shapes must stay in.
struct NestBed {
    bool round = false;
    NestPoint low, high;     ///< rectangle
    std::int64_t radius = 0; ///< circle

    /// Whether a shape at a place stays on it. Exact.
    bool holds(const NestShape& shape, NestPoint at) const;
    double areaMm2() const;
};
/// The plate of a bed less a margin all round, with what rounding of the pieces may add (fitRelative, core/bed_room.h).
NestBed nestBed(const Bed& bed, double marginMm);

struct NestPlaced {
    std::size_t shape = 0; ///< of the table
    NestPoint at;
};

/// The lowest place (of those, the leftmost) for a shape on a plate beside others: bottom-left placement (Baker,
/// Coffman and Rivest 1980) over corners and crossings of the no-fit polygons and of the room that the plate leaves,
/// each tried in whole numbers, so that a place given never overlaps and slots that fit exactly are found.
/// @param work  is raised by what was tried: the same on every machine, so a budget in it is deterministic
std::optional<NestPoint> lowestPlace(NoFitTable& table, const NestBed& bed, const std::vector<NestPlaced>& placed,
                                     std::size_t shape, long& work);

} // namespace quoin::core
