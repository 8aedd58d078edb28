// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_shape.h"
#include "core/thread_mesh.h"

namespace quoin::core {

/// Screws grown on a piece, and loose studs with a thread at either end.
///
/// Phase: the thread starts where Joint::angle points, in the stud and in the bore, so that the faces touch just when
/// the two pieces stand at their designed angle. Both halves of a stud have the same lead and hand and start at the
/// same angle: however deep it sits in the one piece, the other comes to rest at the same angle.

/// The stud and the bore of a screw, or one half of a loose stud and its bore, in the frame of core/thread_mesh.h.
ThreadedShape threadedShapeOf(const Joint& joint);

/// Takes that frame to the part's: z = 0 onto the cut, +z into the side above or below, +x along Joint::angle.
mesh::Transform threadPlace(const Joint& joint, const mesh::Plane& cut, bool intoAbove);

/// One side. Problems are those of threadLayout.
Result<SideShape> threadSide(const Joint& joint, const mesh::Plane& cut, bool above);

/// The loose stud; nothing for a screw. It is printed upright: its flanks need no support that way, and threads across
/// the layers would be rough.
Result<std::vector<JointPart>> threadParts(const Joint& joint, const mesh::Plane& cut);

} // namespace quoin::core
