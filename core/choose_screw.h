// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_ground.h"

namespace quoin::core {

/// Faces at least this wide (the largest circle in them) ask for a screw, or for draw bolts (common practice, no
/// source: below that dowels and glue hold a printed piece).
inline constexpr double bigFaceMm = 85;

/// One printed screw (or loose stud) in the middle of a face whose pieces can turn; why not, in the text, where they
/// can't, or where it has no room. Nominal diameter about four tenths of the face's width, from the sizes of the
/// printable thread, or of ISO 2902; reach most of a diameter. The piece carries it that has the face more upward while
/// it is printed, else the one above.
/// @param kind  Screw or Stud
/// @param onBedsOnly  a stud is grown on no piece whose pose on its bed would have no room for it
Chosen centreScrew(const JointGround& ground, std::size_t seam, JointForm::Kind kind, bool onBedsOnly = false);

/// Places in the middle of a face, the best first: its centroid and its roomiest places.
std::vector<mesh::Vec2> middlePlaces(const Seam& seam);

} // namespace quoin::core
