// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/cut_plan.h"
#include "core/design.h"

namespace quoin::core {

/// A part cut by its list of cuts.
struct CutPart {
    CutPlan plan;               ///< only nodes that really cut
    std::vector<int> cutOfNode; ///< CutStep::id of each node
    std::vector<Leaf> leaves;   ///< below before above, depth first, labelled by node, as cutByPlan gives them
};

/// Cuts a part by the enabled steps of a list, in their order. A step that meets nothing makes no node. Pure.
Result<CutPart> cutBySteps(const mesh::Mesh& part, const std::vector<CutStep>& steps, const Context& context = {});

/// The sides of cuts that lead to a piece, in the order of the list: what a new cut of this piece only is `within`.
std::vector<CutSide> sidesOf(const Path& path, const std::vector<int>& cutOfNode);

} // namespace quoin::core
