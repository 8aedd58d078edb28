// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/orbit_camera.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <numbers>
#include <random>

using namespace quoin;
using mesh::Vec3;
using ui::OrbitCamera;
using ui::ScreenPoint;
using ui::StandardView;

namespace {

constexpr double pi = std::numbers::pi;

/// Cameras from all sides, near and far, in perspective and parallel.
std::vector<OrbitCamera> cameras()
{
    std::mt19937 random(11);
    std::uniform_real_distribution<double> unit(-1, 1);
    std::vector<OrbitCamera> all;
    for (int i = 0; i < 40; ++i) {
        OrbitCamera c;
        c.target = {300 * unit(random), 300 * unit(random), 300 * unit(random)};
        c.azimuth = pi * unit(random);
        c.elevation = i % 8 == 0 ? pi / 2 : i % 8 == 1 ? -pi / 2 : pi / 2 * unit(random);
        c.distanceMm = 500 + 400 * unit(random);
        c.parallel = i % 2 == 1;
        c.widthPx = 640 + i;
        c.heightPx = 481;
        all.push_back(c);
    }
    return all;
}

double apart(ScreenPoint a, ScreenPoint b)
{
    return std::hypot(a.x - b.x, a.y - b.y);
}

Vec3 along(const ui::ViewRay& ray, double mm)
{
    return ray.origin + mm * ray.direction;
}

/// A point of the scene under a pixel, `depthMm` in front of the target's plane.
Vec3 pointUnder(const OrbitCamera& c, ScreenPoint at, double depthMm)
{
    const auto ray = c.rayThrough(at);
    const Vec3 back = c.towardsViewer();
    return along(ray, dot(c.target + depthMm * back - ray.origin, back) / dot(ray.direction, back));
}

} // namespace

TEST_CASE("orbit camera: its axes are right-handed, upright and look at the target")
{
    for (const OrbitCamera& c : cameras()) {
        CHECK(length(cross(c.right(), c.up()) - c.towardsViewer()) < 1e-12);
        CHECK(c.right().z == 0);
        CHECK(c.up().z > -1e-12);
        CHECK(length(c.eye() - c.target) == Approx(c.distanceMm));
        CHECK(apart(*c.project(c.target), {c.widthPx / 2.0, c.heightPx / 2.0}) < 1e-9);
    }
}

TEST_CASE("orbit camera: projecting and casting a ray are each other's inverse")
{
    for (const OrbitCamera& c : cameras())
        for (const ScreenPoint p : {ScreenPoint{0, 0}, ScreenPoint{17.5, 470}, ScreenPoint{630, 3}}) {
            const auto ray = c.rayThrough(p);
            CHECK(length(ray.direction) == Approx(1).epsilon(1e-12));
            for (const double mm : {1.0, 350.0, 2000.0})
                CHECK(apart(*c.project(along(ray, mm)), p) < 1e-6);
        }
}

TEST_CASE("orbit camera: the view's height at the target is the same in perspective and parallel")
{
    OrbitCamera c;
    c.target = {1, 2, 3};
    // Closed form: height = 2 d tan(angle / 2).
    const Vec3 top = c.target + c.distanceMm * std::tan(c.viewAngle / 2) * c.up();
    CHECK(c.project(top)->y == Approx(0).margin(1e-9));
    c.parallel = true;
    CHECK(c.project(top)->y == Approx(0).margin(1e-9));
    CHECK(c.mmPerPixel(c.target + 300 * c.up()) * c.heightPx == Approx(2000 * std::tan(0.225)));
}

TEST_CASE("orbit camera: what is behind the eye doesn't appear in perspective")
{
    OrbitCamera c;
    const Vec3 behind = c.eye() + 5 * c.towardsViewer();
    CHECK_FALSE(c.project(behind));
    CHECK_FALSE(c.project(c.eye()));
    c.parallel = true;
    CHECK(c.project(behind));
}

TEST_CASE("orbit camera: panning keeps the grabbed point under the pointer")
{
    for (const OrbitCamera& c : cameras())
        for (const double depthMm : {-200.0, 0.0, 60.0}) {
            const ScreenPoint from{100, 200}, to{431, 77};
            const Vec3 grabbed = pointUnder(c, from, depthMm);
            CHECK(apart(*c.panned(from, to, grabbed).project(grabbed), to) < 1e-6);
        }
}

TEST_CASE("orbit camera: zooming keeps what is under the pointer and scales about it")
{
    for (const OrbitCamera& c : cameras())
        for (const double factor : {0.8, 1.25, 0.1}) {
            const ScreenPoint at{511, 90};
            const Vec3 under = pointUnder(c, at, 50);
            const OrbitCamera near = c.zoomed(factor, at, under);
            CHECK(apart(*near.project(under), at) < 1e-6);
            CHECK(near.mmPerPixel(under) == Approx(c.mmPerPixel(under) * factor));
        }
}

TEST_CASE("orbit camera: zooming ends somewhere, both ways")
{
    OrbitCamera near, far;
    for (int i = 0; i < 500; ++i) {
        near = near.zoomed(0.8, {400, 300}, near.target);
        far = far.zoomed(1.25, {10, 20}, far.target);
    }
    CHECK(near.distanceMm == Approx(0.01));
    CHECK(far.distanceMm == Approx(1e7));
    CHECK(std::isfinite(far.target.x));
}

TEST_CASE("orbit camera: turning rolls a globe half as high as the view, and stops upright")
{
    OrbitCamera c;
    c.elevation = 0.2;
    // A quarter of the height is the globe's radius: one radian.
    const OrbitCamera left = c.turned(-150, 0);
    CHECK(std::remainder(left.azimuth - (c.azimuth + 1), 2 * pi) == Approx(0).margin(1e-12));
    CHECK(c.turned(0, 15).elevation == Approx(0.3));
    CHECK(c.turned(0, 4000).elevation == pi / 2);
    CHECK(c.turned(0, -4000).elevation == -pi / 2);
    // The near side of the globe follows the pointer.
    const Vec3 nearSide = c.target + 100 * c.towardsViewer();
    CHECK(c.turned(20, 10).project(nearSide)->x > 400);
    CHECK(c.turned(20, 10).project(nearSide)->y > 300);
}

TEST_CASE("orbit camera: turned about a point, that point stays where it is seen")
{
    for (const OrbitCamera& c : cameras()) {
        const ScreenPoint at{450, 122};
        const Vec3 pivot = pointUnder(c, at, -40);
        const OrbitCamera turned = c.turnedAbout(37, -21, pivot);
        CHECK(turned.azimuth == c.turned(37, -21).azimuth);
        CHECK(apart(*turned.project(pivot), at) < 1e-6);
        CHECK(turned.mmPerPixel(pivot) == Approx(c.mmPerPixel(pivot)));
    }
}

TEST_CASE("orbit camera: the standard views look along the axes as ISO 128-3 names them")
{
    const auto check = [](StandardView view, Vec3 towards, Vec3 right, Vec3 up) {
        const OrbitCamera c = OrbitCamera{}.looking(view);
        CHECK(length(c.towardsViewer() - towards) < 1e-12);
        CHECK(length(c.right() - right) < 1e-12);
        CHECK(length(c.up() - up) < 1e-12);
    };
    // The front faces -y, z is up. ISO 128-3: the view from the right shows the object's right-hand side, and so on;
    // the view from above has the front at its lower edge, the view from below at its upper edge.
    check(StandardView::Front, {0, -1, 0}, {1, 0, 0}, {0, 0, 1});
    check(StandardView::Back, {0, 1, 0}, {-1, 0, 0}, {0, 0, 1});
    check(StandardView::Left, {-1, 0, 0}, {0, -1, 0}, {0, 0, 1});
    check(StandardView::Right, {1, 0, 0}, {0, 1, 0}, {0, 0, 1});
    check(StandardView::Top, {0, 0, 1}, {1, 0, 0}, {0, 1, 0});
    check(StandardView::Bottom, {0, 0, -1}, {1, 0, 0}, {0, -1, 0});
}

TEST_CASE("orbit camera: the isometric view shortens all three axes alike, by the square root of 2/3 (ISO 5456-3)")
{
    OrbitCamera c = OrbitCamera{}.looking(StandardView::Isometric);
    c.parallel = true;
    const double mm = c.mmPerPixel(c.target);
    for (const Vec3 axis : {Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0, 1}})
        CHECK(apart(*c.project(c.target + 90 * axis), *c.project(c.target)) * mm == Approx(90 * std::sqrt(2.0 / 3)));
    // 30 degrees above the horizontal.
    const auto x = *c.project(c.target + 90 * Vec3{1, 0, 0}), o = *c.project(c.target);
    CHECK(std::atan2(x.y - o.y, x.x - o.x) == Approx(pi / 6));
}

TEST_CASE("orbit camera: a fitted box is inside the view and touches the border one way")
{
    for (OrbitCamera c : cameras())
        for (const Vec3 size : {Vec3{100, 80, 60}, Vec3{3000, 10, 10}, Vec3{5, 5, 900}}) {
            mesh::Box3 box;
            box.add({200, -100, 50});
            box.add(Vec3{200, -100, 50} + size);
            const OrbitCamera fitted = c.fittedTo(box);
            CHECK(fitted.azimuth == c.azimuth);
            double left = 1e9, right = -1e9, top = 1e9, bottom = -1e9;
            for (int k = 0; k < 8; ++k) {
                const auto seen = fitted.project(
                    {k & 1 ? box.max.x : box.min.x, k & 2 ? box.max.y : box.min.y, k & 4 ? box.max.z : box.min.z});
                REQUIRE(seen);
                left = std::min(left, seen->x);
                right = std::max(right, seen->x);
                top = std::min(top, seen->y);
                bottom = std::max(bottom, seen->y);
            }
            const double borderX = 0.04 * c.widthPx, borderY = 0.04 * c.heightPx;
            CHECK(left >= borderX - 0.01);
            CHECK(right <= c.widthPx - borderX + 0.01);
            CHECK(top >= borderY - 0.01);
            CHECK(bottom <= c.heightPx - borderY + 0.01);
            const double slackX = std::max(left - borderX, c.widthPx - borderX - right);
            const double slackY = std::max(top - borderY, c.heightPx - borderY - bottom);
            // A long thing seen end on may be so near to the eye that it stays small.
            if (fitted.parallel || fitted.distanceMm > size.x)
                CHECK(std::min(slackX, slackY) < 2);
        }
}

TEST_CASE("orbit camera: fitting a point or nothing gives a camera that sees")
{
    mesh::Box3 point;
    point.add({5, 6, 7});
    const OrbitCamera c = OrbitCamera{}.fittedTo(point);
    CHECK(c.distanceMm > 0.5);
    // As if it were a millimetre large, seen from above: the cube is in the middle, the point nearly so.
    CHECK(apart(*c.project({5, 6, 7}), {400, 300}) < 60);
    CHECK(OrbitCamera{}.fittedTo({}) == OrbitCamera{});
}

TEST_CASE("orbit camera: gliding goes the short way round and ends where it should")
{
    OrbitCamera a, b;
    a.azimuth = 0.9 * pi;
    b.azimuth = -0.9 * pi;
    a.distanceMm = 100;
    b.distanceMm = 10000;
    b.target = {10, 20, 30};
    CHECK(between(a, b, 1) == b);
    const OrbitCamera start = between(a, b, 0);
    CHECK(start.azimuth == Approx(a.azimuth));
    CHECK(start.target == a.target);
    const OrbitCamera half = between(a, b, 0.5);
    CHECK(std::abs(half.azimuth) == Approx(pi));
    CHECK(half.distanceMm == Approx(1000));
    CHECK(half.target == Vec3{5, 10, 15});
}
