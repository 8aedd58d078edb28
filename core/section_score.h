// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/plane.h"

namespace quoin::core {

/// How good a face is to join by. A dowel wants its radius and a wall to every edge, two of them want to stand apart.
struct SectionScore {
    int islands = 0;
    int withoutRoom = 0; ///< islands that don't take two dowels of roomDowelMm with a wall of roomWallMm
    double areaMm2 = 0;

    /// Fewer islands without room first, then fewer islands, then less area.
    friend bool operator<(const SectionScore& a, const SectionScore& b);
};

inline constexpr double roomDowelMm = 6;
inline constexpr double roomWallMm = 2.4;

/// Scores the face that a cut makes.
SectionScore scoreOf(const mesh::Region& section);

/// Whether one island of a face takes two dowels, apart by 2.5 diameters, with a wall all round.
bool hasRoomForTwo(const mesh::Region& island);

} // namespace quoin::core
