// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_ground.h"

namespace quoin::core {

/// Draw bolts towards the corners of a face, heads sunk where a key gets at them, and two dowels (or one joint that
/// holds the angle) to locate the pieces while they are drawn together. With inserts in the other piece; where those
/// are not made so large, or have no room, with nuts from the far side. Why not, in the text, where no head is in
/// reach.
Chosen cornerBolts(const JointGround& ground, std::size_t seam, const std::vector<JointSite>& sites);

} // namespace quoin::core
