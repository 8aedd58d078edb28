// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/cut_plan.h"
#include "core/cut_terms.h"
#include "core/joint.h"
#include "core/load_case.h"
#include "core/piece.h"

#include <string>
#include <vector>

namespace quoin::core {

class CutJudge;

/// What cuts are judged for, besides the beds.
struct JudgeOptions {
    JointOptions joints; ///< wanted, and their walls
    LoadCase load;       ///< down, dynamic factor, safety, share of fill
    std::string material = "PLA";
};

/// The terms of a finished way of cutting.
struct PlanTerms {
    std::vector<CutTerms> cuts; ///< one a node of the plan, in its order
    CutTerms total;             ///< of all; of an uncut part the support of the whole
    bool judged = false;        ///< else nothing is known
};

/// Judges a plan that has been carried out: each face where it cuts its cell; the support and the balance of a piece
/// count for the cut that made it, the last on the way to it; symmetry against all planes.
/// @param pieces  of the plan, with their poses
/// @return Cancelled, or what cutting fails by
Result<PlanTerms> judgePlan(const CutJudge& judge, const mesh::Mesh& part, const CutPlan& plan,
                            const std::vector<Piece>& pieces, const Context& context = {});

/// The terms by cut and in total as a table, for the command line and the window alike.
struct TermTable {
    struct Row {
        std::string name;           ///< "cut 1", "all cuts", "weight"
        int node = -1;              ///< of the plan; -1: of no cut
        std::vector<double> values; ///< one a column
    };
    std::vector<std::string> columns, helps; ///< the terms, and the weighed sum last
    std::vector<Row> rows;                   ///< the cuts, then all of them, then the weights (their last value is 0)
};
TermTable termTable(const PlanTerms& terms, const CutWeights& weights);

} // namespace quoin::core
