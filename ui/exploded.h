// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/piece.h"

#include <vector>

namespace quoin::ui {

/// How far each piece moves from its assembled place so that every cut opens by `gapMm` along its normal: at each cut,
/// innermost first, the two sides move apart by equal shares, by so much more as the pieces on the cut have moved
/// towards each other before. The middle of the part stays where it is.
/// @return one shift a piece, mm, in the order of `pieces`
std::vector<mesh::Vec3> explodedShifts(const core::CutPlan& plan, const std::vector<core::Piece>& pieces, double gapMm);

} // namespace quoin::ui
