// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint.h"
#include "core/joint_room.h"

#include <optional>

namespace quoin::core {

/// Texts for the two sides of a seam: own number, the other's number, mating mark ("3-5 B" on piece 3, "5-3 B" on
/// piece 5); fewer parts when short is 1 ("3 B") or 2 ("B").
std::pair<std::string, std::string> markTexts(const Seam& seam, int shortness);

/// The recesses of a mark on one side, in the frame of that side's outward plane; readable from outside. One recess
/// a letter stroke group.
std::vector<mesh::Recess> markRecesses(const Mark& mark, const mesh::Plane& cut, bool above);

/// Finds the largest place for a seam's mark: inside the seam, clear of bores, with a wall under it on both sides.
/// @param taken  capsules of the pieces below and above
std::optional<Mark> placeMark(std::size_t seamIndex, const Seam& seam, const CutPlan& plan, const JointRoom& room,
                              const std::vector<Capsule>& taken);

} // namespace quoin::core
