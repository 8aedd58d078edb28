// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_shape.h"

/// Keys: not round, so that one of them holds the angle of two pieces. A D or a cross fits in one way only; a square
/// fits in four, a quarter of a turn apart, and leaves it to the mark to say which (a tapered loose one, whose side
/// towards Joint::angle isn't tapered, in one). The sections, all inscribed in the circle of diameterMm at the face:
///   square  side 0.707 d
///   D       a flat at 0.3 d from the axis, its normal along Joint::angle
///   cross   arms 0.36 d wide, one of them along Joint::angle; the one opposite to that 0.24 d, to tell them apart
///
/// Corners never bind, printed ones being round: the outer edges of the key are broken, by twice as much as those of
/// the pocket; at the inner corners of a cross it is the other way round. So corners keep more than the clearance,
/// flanks exactly the clearance, square to the surface, tapered ones as well. The mouth of the pocket is chamfered, an
/// integral key has a foot that fits into this chamfer, the ends have a lead-in.
///
/// A loose key is printed lying (layers along the axis, strongest) on the side towards Joint::angle; a cross lies on
/// two broken edges, its arms at 45 degrees, so that nothing overhangs. What it lies on has no taper.
namespace quoin::core {

/// What a key changes on one side: a pocket, or, of an integral key on its carrier, the key itself.
/// BadArgument in words: no such size, a taper or a clearance that leaves no section.
Result<SideShape> keySide(const Joint& joint, const mesh::Plane& cut, bool above);

/// The loose key; none for an integral one. Errors as above.
Result<std::vector<JointPart>> keyParts(const Joint& joint, const mesh::Plane& cut);

/// The section of a key at the face, about the joint's place, in the frame of the cut's plane; counter-clockwise. Empty
/// for sizes that make none.
mesh::Loop keySection(const Joint& joint);

/// Nothing of a key or its pockets is farther from the axis than this, mm: radius, clearance and the 0.4 mm chamfer of
/// the mouth, up to some hundredths more for a D. Zero for sizes that make none.
double keyReachMm(const Joint& joint);

} // namespace quoin::core
