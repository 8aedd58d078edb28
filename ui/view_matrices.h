// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/transform.h"
#include "ui/orbit_camera.h"

#include <array>

namespace quoin::ui {

/// What a camera means to a graphics card, for scenes within a box. Computed in double precision and only then
/// rounded, so that a small part far from the origin doesn't tremble.
class ViewMatrices {
public:
    ViewMatrices(const OrbitCamera& camera, const mesh::Box3& scene);

    /// To OpenGL's clip space, column-major, y downwards: read back, the first row of the picture is its top.
    /// @param pullMm  how much nearer to the viewer than it is
    std::array<float, 16> toClip(const mesh::Transform& placement, double pullMm = 0) const;
    /// For directions across surfaces, to the camera's axes, column-major; not of unit length.
    std::array<float, 9> normalToView(const mesh::Transform& placement) const;

    /// How large a placed box is on the screen, across, in pixels; 0 when it is outside the view.
    double sizePx(const mesh::Box3& box, const mesh::Transform& placement) const;
    /// Whether a placed box is so near, or the eye within it, that the near plane may cut into it.
    bool reachesNearPlane(const mesh::Box3& box, const mesh::Transform& placement) const;
    /// Where the view is from; very far away when it is parallel.
    mesh::Vec3 eye() const { return m_eye; }
    /// How far in front of the eye's plane a point is, mm.
    double depthMm(mesh::Vec3 p) const { return -m_toView.point(p).z; }

private:
    mesh::Transform m_toView; ///< camera's axes: right, up, towards the viewer; the eye is the origin
    mesh::Vec3 m_eye;
    bool m_parallel;
    double m_scaleX = 1, m_scaleY = 1; ///< of the projection
    double m_nearMm = 1, m_farMm = 2;
    double m_heightPx;
};

} // namespace quoin::ui
