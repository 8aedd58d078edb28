// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/model_file.h"
#include "mesh/plane.h"

#include <QString>

#include <optional>

namespace quoin::ui {

/// A plane across one of the part's axes.
struct AxisPlane {
    int axis = 0;         ///< 0 x, 1 y, 2 z
    bool flipped = false; ///< above is the side of the lower coordinates
    double atMm = 0;      ///< the coordinate
};
/// None when the normal leans from every axis by more than a billionth.
std::optional<AxisPlane> axisPlaneOf(const mesh::Plane& plane);

/// A direction by two angles in degrees: turned about z from x towards y (-180 to 180), and raised from the level
/// (-90 to 90; 90 is straight up, where the turn means nothing and is 0).
struct Aim {
    double turnDegrees = 0, tiltDegrees = 0;
};
Aim aimOf(mesh::Vec3 normal);
/// Exact along the axes.
mesh::Vec3 normalOf(Aim aim);

/// "across z at 350.0 mm", "across z at 350.0 mm, flipped", "turned 30.0°, tilted 45.0°, at 120.0 mm"
QString planeWords(const mesh::Plane& plane, mesh::Unit unit = mesh::Unit::Millimetre);

/// What a box reaches along a direction (unit length), mm from the origin.
struct Reach {
    double leastMm = 0, mostMm = 0;
};
Reach reachOf(const mesh::Box3& box, mesh::Vec3 direction);

} // namespace quoin::ui
