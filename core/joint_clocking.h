// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_shape.h"

/// Clocking keys: a loose rectangular bar in the plane of the face, half of it in either piece, let in from the outside
/// when the pieces are together, so that a screw seated before can't turn back. As the parallel key of a shaft, it is
/// sheared along the face and bears with half its height on either side.
///
/// The bar runs from Joint::at along Joint::angle for lengthMm and is to end below the skin; its slot goes on from
/// there to nutOutMm, past the outside. It is diameterMm wide and reaches depthMm into either piece. Edges along it are
/// broken, since inner corners of the printed slot are round, and both ends have a lead-in. The slot keeps clearanceMm
/// to every side of the bar, and endClearanceMm, no less than that, at its blind end.
/// It is printed lying on a flank, so that its layers cross the face that shears it.
namespace quoin::core {

/// mm; for shapes, room and strength.
struct ClockingLayout {
    double slotHalfMm = 0;  ///< from the middle to a flank of the slot
    double slotDepthMm = 0; ///< of the slot below the face, on either side
    double blindEndMm = 0;  ///< of the slot, behind Joint::at
    double breakMm = 0;     ///< of the bar's edges
    double leadMm = 0;      ///< at its ends
    /// That the pieces can still turn either way about a place so far from its middle; radians.
    double play(double leverMm) const;
    double clearanceMm = 0;
};

/// BadArgument in words: no such size; a height or a length that makes no bar.
Result<ClockingLayout> clockingLayout(const Joint& joint);

/// Half the slot, a solid to take away; the same on both sides. BadArgument also for a slot that ends inside the piece.
Result<SideShape> clockingSide(const Joint& joint, const mesh::Plane& cut, bool above);

/// The bar.
Result<std::vector<JointPart>> clockingParts(const Joint& joint, const mesh::Plane& cut);

} // namespace quoin::core
