// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/vec3.h"

#include <nlohmann/json.hpp>

#include <optional>
#include <string>
#include <vector>

/// What making a thing larger does to it: Galileo's square and cube (Discorsi e dimostrazioni matematiche, 1638).
namespace quoin::core {

/// A figure of the small thing beside that of the large one.
struct ScalingRow {
    std::string id;   ///< "mass", stable
    std::string what; ///< "solid weight"
    std::string unit;
    double small = 0, large = 0;
    std::optional<double> power; ///< of the scale; none: found by estimating both, by no single power
    std::string reason;          ///< a sentence

    double times() const { return small != 0 ? large / small : 0; }
};

/// What printing it takes, where it was estimated.
struct PrintFigures {
    double grams = 0, hours = 0, money = 0;
};

/// The thing at its small size. mm, mm2, mm3; copies counted in area, volume and prints.
struct ScalingInput {
    double scale = 1;
    mesh::Vec3 extentsMm{0, 0, 0}; ///< of the largest part, or of the whole
    double areaMm2 = 0, volumeMm3 = 0;
    double densityGPerCm3 = 1.24;
    double thinnestMm = 1.2;                            ///< a wall to show, mm
    double playMm = 0.2;                                ///< a gap to show, mm
    std::optional<PrintFigures> smallPrint, largePrint; ///< both or none
};

/// Extents, gaps, walls, surface, weight, printed weight, hours, money, then what strains it: moment at a hinge under
/// its own weight (fourth power; the arm half of the longest side), inertia about it (fifth), stress and sag of a
/// horizontal arm under its own weight (first and second; a bar of the longest and the shortest side), wind (second).
std::vector<ScalingRow> scalingTable(const ScalingInput& input);

nlohmann::ordered_json toJson(const std::vector<ScalingRow>& rows, double scale);
/// Aligned columns for a terminal, a reason under each row when wanted.
std::string scalingText(const std::vector<ScalingRow>& rows, bool reasons);

} // namespace quoin::core
