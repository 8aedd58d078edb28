// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_shape.h"

/// Dovetails: an undercut key on the face of one piece, and a groove in the other one that is open at the skin. The
/// carrier leaves along Joint::angle, straight and in the plane of the face; against everything else the flanks hold.
///
/// The key runs from Joint::at along Joint::angle for lengthMm. Its flanks lean by at most 30 degrees from upright, so
/// that they print without support, and leave it at least half as wide at the face as at its widest. It is widest
/// (diameterMm) in a short upright land below its top; above that its edges are broken. The end that enters first, at
/// Joint::at, is narrowed in plan as a lead-in, and so, for looks and safe handling, is the other.
/// The groove keeps clearanceMm square to the flanks, to the land and at its blind end, which is the stop, and
/// endClearanceMm over the top. Its sharp lips are chamfered; the key has a foot that fits into this chamfer.
namespace quoin::core {

/// Sizes across the key, mm. For shapes, room and strength.
struct DovetailLayout {
    double neckMm = 0;     ///< width at the face, without the foot
    double lean = 0;       ///< tangent of the angle between the flanks and the upright
    double landFromMm = 0; ///< height at which the widest width begins; up to landToMm
    double landToMm = 0;
    double footMm = 0;      ///< height of the foot
    double leadMm = 0;      ///< corners of the plan cut off by so much
    double slotDepthMm = 0; ///< of the groove
    double slotWidthMm = 0; ///< widest, of the groove; at its mouth, if that is more
};

/// BadArgument in words: no such size, a height or a length that makes no dovetail, a clearance that lets it out.
Result<DovetailLayout> dovetailLayout(const Joint& joint);

/// What a dovetail changes on one side: the key on its carrier, or the groove, a solid to take away.
/// @param outMm  how far from Joint::at, along Joint::angle, the groove goes on, until past the skin: more than
///               lengthMm. It is cut to there through whatever lies in its way.
Result<SideShape> dovetailSide(const Joint& joint, const mesh::Plane& cut, bool above, double outMm);

/// The unit vector along which the carrier leaves, and along the other way of which it is pushed in; part's frame.
mesh::Vec3 dovetailWay(const Joint& joint, const mesh::Plane& cut);

} // namespace quoin::core
