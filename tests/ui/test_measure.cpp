// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/measure.h"

#include "mesh/primitives.h"
#include "tests/support/shapes.h"
#include "ui/round_fit.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <numbers>
#include <random>

using namespace quoin;
using mesh::Index;
using mesh::Vec3;

namespace {

constexpr double pi = std::numbers::pi;
constexpr double degree = pi / 180;

Index nearestTriangle(const mesh::Mesh& m, Vec3 p)
{
    Index best = 0;
    double least = 1e300;
    for (Index t = 0; t < m.triangles.size(); ++t) {
        const double d = ui::distanceToTriangle(p, m.corner(t, 0), m.corner(t, 1), m.corner(t, 2));
        if (d < least) {
            least = d;
            best = t;
        }
    }
    return best;
}

/// A slot's outline: two straight sides of `straight` mm and two half rounds.
mesh::Loop slot(double radius, double straight, int sides)
{
    mesh::Loop loop;
    for (int i = 0; i <= sides; ++i)
        loop.push_back({straight / 2 + radius * std::sin(pi * i / sides), -radius * std::cos(pi * i / sides)});
    for (int i = 0; i <= sides; ++i)
        loop.push_back({-straight / 2 - radius * std::sin(pi * i / sides), radius * std::cos(pi * i / sides)});
    return loop;
}

} // namespace

TEST_CASE("angle at a corner: closed forms, and none without a leg")
{
    CHECK(*ui::angleAt({5, 0, 0}, {0, 0, 0}, {0, 3, 0}) == Approx(pi / 2));
    CHECK(*ui::angleAt({1, 0, 0}, {0, 0, 0}, {1, std::sqrt(3), 0}) == Approx(60 * degree));
    CHECK(*ui::angleAt({1, 0, 0}, {0, 0, 0}, {-2, 0, 0}) == Approx(pi));
    CHECK(*ui::angleAt({1, 1e-9, 0}, {0, 0, 0}, {1, 0, 0}) == Approx(1e-9));
    CHECK_FALSE(ui::angleAt({1, 2, 3}, {1, 2, 3}, {4, 5, 6}));
}

TEST_CASE("angle between faces: through the material")
{
    CHECK(ui::angleBetweenFaces({0, 0, 1}, {1, 0, 0}) == Approx(pi / 2));
    CHECK(ui::angleBetweenFaces({0, 0, 1}, {0, 0, 1}) == Approx(pi));
    CHECK(ui::angleBetweenFaces({0, 0, 1}, {0, 0, -1}) == Approx(0).margin(1e-12));
    // A regular tetrahedron: arccos(1/3) between its faces.
    const auto t = test::tetrahedron({1, 1, 1}, {1, -1, -1}, {-1, 1, -1}, {-1, -1, 1});
    CHECK(ui::angleBetweenFaces(ui::triangleNormal(t, 0), ui::triangleNormal(t, 1)) == Approx(std::acos(1.0 / 3)));
}

TEST_CASE("circle through three points: found again wherever it lies; none on a line")
{
    std::mt19937 random(2);
    std::uniform_real_distribution<double> unit(-1, 1);
    for (int i = 0; i < 100; ++i) {
        const Vec3 centre{100 * unit(random), 100 * unit(random), 100 * unit(random)};
        const auto frame = mesh::frameOf(mesh::planeThrough(centre, {unit(random), unit(random), unit(random)}));
        const double radius = 0.1 + 50 * std::abs(unit(random)), turn = unit(random);
        const auto at = [&](double angle) {
            return centre + radius * (std::cos(angle + turn) * frame.u + std::sin(angle + turn) * frame.v);
        };
        const auto c = ui::circleThrough(at(0), at(1), at(4));
        REQUIRE(c);
        CHECK(c->radiusMm == Approx(radius));
        CHECK(length(c->centre - centre) < 1e-9 * (1 + radius) * 100);
        CHECK(std::abs(dot(c->axis, frame.normal)) == Approx(1));
    }
    CHECK_FALSE(ui::circleThrough({0, 0, 0}, {1, 1, 1}, {3, 3, 3}));
    CHECK_FALSE(ui::circleThrough({0, 0, 0}, {0, 0, 0}, {3, 3, 3}));
}

TEST_CASE("lengths and angles in words: unit on each, metres from a metre on")
{
    CHECK(ui::lengthText(12.5) == "12.5 mm");
    CHECK(ui::lengthText(12) == "12.0 mm");
    CHECK(ui::lengthText(12.346) == "12.35 mm");
    CHECK(ui::lengthText(345.678) == "345.7 mm");
    CHECK(ui::lengthText(999.9) == "999.9 mm");
    CHECK(ui::lengthText(999.96) == "1.0 m");
    CHECK(ui::lengthText(1234.56) == "1.2346 m");
    CHECK(ui::lengthText(-0.001) == "0.0 mm");
    CHECK(ui::angleText(pi / 4) == "45.0°");
    CHECK(ui::angleText(1) == "57.3°");
}

TEST_CASE("round lengths for a scale bar: 1, 2, 5 times ten to a power, never above")
{
    CHECK(ui::roundLengthBelow(1) == 1);
    CHECK(ui::roundLengthBelow(1.99) == 1);
    CHECK(ui::roundLengthBelow(2) == 2);
    CHECK(ui::roundLengthBelow(49) == Approx(20));
    CHECK(ui::roundLengthBelow(99) == Approx(50));
    CHECK(ui::roundLengthBelow(1000) == Approx(1000));
    CHECK(ui::roundLengthBelow(0.037) == Approx(0.02));
    CHECK(ui::roundLengthBelow(0) == 0);
    CHECK(ui::roundLengthBelow(-3) == 0);
}

TEST_CASE("cylinder through facets: radius and axis of a turned and moved rod, to rounding")
{
    const auto map = mesh::Transform::translation({300, -20, 50}) * mesh::Transform::rotation({1, 2, 0.5}, 0.7);
    const auto rod = mesh::transformed(mesh::cylinder(12.5, 80, 48, 6), map);
    const auto n = ui::neighboursOf(rod);
    const auto fit = ui::roundAt(rod, n, nearestTriangle(rod, map.point({12.5, 0, 40})));
    REQUIRE(fit);
    CHECK(fit->kind == ui::RoundFit::Kind::Cylinder);
    CHECK(fit->radiusMm == Approx(12.5).epsilon(1e-9));
    CHECK(std::abs(dot(fit->axis, map.direction({0, 0, 1}))) == Approx(1).epsilon(1e-12));
    const Vec3 off = fit->centre - map.point({0, 0, 40});
    CHECK(length(cross(off, fit->axis)) < 1e-6);
    CHECK(length(off) < 1);
    CHECK(fit->residualMm < 1e-9);
    CHECK_FALSE(fit->hollow);
    CHECK(fit->arcRadians == Approx(2 * pi));
    CHECK(fit->facets == 48 * 12);
}

TEST_CASE("round fit: a rod of twelve sides is a rod, its end is flat")
{
    const auto rod = mesh::cylinder(5, 30, 12, 1);
    const auto n = ui::neighboursOf(rod);
    const auto fit = ui::roundAt(rod, n, nearestTriangle(rod, {5, 0, 15}));
    REQUIRE(fit);
    CHECK(fit->radiusMm == Approx(5).epsilon(1e-9));
    CHECK_FALSE(ui::roundAt(rod, n, nearestTriangle(rod, {0, 0, 30})));
}

TEST_CASE("round fit: a bore is hollow")
{
    mesh::Loop hole;
    for (int i = 0; i < 40; ++i)
        hole.push_back({20 + 4 * std::cos(-2 * pi * i / 40), 15 + 4 * std::sin(-2 * pi * i / 40)});
    const auto plate = mesh::prism({{{0, 0}, {40, 0}, {40, 30}, {0, 30}}, hole}, 10, 2);
    const auto n = ui::neighboursOf(plate);
    const auto fit = ui::roundAt(plate, n, nearestTriangle(plate, {24, 15, 5}));
    REQUIRE(fit);
    CHECK(fit->radiusMm == Approx(4).epsilon(1e-9));
    CHECK(fit->hollow);
    CHECK_FALSE(ui::roundAt(plate, n, nearestTriangle(plate, {40, 15, 5})));
}

TEST_CASE("round fit: a half round running smoothly into flats is told from them")
{
    const auto bar = mesh::prism({slot(10, 60, 24)}, 20, 4);
    const auto n = ui::neighboursOf(bar);
    const auto fit = ui::roundAt(bar, n, nearestTriangle(bar, {40, 0, 10}));
    REQUIRE(fit);
    CHECK(fit->radiusMm == Approx(10).epsilon(1e-3));
    CHECK(length(Vec3{fit->centre.x, fit->centre.y, 0} - Vec3{30, 0, 0}) < 0.05);
    CHECK(fit->arcRadians == Approx(pi).epsilon(0.05));
}

TEST_CASE("round fit: noise shows as the residual")
{
    auto rod = mesh::cylinder(20, 60, 64, 20);
    std::mt19937 random(1);
    std::normal_distribution<double> noise(0, 0.05);
    for (auto& p : rod.points) {
        const double r = std::hypot(p.x, p.y), to = r + noise(random);
        if (r > 1)
            p = {p.x * to / r, p.y * to / r, p.z};
    }
    const auto n = ui::neighboursOf(rod);
    const auto fit = ui::roundAt(rod, n, nearestTriangle(rod, {20, 0, 30}));
    REQUIRE(fit);
    CHECK(fit->radiusMm == Approx(20).epsilon(0.001));
    CHECK(fit->residualMm == Approx(0.05).epsilon(0.2));
}

TEST_CASE("round fit: a ball is a ball")
{
    const auto ball = test::moved(mesh::icosphere(30, 4), {5, 6, 7});
    const auto n = ui::neighboursOf(ball);
    const auto fit = ui::roundAt(ball, n, 123);
    REQUIRE(fit);
    CHECK(fit->kind == ui::RoundFit::Kind::Ball);
    CHECK(fit->radiusMm == Approx(30));
    CHECK(length(fit->centre - Vec3{5, 6, 7}) < 1e-6);
    CHECK_FALSE(fit->hollow);
}

TEST_CASE("round fit: nothing round about a cube")
{
    const auto cube = test::cube({0, 0, 0}, 10);
    const auto n = ui::neighboursOf(cube);
    for (Index t = 0; t < 12; ++t)
        CHECK_FALSE(ui::roundAt(cube, n, t));
}

TEST_CASE("snap place: corners before middles, real edges only, within reach")
{
    const auto cube = test::cube({0, 0, 0}, 100);
    const auto n = ui::neighboursOf(cube);
    ui::OrbitCamera c;
    c = c.looking(ui::StandardView::Top);
    c.target = {50, 50, 50};
    const Index top = nearestTriangle(cube, {60, 50, 100});
    const auto snap = [&](Vec3 over, double dx, double dy, const ui::SurfaceNeighbours* with) {
        auto at = *c.project(over);
        return ui::snapPlace(cube, with, {}, top, c, {at.x + dx, at.y + dy}, 10);
    };
    const auto corner = snap({100, 100, 100}, -6, 6, &n);
    REQUIRE(corner);
    CHECK(corner->kind == ui::SnapPlace::Kind::Corner);
    CHECK(corner->point == Vec3{100, 100, 100});
    const auto middle = snap({100, 50, 100}, -7, 3, &n);
    REQUIRE(middle);
    CHECK(middle->kind == ui::SnapPlace::Kind::EdgeMiddle);
    CHECK(middle->point == Vec3{100, 50, 100});
    // The middle of the square is the middle of a diagonal, which is no edge of the cube.
    CHECK_FALSE(snap({50, 50, 100}, 2, 0, &n));
    CHECK(snap({50, 50, 100}, 2, 0, nullptr));
    CHECK_FALSE(snap({100, 50, 100}, -11, 0, &n));
}

TEST_CASE("snap place: between a corner and a middle, the corner, unless the middle is clearly nearer")
{
    const auto cube = test::cube({0, 0, 0}, 100);
    const auto n = ui::neighboursOf(cube);
    ui::OrbitCamera c = ui::OrbitCamera{}.looking(ui::StandardView::Top);
    c.target = {50, 50, 100};
    c.parallel = true;
    // An edge of 100 mm is 16 pixels long.
    c.distanceMm *= 100 / 16.0 / c.mmPerPixel(c.target);
    const auto corner = *c.project({100, 100, 100});
    const Index top = nearestTriangle(cube, {60, 50, 100});
    const auto kindAt = [&](double below) {
        return ui::snapPlace(cube, &n, {}, top, c, {corner.x, corner.y + below}, 10)->kind;
    };
    CHECK(kindAt(1) == ui::SnapPlace::Kind::Corner);
    CHECK(kindAt(5) == ui::SnapPlace::Kind::Corner);
    CHECK(kindAt(7.5) == ui::SnapPlace::Kind::EdgeMiddle);
}
