// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"
#include "mesh/mesh.h"
#include "mesh/result.h"

#include <string>
#include <vector>

namespace quoin::mesh {

struct RepairOptions {
    /// Points closer than this (mm) are welded if exact welding leaves open edges; 0: a ten-thousandth of a per cent
    /// of the diagonal (1e-6), never more.
    double weldMm = 0;
    /// Holes with a longer rim than this share of the model's diagonal are refused, not filled: what belongs there
    /// can't be guessed. A rim in one plane is closed flat whatever its length.
    double largestHoleShare = 1.0;
};

struct RepairReport {
    std::vector<std::string> changes; ///< one line a kind of change, with counts: "filled 5 holes with 213 triangles"
    double volumeBeforeMm3 = 0, volumeAfterMm3 = 0;
    double areaBeforeMm2 = 0, areaAfterMm2 = 0;
    /// Largest distance from sampled points of either surface to the other, mm (filled holes count).
    double surfaceMovedMm = 0;
};

struct Repaired {
    Mesh mesh;
    RepairReport report;
};

/// Does only what is needed, in this order: weld, drop duplicate triangles and superfluous sheets, orient, fill holes,
/// turn bodies that are inside out, unite whatever overlaps (bodies or folds of one body) and drop what has no area,
/// part and pull asunder what only touches. A sound mesh comes back unchanged with an empty list. Where a step makes
/// new points, coordinates are rounded to doubles once. Labels are kept; what fills holes is skin.
/// @return NotRepairable with the reason and the coordinates when the outcome would not be sound, would reach less far
/// than the model did, or would leave out much that was inside out; NumberNotFinite; Cancelled.
Result<Repaired> repaired(const Mesh& mesh, const RepairOptions& options = {}, const Context& context = {});

} // namespace quoin::mesh
