// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/transform.h"
#include "ui/orbit_camera.h"

#include <array>

class vtkCamera;

namespace quoin::ui {

/// How far in front of the eye's plane a point is, mm.
double depthMm(const OrbitCamera& camera, mesh::Vec3 p);

/// Where the view is from; very far away when it is parallel.
mesh::Vec3 eyeOf(const OrbitCamera& camera);

/// The corners of a box, placed.
std::array<mesh::Vec3, 8> placedCorners(const mesh::Box3& box, const mesh::Transform& placement);

/// How far in front of the eye's plane a placed box begins, mm.
double nearestDepthMm(const OrbitCamera& camera, const mesh::Box3& box, const mesh::Transform& placement);

/// About how large a placed box is on the screen, across, in the widget's pixels; 0 when it is outside the view.
double sizePx(const OrbitCamera& camera, const mesh::Box3& box, const mesh::Transform& placement);

/// Moves things nearer to the viewer without moving them in the picture.
/// @param at  where they are, roughly. @param mm  how much nearer
mesh::Transform pulled(const OrbitCamera& camera, mesh::Vec3 at, double mm);

/// Gives VTK's camera the same view, with near and far planes about a scene's box. A parallel view, which has no
/// behind, is taken from far enough back.
/// @param roomMm  to be kept before the box for what is pulled out of it
void setCamera(vtkCamera& to, const OrbitCamera& from, const mesh::Box3& scene, double roomMm);

} // namespace quoin::ui
