// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/face_choice.h"
#include "core/joint.h"
#include "mesh/context.h"
#include "mesh/result.h"

namespace quoin::core {

/// Chooses dowels and marks for every seam.
///
/// Dowels: two or more where there is room, diameter from a series, the largest that the room in 3D allows (radius
/// plus wall, along the whole depth and past its end, on both sides) up to what the face's size asks for; sites far
/// apart; one, keyed, where only one fits; none, with a clear line, where none fits. Features keep a wall between
/// them. Marks go where room is left. Deterministic.
///
/// @param choices  what the maker wants on some seams instead. Dowels by hand go exactly where they are wanted, before
///                 any are chosen, which keep clear of them; a rule that they break is said in the seam's report and
///                 in the layout's faults. Sizes that can't be made at all are refused (BadArgument).
Result<JointLayout> layOutJoints(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                                 const JointOptions& options, const SeamChoices& choices = {},
                                 const Context& context = {});

} // namespace quoin::core
