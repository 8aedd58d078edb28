// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace quoin::mesh;
using namespace quoin::test;

namespace {

void checkPoint(Vec3 p, Vec3 expected, double margin = 1e-9)
{
    CHECK(p.x == Approx(expected.x).margin(margin));
    CHECK(p.y == Approx(expected.y).margin(margin));
    CHECK(p.z == Approx(expected.z).margin(margin));
}

void checkInertia(const MassProperties& m, std::array<double, 6> expected, double relative)
{
    CHECK(m.ixx == Approx(expected[0]).epsilon(relative));
    CHECK(m.iyy == Approx(expected[1]).epsilon(relative));
    CHECK(m.izz == Approx(expected[2]).epsilon(relative));
    CHECK(m.ixy == Approx(expected[3]).epsilon(relative).margin(1e-12));
    CHECK(m.ixz == Approx(expected[4]).epsilon(relative).margin(1e-12));
    CHECK(m.iyz == Approx(expected[5]).epsilon(relative).margin(1e-12));
}

} // namespace

TEST_CASE("mass: Tonon's tetrahedron")
{
    // Tonon, J. Math. Stat. 1(1) 8-11, 2005, numerical example, as used in several public test suites. The paper's
    // matrix has the xy and xz products in each other's places; here they are where their definitions put them.
    const Mesh m =
        tetrahedron({8.33220, -11.86875, 0.93355}, {0.75523, 5, 16.37072}, {52.61236, 5, -5.38580}, {2, 5, 3});
    const MassProperties p = massProperties(m);
    CHECK(p.volume == Approx(1873.2334).epsilon(1e-7));
    checkPoint(p.centroid, {15.92492, 0.78281, 3.72962}, 1e-5);
    checkInertia(p, {43520.33257, 194711.28938, 191168.76173, -11996.20119, 46343.16662, -4417.66150}, 1e-6);
    // Recomputed from the five-digit corners.
    checkInertia(p, {43520.333285, 194711.292591, 191168.764886, -11996.201393, 46343.167381, -4417.661570}, 1e-9);
}

TEST_CASE("mass: a box by its closed form, anywhere")
{
    // m (b^2 + c^2) / 12 and so on: 24 * 25 / 12, 24 * 20 / 12, 24 * 13 / 12.
    for (const Vec3 at : {Vec3{0, 0, 0}, Vec3{-700, 40, 1200}}) {
        const MassProperties p = massProperties(moved(cuboid({0, 0, 0}, {2, 3, 4}), at));
        CHECK(p.volume == Approx(24).epsilon(1e-12));
        checkPoint(p.centroid, at + Vec3{1, 1.5, 2});
        checkInertia(p, {50, 40, 26, 0, 0, 0}, 1e-9);
    }
}

TEST_CASE("mass: corner tetrahedra, exact fractions")
{
    const MassProperties p = massProperties(tetrahedron({0, 0, 0}, {5, 0, 0}, {0, 4, 0}, {0, 0, 3}));
    CHECK(p.volume == Approx(10).epsilon(1e-12));
    checkPoint(p.centroid, {1.25, 1, 0.75});
    checkInertia(p, {75.0 / 8, 51.0 / 4, 123.0 / 8, 2.5, 15.0 / 8, 1.5}, 1e-9);
    const MassProperties unit = massProperties(tetrahedron({0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}));
    CHECK(unit.volume == Approx(1.0 / 6).epsilon(1e-12));
    checkInertia(unit, {1.0 / 80, 1.0 / 80, 1.0 / 80, 1.0 / 480, 1.0 / 480, 1.0 / 480}, 1e-9);
}

TEST_CASE("mass: Mirtich's cube")
{
    // Mirtich, Journal of Graphics Tools 1(2), 1996, sample data: side 20, centred; from memory.
    const MassProperties p = massProperties(cube({-10, -10, -10}, 20));
    CHECK(p.volume == Approx(8000).epsilon(1e-12));
    checkInertia(p, {533333.3333333, 533333.3333333, 533333.3333333, 0, 0, 0}, 1e-9);
}

TEST_CASE("mass: the ball is the limit from below")
{
    const double exact = 4 * std::numbers::pi * 1000 / 3;
    double last = 0;
    for (int levels = 1; levels < 6; ++levels) {
        const double v = volume(sphere({100, 0, 0}, 10, levels));
        CHECK(v > last);
        CHECK(v < exact);
        last = v;
    }
    CHECK(last == Approx(exact).epsilon(2e-3));
}

TEST_CASE("mass: laws of volume")
{
    const Mesh m = ring(20, 6, 30, 20);
    const double v = volume(m);
    CHECK(volume(turnedOver(m)) == Approx(-v).epsilon(1e-12));
    CHECK(volume(transformed(m, Transform::scaling(12))) == Approx(1728 * v).epsilon(1e-12));
    CHECK(area(transformed(m, Transform::scaling(12))) == Approx(144 * area(m)).epsilon(1e-12));
    CHECK(volume(moved(m, {1e5, -1e5, 1e5})) == Approx(v).epsilon(1e-9));
    CHECK(volume(together({m, cube({100, 0, 0}, 3)})) == Approx(v + 27).epsilon(1e-12));
    CHECK(volume({}) == 0);
    CHECK(area({}) == 0);
    CHECK(massProperties({}).volume == 0);
}

TEST_CASE("mass: inertia of two bodies adds up by the parallel axis theorem")
{
    const Mesh a = cuboid({0, 0, 0}, {2, 3, 4}), b = cuboid({10, 1, -5}, {13, 2, -1});
    const MassProperties pa = massProperties(a), pb = massProperties(b), whole = massProperties(together({a, b}));
    const auto shifted = [&](const MassProperties& p) {
        const Vec3 d = p.centroid - whole.centroid;
        return p.ixx + p.volume * (d.y * d.y + d.z * d.z);
    };
    CHECK(whole.ixx == Approx(shifted(pa) + shifted(pb)).epsilon(1e-12));
    checkPoint(whole.centroid, (pa.volume * pa.centroid + pb.volume * pb.centroid) / (pa.volume + pb.volume));
}

TEST_CASE("mass: area of a triangle and of a box")
{
    CHECK(triangleArea(soup({{0, 0, 0}, {3, 0, 0}, {0, 4, 0}}, {{0, 1, 2}}), 0) == 6);
    CHECK(area(cuboid({0, 0, 0}, {2, 3, 4})) == Approx(52));
}
