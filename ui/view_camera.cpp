// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/view_camera.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace quoin::ui {

using mesh::Vec3;

Seen ViewCamera::project(Vec3 p) const
{
    const Vec3 d = p - eye;
    const double depth = -dot(d, back);
    return {widthPx / 2.0 * (1 + dot(d, right) / (depth * tanHalfWidth())),
            heightPx / 2.0 * (1 + dot(d, up) / (depth * tanHalfHeight)), depth};
}

ViewCamera fittedCamera(const std::vector<Vec3>& points, Vec3 towardsViewer, int widthPx, int heightPx,
                        const Margins& margins)
{
    ViewCamera camera;
    camera.widthPx = widthPx;
    camera.heightPx = heightPx;
    camera.tanHalfHeight = std::tan(viewAngleDegrees / 2 * std::numbers::pi / 180);
    camera.back = normalized(towardsViewer);
    const Vec3 sideways = cross(Vec3{0, 0, 1}, camera.back);
    camera.right = length(sideways) > 1e-6 ? normalized(sideways) : Vec3{1, 0, 0};
    camera.up = cross(camera.back, camera.right);

    if (points.empty())
        return camera;
    const double tanRight = camera.tanHalfWidth() * (1 - margins.right),
                 tanLeft = camera.tanHalfWidth() * (1 - margins.left);
    const double tanTop = camera.tanHalfHeight * (1 - margins.top),
                 tanBottom = camera.tanHalfHeight * (1 - margins.bottom);
    // In the camera's own axes (x right, y up, z back) a point is seen when -tanLeft <= (x - ex) / (ez - z) <=
    // tanRight.
    constexpr double none = -std::numeric_limits<double>::infinity();
    double right = none, left = none, top = none, bottom = none, nearest = none;
    for (const Vec3 p : points) {
        const double x = dot(p, camera.right), y = dot(p, camera.up), z = dot(p, camera.back);
        right = std::max(right, x + tanRight * z);
        left = std::max(left, tanLeft * z - x);
        top = std::max(top, y + tanTop * z);
        bottom = std::max(bottom, tanBottom * z - y);
        nearest = std::max(nearest, z);
    }
    const double back =
        std::max({(right + left) / (tanRight + tanLeft), (top + bottom) / (tanTop + tanBottom), nearest + 1});
    const double x = ((right - tanRight * back) + (tanLeft * back - left)) / 2;
    const double y = ((top - tanTop * back) + (tanBottom * back - bottom)) / 2;
    camera.eye = x * camera.right + y * camera.up + back * camera.back;
    return camera;
}

} // namespace quoin::ui
