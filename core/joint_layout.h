// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/face_choice.h"
#include "core/joint.h"
#include "mesh/context.h"
#include "mesh/result.h"

namespace quoin::core {

/// Chooses joints and marks for every seam, as a careful maker would (common practice, no source):
///
/// - Long thin-walled sections get dowels all along the middle of the wall.
/// - Faces over 85 mm across whose pieces can turn get one printed screw in the middle, grown on a piece that has room
///   for it on its bed, else loose. Where they can't turn, draw bolts towards the corners with dowels to locate them;
///   where those have no room or no way in, dowels.
/// - Others get two or more dowels, diameter from a series, the largest that the room in 3D allows up to what the
///   face's size asks for, far apart; one, keyed, or a D key, where only one fits; none, with a clear line, where none
///   fits.
/// - One kind for all faces, or for one, can be asked for; where it can't be had, dowels take its place. A clocking key
///   comes beside a screw where that is asked for, or where the load would turn it.
/// - Where the load is known (SeamChoices::load, a material whose strength is known), the first of these that carries
/// it
///   as surely as the maker wants is taken, larger dowels and more of them before other kinds; where none does, the one
///   that carries most.
///
/// All keep the rules of core/joint_rules.h: walls along the whole depth on both sides, and between features. Marks go
/// where room is left, and, if asked for, a witness line on the outside of each seam that has a place for one. Each
/// seam's report says in a sentence what it got and why. Deterministic.
///
/// @param choices  what the maker wants on some seams instead. Joints by hand go exactly where they are wanted, before
///                 any are chosen, which keep clear of them; a rule that they break is said in the seam's report and
///                 in the layout's faults. Sizes that can't be made at all are refused (BadArgument).
Result<JointLayout> layOutJoints(const std::vector<Piece>& pieces, const std::vector<Seam>& seams, const CutPlan& plan,
                                 const JointOptions& options, const SeamChoices& choices = {},
                                 const Context& context = {});

} // namespace quoin::core
