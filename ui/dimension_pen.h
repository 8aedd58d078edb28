// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/overlay_pen.h"

namespace quoin::ui {

/// Dimensions as ISO 129-1 draws them: extension lines, a dimension line with closed arrow heads, the number over the
/// line, readable from below or from the right. All in pixels of the view, places in the scene's frame.

/// Between two points. Short ones have their arrows outside.
void paintDistance(QPainter& painter, const OrbitCamera& camera, mesh::Vec3 a, mesh::Vec3 b, const QString& text);
/// At a corner between the ways to a and b.
void paintAngle(QPainter& painter, const OrbitCamera& camera, mesh::Vec3 a, mesh::Vec3 corner, mesh::Vec3 b,
                const QString& text);
/// A circle, its middle, and an arrow from there to the round at the place nearest to `towards`.
void paintRadius(QPainter& painter, const OrbitCamera& camera, mesh::Vec3 centre, mesh::Vec3 axis, double radiusMm,
                 mesh::Vec3 towards, const QString& text);
/// A centre line (long and short dashes, ISO 128-2) through a point along an axis.
void paintCentreLine(QPainter& painter, const OrbitCamera& camera, mesh::Vec3 centre, mesh::Vec3 axis, double halfMm);
/// Two faces by their outward normals, joined by a dashed line with the text.
void paintFaceAngle(QPainter& painter, const OrbitCamera& camera, mesh::Vec3 a, mesh::Vec3 normalA, mesh::Vec3 b,
                    mesh::Vec3 normalB, const QString& text);

/// The points of a circle in space, first repeated at the end.
std::vector<mesh::Vec3> circlePoints(mesh::Vec3 centre, mesh::Vec3 axis, double radiusMm, int sides = 64);

} // namespace quoin::ui
