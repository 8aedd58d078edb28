// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_shape.h"

/// Draw bolts: a socket head cap screw ISO 4762 with a washer ISO 7089 under its head in one piece pulls the other by a
/// hexagon nut ISO 4032 or a heat-set insert.
namespace quoin::core {

/// Where everything is along the axis, mm from the face, and radii; clearances included. For shapes, room and strength.
struct BoltLayout {
    double boreRadiusMm = 0;        ///< through both sides: ISO 273 medium, and the clearance
    double mouthRadiusMm = 0;       ///< the larger of both sides' openings in the face
    double counterboreRadiusMm = 0; ///< for washer and head
    double headMm = 0;              ///< from the face to the top of the head, on its side
    double lengthMm = 0;            ///< of the screw, from its head's underside: a length that is sold
    double endMm = 0;               ///< from the face to the screw's end, on the nut's side
    double boreEndMm = 0;           ///< bottom of what is bored for the end (insert, side nut)
    double nutFlatMm = 0;           ///< from the axis to a wall of the nut's pocket
    double nutCornerMm = 0;         ///< to the farthest corner of that pocket
    double nutFromMm = 0;           ///< the nut, or the insert, lies between these, on its side
    double nutToMm = 0;
    double insertRadiusMm = 0; ///< of the insert's bore
};

/// The screw is the shortest that is sold and engages the whole nut with two pitches past it, or the whole insert
/// (common practice, no source).
/// @return BadArgument in words: no such size; no insert of this size; a grip or a depth under half the diameter, or
///         less than the insert; a screw longer than any that is sold; a plain shank that reaches into the nut; ways
///         out that end before the seat or the nut
Result<BoltLayout> boltLayout(const Joint& joint);

/// Length of the screw; errors as boltLayout.
Result<double> boltLengthMm(const Joint& joint);

/// What a draw bolt changes on one side. Errors as boltLayout.
///
/// Head side (the carrier): one solid to take away: the bore with its chamfered mouth and the counterbore from the
/// seat at gripMm to headOutMm.
/// Far nut: the same with a hexagon pocket from depthMm to nutOutMm, two corners of it along Joint::angle; every corner
/// is relieved by a small slot, printed inner corners being round.
/// Side nut: a blind bore for the screw, and a slot to take away from the axis along Joint::angle to nutOutMm. The nut
/// bears on its flat wall towards the face; the opposite wall is a roof of 45 degrees up to a strip narrower than the
/// bore, so that the slot prints without support with the face down or the slot's way upright. Printed with the face
/// up, the flat wall is a bridge as wide as the nut.
/// Insert: a blind bore with a chamfer, 1 mm deeper than the insert for what melts, and a narrower one for the screw's
/// end.
Result<SideShape> boltSide(const Joint& joint, const mesh::Plane& cut, bool above);

/// Plain solids that stand for the screw, the washer and the nut, in their places and just not tight: washer and nut
/// stand clearanceMm off their seats, so that nothing touches. An insert isn't among them: it is one with the piece.
/// Errors as boltLayout.
Result<std::vector<mesh::Mesh>> boltInPlace(const Joint& joint, const mesh::Plane& cut);

/// Screw, washer, and nut or insert. Errors as boltLayout.
Result<std::vector<BoughtPart>> boltParts(const Joint& joint);

} // namespace quoin::core
