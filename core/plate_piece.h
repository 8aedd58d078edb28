// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/plane.h"

#include <optional>
#include <string>
#include <vector>

namespace quoin::core {

/// What a piece takes with one recipe. g, h; alone on its plate, without starting up.
struct PieceFigures {
    std::string recipe;  ///< its name
    double nozzleMm = 0; ///< 0: any
    double grams = 0, hours = 0;
    double lowGrams = 0, highGrams = 0; ///< where nine of ten come out
    double lowHours = 0, highHours = 0;
    double startUpHours = 0; ///< once a plate
    double startUpGrams = 0; ///< once a plate: purging
    double powerW = 0;       ///< mean while printing
    /// Before any factor of the maker's log, for its next row (core/print_log.h); 0: from no model.
    double modelGrams = 0, modelExtrusionHours = 0, modelOverheadHours = 0;
};

/// One copy of something to print.
struct PlatePieceInfo {
    std::string id;             ///< unique in the job: "heron-neck/3", copies "heron-neck/3#2"
    std::string name;           ///< for people
    std::string part;           ///< of the sculpture
    std::string file;           ///< as the parts list names it, for finding it on the disk
    std::string kind = "piece"; ///< or "coupon", or what the parts list says of loose parts
    std::string material = "PLA";
    PieceFigures figures;
    std::vector<PieceFigures> others; ///< the same with other recipes, for what would help
    std::size_t outline = 0;          ///< of the job's outlines
    double heightMm = 0;
    bool testFit = false;   ///< printed before all others, to see whether the joints fit
    bool first = false;     ///< the maker wants it first
    bool standsFlat = true; ///< else it needs support, and is doubtful
    int assembly = 0;       ///< step of the assembly that needs it; 0: not known
    int failed = 0;         ///< how often it has failed so far
};

/// What is to be printed.
struct PlateJob {
    std::vector<PlatePieceInfo> pieces;
    std::vector<mesh::Region> outlines; ///< shadows on the plate in the print pose, mm (core/nest_outline.h)
};

} // namespace quoin::core
