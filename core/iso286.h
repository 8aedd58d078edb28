// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"

#include <string_view>

namespace quoin::core {

/// Limits and fits of bought parts: ISO 286-1 (system) and ISO 286-2 (limits), sizes from 1 to 500 mm.
///
/// Everything is looked up in the standard's tables of whole micrometres, not reckoned by its formula, which is up to
/// 8 % off below 18 mm. Ranges are "over ... up to and including": 10 mm belongs to 6-10, 50 mm to 30-50.

/// How far a size may lie from the nominal size: mm, with their signs.
struct IsoLimits {
    double lowerMm = 0; ///< EI, ei
    double upperMm = 0; ///< ES, es
};

/// What a hole and a shaft of the same nominal size leave between them, on the diameter: mm, negative when they
/// interfere.
struct IsoFit {
    IsoLimits hole, shaft;
    double leastClearanceMm = 0;
    double mostClearanceMm = 0;
};

/// Standard tolerance of a grade: IT5 to IT14. BadArgument for another grade or size.
Result<double> isoToleranceMm(int grade, double sizeMm);

/// Limits of a class at a size: capital letter for a hole ("H7", "F8", "JS9"), small for a shaft ("g6", "h11", "k6",
/// "js7"). Known: shafts d e f g h js k m n p; holes D E F G H JS. BadArgument for anything else, and for k, m, n over
/// grade 7, whose deviations are others.
Result<IsoLimits> isoLimits(std::string_view toleranceClass, double sizeMm);

/// "H7/g6": hole first. BadArgument as above.
Result<IsoFit> isoFit(std::string_view fit, double sizeMm);

} // namespace quoin::core
