// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/handle_maths.h"

#include "mesh/transform.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace quoin::ui {

using mesh::Vec3;

namespace {

constexpr double pi = std::numbers::pi;
/// Sine of the angle between a ray and a line below which their nearest points leap about.
constexpr double leastLineSine = 0.05;
/// Sine of the angle between the line of sight and a handle's line below which it is seen end on (8.6 degrees).
constexpr double endOnSine = 0.15;
/// Sine of the angle between the line of sight and a ring's plane below which the ring is seen edge on.
constexpr double edgeOnSine = 0.15;
/// Marks for angles.
constexpr double markRadians = pi / 12;
/// A direction shorter than this after projection has no direction.
constexpr double leastProjection = 1e-9;

Vec3 sightAt(const OrbitCamera& camera, Vec3 place)
{
    return camera.parallel ? -camera.towardsViewer() : normalized(place - camera.eye());
}

/// Where a ray meets the plane through a point; none when it doesn't in front of its origin.
std::optional<Vec3> onPlane(const ViewRay& ray, Vec3 centre, Vec3 normal)
{
    const double slope = dot(ray.direction, normal);
    if (std::abs(slope) < leastProjection)
        return std::nullopt;
    const double along = dot(centre - ray.origin, normal) / slope;
    return along > 0 ? std::optional(ray.origin + along * ray.direction) : std::nullopt;
}

double signedAngle(Vec3 from, Vec3 to, Vec3 axis)
{
    return std::atan2(dot(cross(from, to), axis), dot(from, to));
}

} // namespace

std::optional<double> alongLine(const ViewRay& ray, Vec3 origin, Vec3 direction)
{
    const double cosine = dot(ray.direction, direction), sineSquared = 1 - cosine * cosine;
    if (sineSquared < leastLineSine * leastLineSine)
        return std::nullopt;
    const Vec3 d = origin - ray.origin;
    // Nearest points of two lines.
    const double onRay = (dot(ray.direction, d) - cosine * dot(direction, d)) / sineSquared;
    if (onRay <= 0)
        return std::nullopt;
    return (cosine * dot(ray.direction, d) - dot(direction, d)) / sineSquared;
}

bool seenEndOn(const OrbitCamera& camera, Vec3 place, Vec3 direction)
{
    return length(cross(sightAt(camera, place), direction)) < endOnSine;
}

std::optional<double> draggedAlong(const OrbitCamera& camera, Vec3 origin, Vec3 direction, ScreenPoint from,
                                   ScreenPoint to)
{
    if (seenEndOn(camera, origin, direction)) {
        const double mm = (from.y - to.y) * camera.mmPerPixel(origin);
        return dot(direction, sightAt(camera, origin)) < 0 ? mm : -mm;
    }
    const auto a = alongLine(camera.rayThrough(from), origin, direction);
    const auto b = alongLine(camera.rayThrough(to), origin, direction);
    return a && b ? std::optional(*b - *a) : std::nullopt;
}

std::optional<double> draggedRound(const OrbitCamera& camera, Vec3 centre, Vec3 axis, double radiusMm, ScreenPoint from,
                                   ScreenPoint to)
{
    const Vec3 sight = sightAt(camera, centre);
    if (std::abs(dot(sight, axis)) < edgeOnSine) {
        // The near side of the ring moves along axis x (towards the viewer).
        const Vec3 nearSide = cross(axis, -sight);
        const Vec3 onScreen{dot(nearSide, camera.right()), dot(nearSide, camera.up()), 0};
        const Vec3 way = normalized(onScreen);
        const double mm = camera.mmPerPixel(centre) * ((to.x - from.x) * way.x + (from.y - to.y) * way.y);
        return std::clamp(mm / radiusMm, -pi, pi);
    }
    const auto a = onPlane(camera.rayThrough(from), centre, axis), b = onPlane(camera.rayThrough(to), centre, axis);
    if (!a || !b || length(*a - centre) < leastProjection || length(*b - centre) < leastProjection)
        return std::nullopt;
    return signedAngle(*a - centre, *b - centre, axis);
}

SnappedOffset snappedOffset(double offsetMm, const std::vector<NamedOffset>& named, double reachMm, double stepMm)
{
    const NamedOffset* best = nullptr;
    for (const NamedOffset& n : named) {
        const double off = std::abs(n.offsetMm - offsetMm);
        if (off <= reachMm && (!best || off < std::abs(best->offsetMm - offsetMm)))
            best = &n;
    }
    if (best)
        return {best->offsetMm, best->name};
    return {stepMm > 0 ? std::round(offsetMm / stepMm) * stepMm : offsetMm, {}};
}

SnappedNormal snappedNormal(Vec3 normal, Vec3 axis, const std::vector<NamedNormal>& named, double reachRadians,
                            bool marks)
{
    const double leastCosine = std::cos(reachRadians);
    SnappedNormal best{normal, {}};
    double bestCosine = leastCosine;
    for (const NamedNormal& n : named) {
        const double cosine = dot(n.normal, normal);
        if (std::abs(cosine) >= bestCosine) {
            bestCosine = std::abs(cosine);
            best = {cosine < 0 ? -n.normal : n.normal, n.name};
        }
    }
    if (!best.name.empty() || !marks)
        return best;

    Vec3 zero = Vec3{0, 0, 1} - axis.z * axis;
    if (length(zero) < endOnSine)
        zero = Vec3{1, 0, 0} - axis.x * axis;
    zero = normalized(zero);
    const double angle = signedAngle(zero, normal, axis);
    const int mark = static_cast<int>(std::lround(angle / markRadians));
    const double reach = mark % 3 == 0 ? 2 * reachRadians : reachRadians;
    if (std::abs(angle - mark * markRadians) > reach)
        return best;
    const double at = mark * markRadians;
    return {normalized(std::cos(at) * zero + std::sin(at) * cross(axis, zero)),
            std::to_string(std::abs(mark) * 15) + "°"};
}

mesh::Plane tilted(const mesh::Plane& plane, Vec3 centre, Vec3 axis, double radians)
{
    return mesh::planeThrough(centre, mesh::Transform::rotation(axis, radians).direction(plane.normal));
}

PlaneAngles anglesOf(const mesh::Plane& plane)
{
    const double across = std::hypot(plane.normal.x, plane.normal.y);
    PlaneAngles angles;
    angles.tiltDegrees = std::atan2(across, plane.normal.z) * 180 / pi;
    if (across > leastProjection) {
        const double bearing = std::atan2(plane.normal.y, plane.normal.x) * 180 / pi;
        angles.bearingDegrees = bearing < 0 ? bearing + 360 : bearing;
    }
    return angles;
}

double distancePx(ScreenPoint p, const std::vector<ScreenPoint>& line)
{
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < line.size(); ++i) {
        const ScreenPoint a = line[i], b = line[std::min(i + 1, line.size() - 1)];
        const double dx = b.x - a.x, dy = b.y - a.y, squared = dx * dx + dy * dy;
        const double t = squared > 0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / squared, 0.0, 1.0) : 0;
        least = std::min(least, std::hypot(p.x - a.x - t * dx, p.y - a.y - t * dy));
    }
    return least;
}

} // namespace quoin::ui
