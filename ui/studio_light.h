// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/vec3.h"

#include <array>

namespace quoin::ui {

/// A lamp so far away that its rays are parallel.
struct Lamp {
    mesh::Vec3 from; ///< in the camera's axes: right, up, towards the viewer; any length
    double strength;
};

/// Key light from the upper left, fill light from the right, back light from behind above; they go with the camera.
/// The window and the pictures of an export are lit alike.
inline constexpr std::array<Lamp, 3> studioLamps{
    {{{-0.9, 1.1, 1.3}, 0.70}, {{1.3, -0.5, 0.9}, 0.45}, {{0.3, 1.6, -1.0}, 0.40}}};

/// How surfaces answer the light: shares of their colour, and of white for the highlight.
inline constexpr double ambientShare = 0.34, diffuseShare = 0.78, specularShare = 0.10;
inline constexpr double specularPower = 18;

} // namespace quoin::ui
