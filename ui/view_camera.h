// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/vec3.h"

#include <vector>

namespace quoin::ui {

/// Share of the picture's half width or height kept free on each side, for captions and badges.
struct Margins {
    double left = 0.06, right = 0.06, top = 0.07, bottom = 0.14;
};

/// Where a point of the scene appears: pixels from the bottom left, and mm in front of the eye.
struct Seen {
    double x, y, depthMm;
};

/// A camera with mild perspective, upright (z up).
struct ViewCamera {
    mesh::Vec3 eye{0, 0, 0};
    mesh::Vec3 right{1, 0, 0}, up{0, 0, 1}, back{0, -1, 0}; ///< unit vectors; `back` points to the viewer
    double tanHalfHeight = 0.15;
    int widthPx = 1600, heightPx = 1200;

    double tanHalfWidth() const { return tanHalfHeight * widthPx / heightPx; }
    Seen project(mesh::Vec3 p) const;
};

/// Height of the view, degrees: about a 120 mm lens on a small camera; straight things stay nearly parallel.
inline constexpr double viewAngleDegrees = 17;

/// The camera nearest to the points that sees them all inside the margins, looking from a given direction. Closed
/// form: each side of the picture is a plane through the eye, and the farthest point on each side decides.
/// @param towardsViewer  any length; straight up and down are allowed
ViewCamera fittedCamera(const std::vector<mesh::Vec3>& points, mesh::Vec3 towardsViewer, int widthPx, int heightPx,
                        const Margins& margins = {});

} // namespace quoin::ui
