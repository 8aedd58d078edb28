// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/badge.h"

#include <cstdint>
#include <vector>

namespace quoin::ui {

/// A soft shadow on the floor: what stands low darkens the floor more than what hangs high. Not a light's shadow but
/// the shade under a thing on a cloudy day, blurred.
struct FloorShadow {
    mesh::Vec3 corner{0, 0, 0};      ///< of cell (0, 0), mm; on the floor
    double widthMm = 0, depthMm = 0; ///< along x and y
    int columns = 0, rows = 0;
    std::vector<std::uint8_t> darkness; ///< row by row, 0 none, 255 full; fades to 0 at the border
};

/// @param box  of all items, in the scene's frame; its floor is the shadow's
FloorShadow floorShadow(const std::vector<PlacedMesh>& items, const mesh::Box3& box);

} // namespace quoin::ui
