// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "ui/view_camera.h"

#include <cstdint>
#include <vector>

namespace quoin::ui {

/// Which solid is seen where: a coarse picture of numbers, drawn with a depth buffer of its own, so that labels can be
/// placed without asking the graphics card back.
struct VisibleMap {
    int width = 0, height = 0;
    double pixelsPerCell = 1;        ///< of the picture that the camera makes
    std::vector<std::uint32_t> item; ///< row by row from the bottom left; 0 nothing, else index + 1
};

struct PlacedMesh {
    const mesh::Mesh* mesh = nullptr;
    mesh::Transform placement;
};

VisibleMap visibleMap(const std::vector<PlacedMesh>& items, const ViewCamera& camera, int pixelsPerCell = 4);

/// A round badge with a number in it, and what it points at; pixels from the bottom left.
struct Badge {
    std::size_t item = 0;
    double x = 0, y = 0;             ///< middle of the badge
    double anchorX = 0, anchorY = 0; ///< the place on the solid; the same when the badge lies on it
    bool leader = false;             ///< whether a line should join the two
};

/// One badge for each wanted solid that can be seen: on the solid, as far from its visible outline as can be, when
/// there is room; else beside it with a leader line. Badges don't overlap each other while there is room in the
/// picture. Deterministic.
std::vector<Badge> placeBadges(const VisibleMap& map, const std::vector<std::size_t>& wanted, double radiusPx);

} // namespace quoin::ui
