// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/badge.h"
#include "ui/floor_shadow.h"
#include "ui/scene.h"
#include "ui/view_camera.h"

#include <string>
#include <vector>

namespace quoin::ui {

inline constexpr double badgeRadiusPx = 17;

/// A scene with everything decided: camera, yardsticks, badges. What is left is to draw it.
struct DrawnScene {
    const Scene* scene = nullptr;
    mesh::Box3 box;
    ViewCamera camera;
    mesh::Mesh person;
    mesh::Mesh rodLight, rodDark;
    SceneWord rodWord; ///< its length
    std::vector<Badge> badges;
    FloorShadow shadow; ///< no columns: none
};

/// The bytes of a PNG file. Opens and closes an off-screen context on the calling thread.
Result<std::string> pngOf(const DrawnScene& drawn);

} // namespace quoin::ui
