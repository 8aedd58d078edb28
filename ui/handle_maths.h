// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/plane.h"
#include "ui/orbit_camera.h"

#include <optional>
#include <string>
#include <vector>

/// What dragging a handle in the view means in space: all of it without a window.
namespace quoin::ui {

/// Distance along a line (unit direction, from `origin`, mm) of its point nearest to a ray. None when the two are so
/// nearly parallel that a pixel would be a leap.
std::optional<double> alongLine(const ViewRay& ray, mesh::Vec3 origin, mesh::Vec3 direction);

/// Whether a direction at a place is seen so nearly end on that dragging along it on the screen means nothing.
bool seenEndOn(const OrbitCamera& camera, mesh::Vec3 place, mesh::Vec3 direction);

/// How far a drag from one pixel to another moves a thing along a line, mm: its point nearest to the pointer. Seen end
/// on, dragging up moves it by as much as the pixels cover at its depth, towards the viewer. None where the pointer
/// says nothing (past the vanishing point of the line): keep what was.
std::optional<double> draggedAlong(const OrbitCamera& camera, mesh::Vec3 origin, mesh::Vec3 direction, ScreenPoint from,
                                   ScreenPoint to);

/// How far a drag turns a thing on a ring, radians from -pi to pi, right-handed about the axis: by where the pointer
/// meets the ring's plane; or, when the ring is seen edge on, as the near side of a wheel is rolled.
/// @param radiusMm  of the ring
std::optional<double> draggedRound(const OrbitCamera& camera, mesh::Vec3 centre, mesh::Vec3 axis, double radiusMm,
                                   ScreenPoint from, ScreenPoint to);

/// A place where a value likes to stop.
struct NamedOffset {
    double offsetMm = 0;
    std::string name; ///< "middle", "flat face", "bed 220 mm"
};
struct NamedNormal {
    mesh::Vec3 normal{0, 0, 1}; ///< unit; its opposite counts too
    std::string name;           ///< "x", "flat face"
};

/// What snapping made of a value: the name of what it snapped to; empty when it is free.
struct SnappedOffset {
    double offsetMm = 0;
    std::string name;
};
struct SnappedNormal {
    mesh::Vec3 normal{0, 0, 1};
    std::string name;
};

/// The nearest of the named offsets within reachMm, else the nearest multiple of stepMm (none when it is 0).
SnappedOffset snappedOffset(double offsetMm, const std::vector<NamedOffset>& named, double reachMm, double stepMm);

/// A normal turned about an axis, snapped: to a named normal within reach, else to a mark: multiples of 15 degrees from
/// the vertical as seen along the axis (from +x, when the axis is vertical), with 45 and 90 reaching twice as far.
/// @param normal  unit, at a right angle to the axis
/// @param marks   whether the marks count
SnappedNormal snappedNormal(mesh::Vec3 normal, mesh::Vec3 axis, const std::vector<NamedNormal>& named,
                            double reachRadians, bool marks = true);

/// The plane turned about an axis (unit) through a point of it, right-handed, radians. The point stays on it.
mesh::Plane tilted(const mesh::Plane& plane, mesh::Vec3 centre, mesh::Vec3 axis, double radians);

/// How a plane stands: degrees between its normal and the vertical (0 to 180), and the way that the normal leans,
/// degrees from +x, counter-clockwise seen from above (0 when it doesn't lean).
struct PlaneAngles {
    double tiltDegrees = 0, bearingDegrees = 0;
};
PlaneAngles anglesOf(const mesh::Plane& plane);

/// Distance from a pixel to a line of pixels, px; infinity when it has no points.
double distancePx(ScreenPoint p, const std::vector<ScreenPoint>& line);

} // namespace quoin::ui
