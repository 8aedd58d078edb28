// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint.h"

namespace quoin::core {

/// Bore of a dowel on one side of its cut, to be sunk into that side's face. Round for a bought rod, whatever else is
/// asked for (see core/joint_rod.h).
/// @param above  which side. The outline is given in the frame of that side's outward plane (see outwardPlane).
mesh::Recess dowelBore(const Joint& joint, const mesh::Plane& cut, bool above);

/// The plane of a cut, turned so that its normal points out of the material of the given side.
mesh::Plane outwardPlane(const mesh::Plane& cut, bool above);

/// The loose dowel in its assembled place. Chamfered ends; a flat along one side, to lie on while printing (layers
/// along the axis: strongest), to let air and glue out, and to key it.
mesh::Mesh dowelInPlace(const Joint& joint, const mesh::Plane& cut);

/// The rigid motion from the assembled place to lying on its flat, base at z = 0, centred, axis along x.
mesh::Transform dowelPrintPose(const Joint& joint, const mesh::Plane& cut);

} // namespace quoin::core
