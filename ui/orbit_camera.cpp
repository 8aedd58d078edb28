// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/orbit_camera.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace quoin::ui {

using mesh::Vec3;

namespace {

constexpr double pi = std::numbers::pi;
/// Share of half the view's width or height left free on each side when a box is fitted.
constexpr double fitBorderShare = 0.08;
/// Nearest and farthest that one can go, mm: a hundredth of a printed line, and ten kilometres.
constexpr double nearestMm = 0.01, farthestMm = 1e7;
/// Points nearer to the eye than this count as behind it, mm.
constexpr double leastDepthMm = 1e-6;
/// A parallel view has no eye: its rays begin this far back, mm, so that nothing is missed.
constexpr double parallelRetreatMm = 1e6;
/// What is smaller than this is fitted as if it were this large, mm.
constexpr double leastFitMm = 1;

double tanHalf(const OrbitCamera& c)
{
    return std::tan(c.viewAngle / 2);
}
double widthOf(const OrbitCamera& c)
{
    return std::max(1, c.widthPx);
}
double heightOf(const OrbitCamera& c)
{
    return std::max(1, c.heightPx);
}

/// Half of a widget's side, with the border left free, seen as the tangent of an angle.
struct FreeTangents {
    double x, y;
};

FreeTangents freeTangents(const OrbitCamera& c)
{
    const double y = tanHalf(c) * (1 - fitBorderShare);
    return {y * widthOf(c) / heightOf(c), y};
}

/// Extremes of a box in the camera's own axes: right, up, back.
mesh::Box3 inCameraAxes(const OrbitCamera& c, const mesh::Box3& box)
{
    mesh::Box3 seen;
    const Vec3 right = c.right(), up = c.up(), back = c.towardsViewer();
    for (int k = 0; k < 8; ++k) {
        const Vec3 p{k & 1 ? box.max.x : box.min.x, k & 2 ? box.max.y : box.min.y, k & 4 ? box.max.z : box.min.z};
        seen.add({dot(p, right), dot(p, up), dot(p, back)});
    }
    return seen;
}

/// The eye nearest to a box that sees it all, in the camera's axes. Closed form: each side of the view is a plane
/// through the eye, and the farthest corner on each side decides.
Vec3 fittedEye(const OrbitCamera& c, const mesh::Box3& box)
{
    constexpr double none = -std::numeric_limits<double>::infinity();
    const auto tangent = freeTangents(c);
    double right = none, left = none, top = none, bottom = none, nearest = none;
    for (int k = 0; k < 8; ++k) {
        const Vec3 p{k & 1 ? box.max.x : box.min.x, k & 2 ? box.max.y : box.min.y, k & 4 ? box.max.z : box.min.z};
        const double x = dot(p, c.right()), y = dot(p, c.up()), z = dot(p, c.towardsViewer());
        right = std::max(right, x + tangent.x * z);
        left = std::max(left, tangent.x * z - x);
        top = std::max(top, y + tangent.y * z);
        bottom = std::max(bottom, tangent.y * z - y);
        nearest = std::max(nearest, z);
    }
    const double back = std::max({(right + left) / (2 * tangent.x), (top + bottom) / (2 * tangent.y), nearest + 1});
    return {(right - left) / 2, (top - bottom) / 2, back};
}

} // namespace

Vec3 OrbitCamera::towardsViewer() const
{
    return {std::cos(elevation) * std::cos(azimuth), std::cos(elevation) * std::sin(azimuth), std::sin(elevation)};
}

Vec3 OrbitCamera::eye() const
{
    return target + distanceMm * towardsViewer();
}

Vec3 OrbitCamera::right() const
{
    return {-std::sin(azimuth), std::cos(azimuth), 0};
}

Vec3 OrbitCamera::up() const
{
    return {-std::sin(elevation) * std::cos(azimuth), -std::sin(elevation) * std::sin(azimuth), std::cos(elevation)};
}

double OrbitCamera::mmPerPixel(Vec3 at) const
{
    const double depth = parallel ? distanceMm : std::max(leastDepthMm, dot(eye() - at, towardsViewer()));
    return 2 * tanHalf(*this) * depth / heightOf(*this);
}

std::optional<ScreenPoint> OrbitCamera::project(Vec3 p) const
{
    if (!parallel && dot(eye() - p, towardsViewer()) <= leastDepthMm)
        return std::nullopt;
    const Vec3 d = p - target;
    const double mm = mmPerPixel(p);
    return ScreenPoint{widthOf(*this) / 2 + dot(d, right()) / mm, heightOf(*this) / 2 - dot(d, up()) / mm};
}

ViewRay OrbitCamera::rayThrough(ScreenPoint p) const
{
    const double mm = mmPerPixel(target);
    const Vec3 seen = target + (p.x - widthOf(*this) / 2) * mm * right() + (heightOf(*this) / 2 - p.y) * mm * up();
    if (parallel)
        return {seen + (distanceMm + parallelRetreatMm) * towardsViewer(), -towardsViewer()};
    return {eye(), normalized(seen - eye())};
}

OrbitCamera OrbitCamera::turned(double dxPx, double dyPx) const
{
    OrbitCamera c = *this;
    const double radiusPx = heightOf(*this) / 4;
    c.azimuth = std::remainder(azimuth - dxPx / radiusPx, 2 * pi);
    c.elevation = std::clamp(elevation + dyPx / radiusPx, -pi / 2, pi / 2);
    return c;
}

OrbitCamera OrbitCamera::keeping(Vec3 pivot, double newAzimuth, double newElevation) const
{
    OrbitCamera c = *this;
    c.azimuth = std::remainder(newAzimuth, 2 * pi);
    c.elevation = std::clamp(newElevation, -pi / 2, pi / 2);
    const Vec3 d = pivot - target;
    c.target =
        pivot - dot(d, right()) * c.right() - dot(d, up()) * c.up() - dot(d, towardsViewer()) * c.towardsViewer();
    return c;
}

OrbitCamera OrbitCamera::turnedAbout(double dxPx, double dyPx, Vec3 pivot) const
{
    const OrbitCamera c = turned(dxPx, dyPx);
    return keeping(pivot, c.azimuth, c.elevation);
}

OrbitCamera OrbitCamera::panned(ScreenPoint from, ScreenPoint to, Vec3 grabbed) const
{
    OrbitCamera c = *this;
    const double mm = mmPerPixel(grabbed);
    c.target = target - (to.x - from.x) * mm * right() + (to.y - from.y) * mm * up();
    return c;
}

OrbitCamera OrbitCamera::zoomed(double factor, ScreenPoint at, Vec3 under) const
{
    OrbitCamera c = *this;
    c.distanceMm = std::clamp(distanceMm * factor, nearestMm, farthestMm);
    // What stays where it is lies on the pointer's ray, as deep as the given point.
    const ViewRay ray = rayThrough(at);
    const double along = dot(under - ray.origin, towardsViewer()) / dot(ray.direction, towardsViewer());
    const Vec3 fixed = ray.origin + std::max(along, leastDepthMm) * ray.direction;
    c.target = fixed + c.distanceMm / distanceMm * (target - fixed);
    return c;
}

OrbitCamera OrbitCamera::looking(StandardView view) const
{
    OrbitCamera c = *this;
    c.azimuth = -pi / 2;
    c.elevation = 0;
    switch (view) {
    case StandardView::Front:
        break;
    case StandardView::Back:
        c.azimuth = pi / 2;
        break;
    case StandardView::Left:
        c.azimuth = pi;
        break;
    case StandardView::Right:
        c.azimuth = 0;
        break;
    case StandardView::Top:
        c.elevation = pi / 2;
        break;
    case StandardView::Bottom:
        c.elevation = -pi / 2;
        break;
    case StandardView::Isometric:
        c.azimuth = -pi / 4;
        c.elevation = std::atan(std::numbers::sqrt2 / 2);
        break;
    }
    return c;
}

OrbitCamera OrbitCamera::fittedTo(const mesh::Box3& box) const
{
    if (box.empty())
        return *this;
    OrbitCamera c = *this;
    mesh::Box3 large = box;
    const Vec3 half{leastFitMm / 2, leastFitMm / 2, leastFitMm / 2};
    large.add(box.centre() - half);
    large.add(box.centre() + half);
    const mesh::Box3 seen = inCameraAxes(c, large);
    Vec3 middle = seen.centre();
    if (parallel) {
        const auto tangent = freeTangents(c);
        c.distanceMm = std::max(seen.extents().x / (2 * tangent.x), seen.extents().y / (2 * tangent.y));
    } else {
        const Vec3 eyeAt = fittedEye(c, large);
        middle = {eyeAt.x, eyeAt.y, middle.z};
        c.distanceMm = eyeAt.z - middle.z;
    }
    c.target = middle.x * right() + middle.y * up() + middle.z * towardsViewer();
    return c;
}

bool operator==(const OrbitCamera& a, const OrbitCamera& b)
{
    return a.target == b.target && a.azimuth == b.azimuth && a.elevation == b.elevation &&
           a.distanceMm == b.distanceMm && a.viewAngle == b.viewAngle && a.parallel == b.parallel &&
           a.widthPx == b.widthPx && a.heightPx == b.heightPx;
}

OrbitCamera between(const OrbitCamera& a, const OrbitCamera& b, double t)
{
    if (t >= 1)
        return b;
    OrbitCamera c = b;
    c.target = a.target + t * (b.target - a.target);
    c.azimuth = std::remainder(a.azimuth + t * std::remainder(b.azimuth - a.azimuth, 2 * pi), 2 * pi);
    c.elevation = a.elevation + t * (b.elevation - a.elevation);
    c.distanceMm = a.distanceMm * std::pow(b.distanceMm / a.distanceMm, t);
    c.viewAngle = a.viewAngle + t * (b.viewAngle - a.viewAngle);
    return c;
}

} // namespace quoin::ui
