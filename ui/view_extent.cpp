// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/view_extent.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <vtkCamera.h>

namespace quoin::ui {

using mesh::Box3;
using mesh::Transform;
using mesh::Vec3;

namespace {

/// The near plane is at least this share of the far one's distance: what 24 bits of depth can bear.
constexpr double leastNearShare = 5e-4;
/// Room before and behind the scene, of its depth: rounding cuts nothing off.
constexpr double depthBorderShare = 0.05;

/// As good as endlessly far from any scene, and still exact enough to tell sides, mm.
constexpr double parallelEyeMm = 1e9;

} // namespace

double depthMm(const OrbitCamera& camera, Vec3 p)
{
    return dot(camera.eye() - p, camera.towardsViewer());
}

Vec3 eyeOf(const OrbitCamera& camera)
{
    return camera.parallel ? camera.target + parallelEyeMm * camera.towardsViewer() : camera.eye();
}

double nearestDepthMm(const OrbitCamera& camera, const Box3& box, const Transform& placement)
{
    double nearest = std::numeric_limits<double>::infinity();
    for (const Vec3 p : placedCorners(box, placement))
        nearest = std::min(nearest, depthMm(camera, p));
    return nearest;
}

std::array<Vec3, 8> placedCorners(const Box3& box, const Transform& placement)
{
    std::array<Vec3, 8> out{};
    for (std::size_t k = 0; k < 8; ++k)
        out[k] = placement.point(
            {k & 1 ? box.max.x : box.min.x, k & 2 ? box.max.y : box.min.y, k & 4 ? box.max.z : box.min.z});
    return out;
}

double sizePx(const OrbitCamera& camera, const Box3& box, const Transform& placement)
{
    if (box.empty())
        return 0;
    const Vec3 right = camera.right(), up = camera.up(), eye = camera.eye();
    const double tanY = std::tan(camera.viewAngle / 2), heightPx = std::max(1, camera.heightPx),
                 tanX = tanY * std::max(1, camera.widthPx) / heightPx;
    std::array<int, 5> outside{}; // corners beyond the left, right, lower and upper side, and behind the eye
    Vec3 low{1e300, 1e300, 0}, high{-1e300, -1e300, 0};
    for (const Vec3 p : placedCorners(box, placement)) {
        const double w = camera.parallel ? camera.distanceMm : depthMm(camera, p);
        const double x = dot(p - eye, right), y = dot(p - eye, up);
        outside[0] += x < -w * tanX ? 1 : 0;
        outside[1] += x > w * tanX ? 1 : 0;
        outside[2] += y < -w * tanY ? 1 : 0;
        outside[3] += y > w * tanY ? 1 : 0;
        outside[4] += w <= 0 ? 1 : 0;
        const double depth = std::max(w, 1e-3 * camera.distanceMm);
        low = {std::min(low.x, x / depth), std::min(low.y, y / depth), 0};
        high = {std::max(high.x, x / depth), std::max(high.y, y / depth), 0};
    }
    if (std::ranges::any_of(outside, [](int n) { return n == 8; }))
        return 0;
    return std::clamp(std::hypot(high.x - low.x, high.y - low.y) / tanY * heightPx / 2, 1e-3, 4 * heightPx);
}

Transform pulled(const OrbitCamera& camera, Vec3 at, double mm)
{
    if (camera.parallel)
        return Transform::translation(mm * camera.towardsViewer());
    constexpr double leastShare = 0.5; // of the distance: something so near is pulled less
    const Vec3 eye = camera.eye();
    const double scale = std::max(leastShare, 1 - mm / std::max(length(at - eye), 1e-6));
    return Transform::translation(eye) * Transform::scaling(scale) * Transform::translation(-1.0 * eye);
}

void setCamera(vtkCamera& to, const OrbitCamera& from, const Box3& scene, double roomMm)
{
    const Vec3 back = from.towardsViewer(), up = from.up();
    double nearest = from.distanceMm, farthest = from.distanceMm;
    if (!scene.empty()) {
        nearest = 1e300, farthest = -1e300;
        for (const Vec3 p : placedCorners(scene, {})) {
            nearest = std::min(nearest, depthMm(from, p));
            farthest = std::max(farthest, depthMm(from, p));
        }
    }
    const double border = depthBorderShare * std::max(farthest - nearest, 1e-3 * from.distanceMm);
    nearest -= border + roomMm;
    farthest += border;
    double retreat = 0;
    if (from.parallel) {
        retreat = std::max(0.0, (farthest - nearest) - nearest);
    } else {
        farthest = std::max(farthest, 1e-3 * from.distanceMm);
        nearest = std::max(nearest, leastNearShare * farthest);
    }
    const Vec3 eye = from.eye() + retreat * back;
    to.SetParallelProjection(from.parallel);
    to.SetViewAngle(from.viewAngle * 180 / std::numbers::pi);
    to.SetParallelScale(std::tan(from.viewAngle / 2) * from.distanceMm);
    to.SetPosition(eye.x, eye.y, eye.z);
    to.SetFocalPoint(eye.x - back.x, eye.y - back.y, eye.z - back.z);
    to.SetViewUp(up.x, up.y, up.z);
    to.SetClippingRange(nearest + retreat, farthest + retreat);
}

} // namespace quoin::ui
