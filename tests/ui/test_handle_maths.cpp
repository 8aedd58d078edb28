// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/handle_maths.h"

#include <catch2/catch.hpp>
#include <limits>
#include <numbers>
#include <random>

using namespace quoin;
using mesh::Vec3;
using ui::OrbitCamera;
using ui::ScreenPoint;

namespace {

constexpr double pi = std::numbers::pi;
constexpr double degree = pi / 180;

OrbitCamera cameraFrom(double azimuth, double elevation, bool parallel)
{
    OrbitCamera c;
    c.target = {20, -10, 30};
    c.azimuth = azimuth;
    c.elevation = elevation;
    c.parallel = parallel;
    return c;
}

} // namespace

TEST_CASE("a line's point nearest to a ray: against a search by brute force")
{
    std::mt19937 random(3);
    std::uniform_real_distribution<double> unit(-1, 1);
    const auto direction = [&] { return normalized(Vec3{unit(random), unit(random), unit(random)}); };
    for (int i = 0; i < 50; ++i) {
        const Vec3 origin{10 * unit(random), 10 * unit(random), 10 * unit(random)}, d = direction();
        const ui::ViewRay ray{{0, -200, 0}, normalized(Vec3{0.3 * unit(random), 1, 0.3 * unit(random)})};
        const auto t = ui::alongLine(ray, origin, d);
        if (!t)
            continue;
        const auto apart = [&](double s) {
            const Vec3 p = origin + s * d - ray.origin;
            return length(cross(p, ray.direction));
        };
        CHECK(apart(*t) <= apart(*t + 0.01));
        CHECK(apart(*t) <= apart(*t - 0.01));
    }
}

TEST_CASE("a line's point nearest to a ray: none for parallel ones and behind the eye")
{
    CHECK_FALSE(ui::alongLine({{0, 0, 0}, {0, 0, 1}}, {5, 5, 5}, {0, 0, 1}));
    CHECK_FALSE(ui::alongLine({{0, 0, 0}, {0, 0, 1}}, {5, 5, 5}, {0, 0, -1}));
    CHECK_FALSE(ui::alongLine({{0, 0, 0}, {0, 0, 1}}, {5, 5, -5}, {1, 0, 0}));
    CHECK(*ui::alongLine({{0, 0, 0}, {0, 0, 1}}, {5, 5, 5}, {1, 0, 0}) == Approx(-5));
}

TEST_CASE("dragging along a line: the thing stays under the pointer")
{
    for (const bool parallel : {false, true})
        for (const Vec3 d : {Vec3{0, 0, 1}, Vec3{1, 0, 0}, normalized(Vec3{1, 1, -2})}) {
            const OrbitCamera c = cameraFrom(-1.1, 0.4, parallel);
            const Vec3 origin{0, 5, 10};
            const auto moved = ui::draggedAlong(c, origin, d, *c.project(origin), *c.project(origin + 37 * d));
            REQUIRE(moved);
            CHECK(*moved == Approx(37));
            // Grabbed off the middle: the offset is kept.
            const auto fromTip =
                ui::draggedAlong(c, origin, d, *c.project(origin + 20 * d), *c.project(origin - 3 * d));
            CHECK(*fromTip == Approx(-23));
        }
}

TEST_CASE("dragging along a line seen end on: up is towards the viewer, by what the pixels cover")
{
    for (const bool parallel : {false, true}) {
        const OrbitCamera c = cameraFrom(-pi / 2, 0, parallel);
        const double mm = c.mmPerPixel(c.target);
        REQUIRE(ui::seenEndOn(c, c.target, {0, -1, 0}));
        CHECK(*ui::draggedAlong(c, c.target, {0, -1, 0}, {400, 300}, {400, 200}) == Approx(100 * mm));
        CHECK(*ui::draggedAlong(c, c.target, {0, 1, 0}, {400, 300}, {400, 200}) == Approx(-100 * mm));
        CHECK_FALSE(ui::seenEndOn(c, c.target, {1, 0, 0}));
        // Never a leap, however near to the line of sight.
        for (double off = 0; off < 0.5; off += 0.01) {
            const Vec3 d{std::sin(off), -std::cos(off), 0};
            const auto moved = ui::draggedAlong(c, c.target, d, {400, 300}, {402, 298});
            REQUIRE(moved);
            CHECK(std::abs(*moved) < 2 * mm / std::sin(8.5 * degree) + 3 * mm);
        }
    }
}

TEST_CASE("dragging round a ring: by the angle between the two places")
{
    for (const bool parallel : {false, true}) {
        const OrbitCamera c = cameraFrom(-1.1, 0.5, parallel);
        const Vec3 centre{10, 0, 20}, axis{0, 0, 1};
        const auto at = [&](double angle) {
            return *c.project(centre + 40 * Vec3{std::cos(angle), std::sin(angle), 0});
        };
        CHECK(*ui::draggedRound(c, centre, axis, 40, at(0.2), at(1.3)) == Approx(1.1));
        CHECK(*ui::draggedRound(c, centre, -axis, 40, at(0.2), at(1.3)) == Approx(-1.1));
        CHECK(*ui::draggedRound(c, centre, axis, 40, at(3), at(3.5)) == Approx(0.5));
        CHECK_FALSE(ui::draggedRound(c, centre, axis, 40, *c.project(centre), at(1)));
    }
}

TEST_CASE("dragging round a ring seen edge on: rolls like the near side of a wheel")
{
    const OrbitCamera c = cameraFrom(-pi / 2, 0, true);
    const double mm = c.mmPerPixel(c.target);
    // Seen from the front, a wheel about z turns to the right with its near side going right.
    CHECK(*ui::draggedRound(c, c.target, {0, 0, 1}, 50, {400, 300}, {410, 300}) == Approx(10 * mm / 50));
    // About x: the near side goes up for a negative turn.
    CHECK(*ui::draggedRound(c, c.target, {1, 0, 0}, 50, {400, 300}, {400, 290}) == Approx(-10 * mm / 50));
    const Vec3 near{20, -60, 30};
    const Vec3 turned = c.target + mesh::Vec3{0, -std::cos(0.1) * 50, std::sin(0.1) * 50};
    CHECK(c.project(turned)->y < c.project(near)->y);
}

TEST_CASE("snapping an offset: named places first, then steps")
{
    const std::vector<ui::NamedOffset> named{{12.3, "middle"}, {14, "flat face"}};
    CHECK(ui::snappedOffset(12.5, named, 0.5, 5).offsetMm == 12.3);
    CHECK(ui::snappedOffset(12.5, named, 0.5, 5).name == "middle");
    CHECK(ui::snappedOffset(13.4, named, 2, 5).name == "flat face");
    CHECK(ui::snappedOffset(13.0, named, 0.5, 5).offsetMm == 15);
    CHECK(ui::snappedOffset(13.0, named, 0.5, 5).name.empty());
    CHECK(ui::snappedOffset(-13.0, {}, 0.5, 10).offsetMm == -10);
    CHECK(ui::snappedOffset(13.37, named, 0.5, 0).offsetMm == 13.37);
}

TEST_CASE("snapping a normal: named ones, marks every 15 degrees, free between")
{
    const Vec3 axis{0, 1, 0};
    const auto leaning = [](double degrees) { return Vec3{std::sin(degrees * degree), 0, std::cos(degrees * degree)}; };
    const double reach = 2 * degree;
    const auto snap = [&](double degrees, const std::vector<ui::NamedNormal>& named = {}) {
        return ui::snappedNormal(leaning(degrees), axis, named, reach);
    };
    CHECK(length(snap(16.5).normal - leaning(15)) < 1e-12);
    CHECK(snap(16.5).name == "15°");
    CHECK(snap(18).name.empty());
    CHECK(snap(18).normal == leaning(18));
    // 45 and 90 reach twice as far.
    CHECK(snap(48.5).name == "45°");
    CHECK(snap(33.5).name.empty());
    CHECK(snap(93).name == "90°");
    CHECK(snap(-31).name == "30°");
    CHECK(length(snap(-31).normal - leaning(-30)) < 1e-12);
    // A flat face that the ring misses by a little is taken exactly; its opposite too.
    const Vec3 face = normalized(Vec3{std::sin(20 * degree), 0.01, std::cos(20 * degree)});
    CHECK(snap(19.5, {{face, "flat face"}}).normal == face);
    CHECK(snap(19.5, {{-face, "flat face"}}).normal == face);
    CHECK(snap(23, {{face, "flat face"}}).name.empty());
}

TEST_CASE("snapping a normal about a vertical axis: marks count from +x")
{
    const Vec3 n{std::cos(44 * degree), std::sin(44 * degree), 0};
    const auto snapped = ui::snappedNormal(n, {0, 0, 1}, {}, 2 * degree);
    CHECK(snapped.name == "45°");
    CHECK(snapped.normal.x == Approx(snapped.normal.y));
}

TEST_CASE("tilting a plane: about a point that stays on it")
{
    const mesh::Plane p = mesh::planeThrough({5, 6, 7}, {0, 0, 1});
    const mesh::Plane t = ui::tilted(p, {5, 6, 7}, {1, 0, 0}, 30 * degree);
    CHECK(t.distance({5, 6, 7}) == Approx(0).margin(1e-12));
    CHECK(length(t.normal - Vec3{0, -0.5, std::sqrt(0.75)}) < 1e-12);
    CHECK(t.distance({50, 6, 7}) == Approx(0).margin(1e-12));
}

TEST_CASE("angles of a plane: level, leaning, upright, upside down")
{
    CHECK(ui::anglesOf({{0, 0, 1}, 3}).tiltDegrees == 0);
    CHECK(ui::anglesOf({{0, 0, -1}, 3}).tiltDegrees == Approx(180));
    CHECK(ui::anglesOf({{0, 0, -1}, 3}).bearingDegrees == 0);
    const auto upright = ui::anglesOf({{0, -1, 0}, 3});
    CHECK(upright.tiltDegrees == Approx(90));
    CHECK(upright.bearingDegrees == Approx(270));
    CHECK(ui::anglesOf(mesh::planeAt({1, 1, std::sqrt(2)}, 0)).tiltDegrees == Approx(45));
    CHECK(ui::anglesOf(mesh::planeAt({1, 1, std::sqrt(2)}, 0)).bearingDegrees == Approx(45));
}

TEST_CASE("distance to a line of pixels")
{
    CHECK(ui::distancePx({3, 4}, {{0, 0}}) == 5);
    CHECK(ui::distancePx({5, 2}, {{0, 0}, {10, 0}}) == 2);
    CHECK(ui::distancePx({13, 4}, {{0, 0}, {10, 0}}) == 5);
    CHECK(ui::distancePx({13, 4}, {{0, 0}, {10, 0}, {10, 10}}) == 3);
    CHECK(ui::distancePx({0, 0}, {}) == std::numeric_limits<double>::infinity());
}
