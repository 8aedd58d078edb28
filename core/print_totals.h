// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/material_filament.h"
#include "core/print_estimate.h"

#include <nlohmann/json.hpp>

#include <string>
#include <vector>

/// Estimates of many pieces: tables and totals.
namespace quoin::core {

/// A line of the table: a piece or loose part, so many times.
struct EstimatedPiece {
    std::string part; ///< that it belongs to
    int number = 0;   ///< in the parts list of its part
    std::string kind; ///< "piece", "dowel", ...
    std::string name;
    std::string file;    ///< as in the parts list; empty for a bare model
    int count = 1;       ///< copies for all sets of the part
    std::string machine; ///< the maker's name for it, else the bed; may be empty
    std::string recipe, material;
    PieceEstimate each; ///< of one copy
};

/// Figures added up: copies counted, without starting up.
struct PrintTotals {
    int prints = 0; ///< copies
    double grams = 0, hours = 0, metres = 0, materialCost = 0, machineCost = 0, energyKwh = 0;
    Likely likelyGrams, likelyHours; ///< ends added up: what is off in the model is off in all pieces alike
    std::array<ShareFigures, printShares.size()> shares;
    double spools = 0; ///< full ones, each material's grams over its spool; round up to buy

    double money() const { return materialCost + machineCost; }
};

/// Totals of the lines that go under one name.
struct NamedTotals {
    std::string name;
    PrintTotals totals;
};

/// Everything said of a project.
struct ProjectEstimate {
    std::vector<EstimatedPiece> pieces;
    std::vector<Filament> filaments; ///< of the materials in it, as used
    std::string recipe;              ///< name
    std::string calibration;         ///< PrintFactors::words, one after the other where they differ
    std::vector<Note> notes;

    PrintTotals all() const;
    std::vector<NamedTotals> byPart() const;
    std::vector<NamedTotals> byMachine() const;
    std::vector<NamedTotals> byMaterial() const;
};

/// For programs: units in the keys, the caution, totals, pieces. Schema: DEVELOPERS.md, "estimate.json".
nlohmann::ordered_json toJson(const ProjectEstimate& estimate);
nlohmann::ordered_json toJson(const PieceEstimate& estimate);
/// For a spreadsheet: RFC 4180, one line a piece, copies in a column, figures of one copy.
std::string toCsv(const ProjectEstimate& estimate);

/// What has to be said beside every estimate.
const char* estimateCaution();

} // namespace quoin::core
