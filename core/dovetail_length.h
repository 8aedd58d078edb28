// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint.h"
#include "mesh/region.h"

namespace quoin::core {

/// How long a dovetail can be from its place along its angle and stay on its face with its wall kept all round: its own
/// length at most, in steps of half a millimetre, and 1 mm at least.
/// @param face  frame of the cut's plane
double dovetailLengthOn(const mesh::Region& face, const JointForm& dovetail, double wallMm);

/// A joint to begin with, as it can stand on a face: a dovetail is shortened to it, a clocking
/// key runs all the way to the skin; others are as they were, and all
/// are where the face isn't known (empty).
JointForm keptOn(const mesh::Region& face, JointForm form, double wallMm);

} // namespace quoin::core
