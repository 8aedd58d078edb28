// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_ground.h"

/// What lies along a face and opens to the outside, chosen for one face. What is chosen keeps every rule.
namespace quoin::core {

/// A clocking key for a screw, a stud or another joint that its pieces could turn about: let in from the outside,
/// square in section, about a fifth of the screw's diameter wide and four times as long as wide at most, where its
/// lever and its length together are largest (common practice, no source).
/// @param ground  with `centre` put
Chosen clockingKey(const JointGround& ground, std::size_t seam, const Joint& centre);

/// A dovetail along the face's longer way, for pieces that can slide along it past all others: about four tenths of the
/// narrower width wide, as long as there is room for, its open end at the skin (common practice, no source).
Chosen slidingDovetail(const JointGround& ground, std::size_t seam);

} // namespace quoin::core
