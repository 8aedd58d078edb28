// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/work_calendar.h"
#include "mesh/result.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace quoin::core {

/// What has become of a piece.
enum class PieceState { Planned, Printing, Printed, Failed };
/// "planned", "printing", "printed", "failed".
std::string stateName(PieceState state);
Result<PieceState> stateFromText(std::string_view text);

/// One report from the shop: a line of the log.
struct PieceReport {
    std::string piece; ///< PlatePieceInfo::id
    PieceState state = PieceState::Printed;
    Moment at{};                        ///< printing: begun; else: when it was seen
    std::string machine;                ///< may be empty, but not for printing
    std::optional<double> grams, hours; ///< as weighed and timed; printing: hours it is expected to take in all
    friend bool operator==(const PieceReport&, const PieceReport&) = default;
};

/// All reports in the order in which they came; the last one of a piece tells its state. A piece that has failed or is
/// planned again is to be printed.
struct PlanProgress {
    std::vector<PieceReport> reports;
    PieceState stateOf(std::string_view piece) const;
    const PieceReport* last(std::string_view piece) const;
    int failures(std::string_view piece) const;
    friend bool operator==(const PlanProgress&, const PlanProgress&) = default;
};

/// With one report more. BadArgument for grams or hours out of bounds, or for printing without a machine.
Result<PlanProgress> withReport(const PlanProgress& progress, const PieceReport& report);

} // namespace quoin::core
