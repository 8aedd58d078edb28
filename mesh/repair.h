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
    /// can't be guessed.
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

/// Does only what is needed, in this order: weld, drop degenerate and duplicate triangles, split non-manifold edges
/// and vertices, orient, stitch, fill holes, resolve self-intersections (union of overlapping bodies first). A sound
/// mesh comes back unchanged with an empty list.
/// @return NotRepairable with the reason and the coordinates when the outcome would not be sound.
Result<Repaired> repaired(const Mesh& mesh, const RepairOptions& options = {}, const Context& context = {});

} // namespace quoin::mesh
