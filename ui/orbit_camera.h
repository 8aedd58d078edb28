// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/vec3.h"

#include <optional>

namespace quoin::ui {

/// A place on the widget, in its own (device-independent) pixels from the top left.
struct ScreenPoint {
    double x = 0, y = 0;
};

/// A ray into the scene: unit direction, mm.
struct ViewRay {
    mesh::Vec3 origin, direction;
};

/// Views that drawings have names for (ISO 128-3): looking at the front is looking along +y, z up.
enum class StandardView { Front, Back, Left, Right, Top, Bottom, Isometric };

/// A camera that turns about a point, z kept upright. A plain value: the view, the drawing thread and the overlay each
/// hold a copy, so that what is drawn over a picture fits that picture.
struct OrbitCamera {
    mesh::Vec3 target{0, 0, 0};        ///< what it turns about, mm
    double azimuth = -1.0;             ///< radians about z; 0 stands on the +x side
    double elevation = 0.45;           ///< radians above the floor, -pi/2 to pi/2
    double distanceMm = 1000;          ///< from the eye to the target
    double viewAngle = 0.45;           ///< radians, height of the view in perspective
    bool parallel = false;             ///< same height at the target as the perspective has there
    int widthPx = 800, heightPx = 600; ///< of the widget

    mesh::Vec3 eye() const;
    mesh::Vec3 towardsViewer() const; ///< unit
    mesh::Vec3 right() const;         ///< unit
    mesh::Vec3 up() const;            ///< unit
    /// The middle of the widget.
    ScreenPoint middle() const { return {widthPx / 2.0, heightPx / 2.0}; }
    /// mm that a pixel covers at a point's depth.
    double mmPerPixel(mesh::Vec3 at) const;

    /// Where a point appears; none when it is behind the eye (a parallel view has no behind).
    std::optional<ScreenPoint> project(mesh::Vec3 p) const;
    ViewRay rayThrough(ScreenPoint p) const;

    /// Turned by a drag, as if a globe half as high as the widget were rolled; never past straight up or down.
    OrbitCamera turned(double dxPx, double dyPx) const;
    /// The same about a point that stays where it is seen, as far from the eye as it was.
    OrbitCamera turnedAbout(double dxPx, double dyPx, mesh::Vec3 pivot) const;
    /// Looking from other angles (radians), a point staying where it is seen.
    OrbitCamera keeping(mesh::Vec3 pivot, double newAzimuth, double newElevation) const;
    /// Moved so that the point `grabbed` of the scene stays under the pointer.
    OrbitCamera panned(ScreenPoint from, ScreenPoint to, mesh::Vec3 grabbed) const;
    /// Nearer (factor < 1) or farther, the scene under `at` staying where it is; `under` is what is seen there.
    OrbitCamera zoomed(double factor, ScreenPoint at, mesh::Vec3 under) const;
    OrbitCamera looking(StandardView view) const;
    /// Target and distance so that a box fills the view, a border (4 % of each side) left free; direction kept. An
    /// empty box changes nothing.
    OrbitCamera fittedTo(const mesh::Box3& box) const;

    friend bool operator==(const OrbitCamera&, const OrbitCamera&);
};

/// Between two cameras, t from 0 to 1, the short way round: for a view that glides instead of jumping.
OrbitCamera between(const OrbitCamera& a, const OrbitCamera& b, double t);

} // namespace quoin::ui
