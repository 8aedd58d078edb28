// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/view_matrices.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace quoin::ui {

using mesh::Box3;
using mesh::Transform;
using mesh::Vec3;

namespace {

/// The near plane is at least this share of the far one's distance: what 24 bits of depth can bear.
constexpr double leastNearShare = 5e-4;
/// Room before and behind the scene, of its depth: neither rounding nor a pull towards the viewer cuts anything off.
constexpr double depthBorderShare = 0.05;
/// As good as endlessly far from any scene, and still exact enough to tell sides, mm.
constexpr double parallelEyeMm = 1e9;

std::array<Vec3, 8> cornersOf(const Box3& box)
{
    std::array<Vec3, 8> out{};
    for (std::size_t k = 0; k < 8; ++k)
        out[k] = {k & 1 ? box.max.x : box.min.x, k & 2 ? box.max.y : box.min.y, k & 4 ? box.max.z : box.min.z};
    return out;
}

Transform toViewOf(const OrbitCamera& camera)
{
    const Vec3 r = camera.right(), u = camera.up(), t = camera.towardsViewer(), e = camera.eye();
    Transform out;
    out.m = {r.x, r.y, r.z, -dot(r, e), u.x, u.y, u.z, -dot(u, e), t.x, t.y, t.z, -dot(t, e), 0, 0, 0, 1};
    return out;
}

} // namespace

ViewMatrices::ViewMatrices(const OrbitCamera& camera, const Box3& scene)
    : m_toView(toViewOf(camera)),
      m_eye(camera.parallel ? camera.target + parallelEyeMm * camera.towardsViewer() : camera.eye()),
      m_parallel(camera.parallel),
      m_heightPx(std::max(1, camera.heightPx))
{
    const double aspect = std::max(1, camera.widthPx) / m_heightPx;
    const double tanHalf = std::tan(camera.viewAngle / 2);
    m_scaleY = m_parallel ? 1 / (tanHalf * camera.distanceMm) : 1 / tanHalf;
    m_scaleX = m_scaleY / aspect;
    double nearest = camera.distanceMm, farthest = camera.distanceMm;
    if (!scene.empty()) {
        nearest = 1e300, farthest = -1e300;
        for (const Vec3 p : cornersOf(scene)) {
            nearest = std::min(nearest, depthMm(p));
            farthest = std::max(farthest, depthMm(p));
        }
    }
    const double border = depthBorderShare * std::max(farthest - nearest, 1e-3 * camera.distanceMm);
    m_nearMm = nearest - border;
    m_farMm = farthest + border;
    if (!m_parallel) {
        m_farMm = std::max(m_farMm, 1e-3 * camera.distanceMm);
        m_nearMm = std::max(m_nearMm, leastNearShare * m_farMm);
    }
}

std::array<float, 16> ViewMatrices::toClip(const Transform& placement, double pullMm) const
{
    const Transform v = m_toView * placement;
    const double range = m_farMm - m_nearMm;
    // Depth in the camera's axes is -z; z' = a z + b w, w' = 1 or -z.
    const double a = m_parallel ? -2 / range : -(m_farMm + m_nearMm) / range;
    const double b = m_parallel ? -(m_farMm + m_nearMm) / range : -2 * m_farMm * m_nearMm / range;
    std::array<float, 16> out{};
    for (std::size_t column = 0; column < 4; ++column) {
        const double w = column == 3 ? 1 : 0;
        const double x = v.m[column], y = v.m[4 + column], z = v.m[8 + column] + w * pullMm;
        out[4 * column] = static_cast<float>(m_scaleX * x);
        out[4 * column + 1] = static_cast<float>(-m_scaleY * y);
        out[4 * column + 2] = static_cast<float>(a * z + b * w);
        out[4 * column + 3] = static_cast<float>(m_parallel ? w : -z);
    }
    return out;
}

std::array<float, 9> ViewMatrices::normalToView(const Transform& placement) const
{
    const Transform v = m_toView * placement;
    const Vec3 x{v.m[0], v.m[4], v.m[8]}, y{v.m[1], v.m[5], v.m[9]}, z{v.m[2], v.m[6], v.m[10]};
    // The cofactors are the inverse transposed but for the determinant, whose sign matters.
    const double size = std::max(length(cross(y, z)), 1e-300), sign = dot(x, cross(y, z)) < 0 ? -1 : 1;
    std::array<float, 9> out{};
    std::size_t at = 0;
    for (const Vec3 column : {cross(y, z), cross(z, x), cross(x, y)})
        for (int row = 0; row < 3; ++row)
            out[at++] = static_cast<float>(sign / size * column[row]);
    return out;
}

bool ViewMatrices::reachesNearPlane(const Box3& box, const Transform& placement) const
{
    if (box.empty())
        return false;
    // The nearest depth of the box is what decides whether it can be cut; a parallel view never is from inside.
    double nearest = std::numeric_limits<double>::infinity();
    for (const Vec3 corner : cornersOf(box))
        nearest = std::min(nearest, depthMm(placement.point(corner)));
    return nearest <= m_nearMm;
}

double ViewMatrices::sizePx(const Box3& box, const Transform& placement) const
{
    if (box.empty())
        return 0;
    const Transform v = m_toView * placement;
    std::array<int, 5> outside{}; // corners beyond the left, right, lower and upper side, and nearer than the eye
    Vec3 low{1e300, 1e300, 0}, high{-1e300, -1e300, 0};
    for (const Vec3 corner : cornersOf(box)) {
        const Vec3 p = v.point(corner);
        const double w = m_parallel ? 1 : -p.z, x = m_scaleX * p.x, y = m_scaleY * p.y;
        outside[0] += x < -w ? 1 : 0;
        outside[1] += x > w ? 1 : 0;
        outside[2] += y < -w ? 1 : 0;
        outside[3] += y > w ? 1 : 0;
        outside[4] += -p.z < m_nearMm ? 1 : 0;
        const double depth = m_parallel ? 1 : std::max(w, m_nearMm);
        low = {std::min(low.x, p.x / depth), std::min(low.y, p.y / depth), 0};
        high = {std::max(high.x, p.x / depth), std::max(high.y, p.y / depth), 0};
    }
    if (std::ranges::any_of(outside, [](int n) { return n == 8; }))
        return 0;
    const double mm = std::hypot(high.x - low.x, high.y - low.y);
    return std::clamp(m_scaleY * mm * m_heightPx / 2, 1e-3, 4 * m_heightPx);
}

} // namespace quoin::ui
