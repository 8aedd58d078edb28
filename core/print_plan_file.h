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
    std::map<std::string, std::string> recipes;   ///< of parts that have one of their own, by the part's name
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

/// Which files of a plan are wanted, besides plan.json, which marks the folder as a plan's.
struct PlanFileKinds {
    bool tables = true;   ///< plan.csv, pieces.csv
    bool calendar = true; ///< plan.ics
    bool pictures = true; ///< chart.svg, plate-NN.svg
};

/// What writePlanFiles wrote.
struct PlanFiles {
    std::vector<std::string> names;
};
/// plan.json, plan.csv, pieces.csv, plan.ics, chart.svg and plate-NN.svg into a folder, which is made when it isn't
/// there. In a folder with a plan's plan.json, files of these names are replaced and plate pictures of an earlier,
/// longer plan taken away; others are left.
/// @param stampUtc  for the calendar
/// @param others  names that the caller is going to write there: "plan.pdf"
/// @return FileExists, and nothing is written, when one of the names is there already in a folder without such a
///         plan.json: it is somebody else's; FileUnwritable
Result<PlanFiles> writePlanFiles(const PrintPlan& plan, const std::string& name, const std::string& stampUtc,
                                 const std::filesystem::path& folder, const PlanFileKinds& kinds = {},
                                 const std::vector<std::string>& others = {});

} // namespace quoin::core
