// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed_fit.h"
#include "core/cut_plan.h"
#include "core/lower_bound.h"
#include "mesh/context.h"
#include "mesh/result.h"

namespace quoin::core {

struct SuggestOptions {
    FitOptions fit;
    bool islandsApart = true;
    unsigned seed = 1;
    double seconds = 30; ///< stop looking for a better grid after about this long; the first answer is always finished
};

struct Suggestion {
    CutPlan plan;
    int pieces = 0;
    LowerBound bound;
    int gridsTried = 0;
    std::string words; ///< how it was cut, for the report
};

/// Cuts by an axis grid in the best of several rotations, starting from the user's own cuts.
///
/// Every leaf is cut as a real mesh, its bodies counted and fitted on the beds; leaves that fit are not cut further,
/// neighbours that fit together stay together, and a leaf that doesn't fit is cut again. Fewest pieces first, then
/// seams with room for joints, then least cut area.
/// @param start  cuts that must come first (may be empty)
/// @return DoesNotFit when something can't be made to fit (it says what and by how much); never a plan with a piece
///         that doesn't fit.
Result<Suggestion> suggestGrid(const mesh::Mesh& part, const CutPlan& start, const std::vector<Bed>& beds,
                               const SuggestOptions& options, const Context& context = {});

} // namespace quoin::core
