// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_bolt.h"

/// What core/joint_bolt.cpp and core/bolt_layout.cpp share.
namespace quoin::core {

/// Chamfer of the bore in the face, mm.
inline constexpr double boltMouthChamferMm = 0.5;
/// Depth of the slots at the corners of a nut's pocket, mm.
inline constexpr double boltCornerReliefMm = 0.5;
/// Room below an insert for what melts, mm.
inline constexpr double insertMeltMm = 1;

/// Radius of the bore for the screw's end below an insert: clear of the thread, narrower than the insert.
double insertEndRadiusMm(const Joint& joint, const BoltLayout& layout);

} // namespace quoin::core
