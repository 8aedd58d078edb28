// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/face_choice.h"
#include "core/joint.h"
#include "mesh/context.h"
#include "mesh/result.h"

namespace quoin::core {

/// Faces of the features sunk into the face of node n carry this plus n + 1 as their label.
inline constexpr mesh::Label featureLabelBase = 1000000;

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

/// The pieces with bores and marks sunk in, in the assembled frame; same order as `pieces`. JointFailed, by name, when
/// a joint by hand leaves its face or meets another.
Result<std::vector<mesh::Mesh>> jointedPieces(const std::vector<Piece>& pieces, const std::vector<Seam>& seams,
                                              const CutPlan& plan, const JointLayout& layout,
                                              const Context& context = {});

/// Volume that the joints and marks of a layout take out of all pieces, mm3, from their own geometry.
double sunkVolumeMm3(const std::vector<Seam>& seams, const CutPlan& plan, const JointLayout& layout);

} // namespace quoin::core
