// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/print_plan.h"

#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace quoin::core {

/// What a maker has told about printing one job, and what has been printed of it: all that is needed to plan again.
struct PlanDocument {
    PlanRequest request;                          ///< the stock is the shop's, not the plan's: it is not kept
    std::string recipe;                           ///< name; empty: the default
    std::vector<std::string> first;               ///< ids or names of pieces wanted first
    std::map<std::string, int> quantities;        ///< of parts; others once, or as the export says
    std::vector<std::vector<std::string>> plates; ///< ids of the pieces on each plate of the plan last made, by number
    std::string coupon;                           ///< folder of a test coupon to print first; empty: none
};

/// The document with the plates of a plan in place of the earlier ones.
PlanDocument withPlates(PlanDocument document, const PrintPlan& plan);

/// Reports of one piece, by its id or name, or of all pieces of a plate of the plan last made ("plate 3"): grams of a
/// plate, and hours when it is printed, are shared out as estimated. BadArgument when there is no such piece or plate.
/// @param said  state, moment, machine, grams, hours
Result<std::vector<PieceReport>> reportsFor(const PlateJob& job, const PlanDocument& document, const std::string& what,
                                            const PieceReport& said);

/// Beside the job: "heron.plan.json" for the export "heron/" or the design "heron.quoin.json".
std::filesystem::path planFileOf(const std::filesystem::path& job);

/// FileMissing, FileMalformed with the place (RFC 6901), VersionTooNew.
Result<PlanDocument> loadPlan(const std::filesystem::path& file);
/// Under a temporary name, then renamed. FileUnwritable; FileExists when something that is no plan has the name.
Status savePlan(const PlanDocument& document, const std::filesystem::path& file);

/// What writePlanFiles wrote.
struct PlanFiles {
    std::vector<std::string> names;
};
/// plan.json, plan.csv, pieces.csv, plan.ics, chart.svg and plate-NN.svg into a folder, which is made when it isn't
/// there; files of these names are replaced, plate pictures of an earlier, longer plan taken away, others left.
/// @param stampUtc  for the calendar
Result<PlanFiles> writePlanFiles(const PrintPlan& plan, const std::string& name, const std::string& stampUtc,
                                 const std::filesystem::path& folder);

} // namespace quoin::core
