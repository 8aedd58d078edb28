// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/bound_features.h"
#include "core/lower_bound.h"
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

using namespace quoin;
using namespace quoin::core;
using mesh::Mesh;
using mesh::Transform;
using mesh::Vec3;

namespace {

const std::vector<Bed> bed200{{"", Bed::Shape::Rectangular, 200, 200, 200, 1}};

/// Twelve square spokes along the corners of an icosahedron, and a hub in the middle.
Mesh spokes(double lengthMm)
{
    const double g = std::numbers::phi;
    Mesh all = mesh::icosphere(15, 1);
    for (const double a : {-1.0, 1.0})
        for (const double b : {-g, g})
            for (const Vec3 d : {Vec3{0, a, b}, Vec3{a, b, 0}, Vec3{b, 0, a}})
                all = mesh::joined(
                    all, mesh::transformed(mesh::box({-5, -5, 0}, {5, 5, lengthMm}), Transform::turning({0, 0, 1}, d)));
    return all;
}

} // namespace

TEST_CASE("lower bound: eight beds' worth of a solid cube, nine when a millionth larger", "[lower_bound]")
{
    // A cube of 400 also has its 8 corners 400 mm apart.
    CHECK(lowerBound(mesh::box({0, 0, 0}, {400, 400, 400}), bed200, 0).pieces == 8);
    CHECK(lowerBound(mesh::box({0, 0, 0}, {400.0004, 400.0004, 400.0004}), bed200, 0).pieces == 9);
    CHECK(lowerBound(mesh::box({0, 0, 0}, {400.0004, 400.0004, 400.0004}), bed200, 0).reason == "volume: 8.00 beds");
    CHECK(lowerBound(mesh::box({0, 0, 0}, {190, 190, 190}), bed200, 5).pieces == 1);
    CHECK(lowerBound(mesh::box({0, 0, 0}, {380, 380, 380}), bed200, 5).pieces == 8);
    CHECK(lowerBound(mesh::box({0, 0, 0}, {200, 200, 200}), bed200, 5).pieces == 2);
}

TEST_CASE("lower bound: rods and plates by separated points", "[lower_bound]")
{
    // Longest diagonal 346.4 mm: 1000 / 346.4 gives 3, 1040 gives 4 (ends included).
    CHECK(lowerBound(mesh::box({0, 0, 0}, {1000, 10, 10}), bed200, 0).pieces == 3);
    CHECK(lowerBound(mesh::box({0, 0, 0}, {1060, 10, 10}), bed200, 0).pieces == 4);
    CHECK(lowerBound(mesh::box({0, 0, 0}, {340, 10, 10}), bed200, 0).pieces == 1);
    CHECK(lowerBound(mesh::box({0, 0, 0}, {550, 200, 5}), bed200, 0).pieces == 2);
    CHECK(lowerBound(mesh::box({0, 0, 0}, {1000, 10, 10}), bed200, 0).reason == "3 points more than 346.4 mm apart");
    // Four corners and the middle, 353.6 mm from them.
    CHECK(lowerBound(mesh::box({0, 0, 0}, {500, 500, 5}), bed200, 0).pieces >= 5);
}

TEST_CASE("lower bound: spokes, helix, ring", "[lower_bound]")
{
    // Tips 370 / sin 72 degrees apart = 389 mm, and a point near the middle.
    const auto points = separatedPoints(spokes(370), 346.41);
    CHECK(points.size() == 13);
    // A ring of outer radius 315: chords of 72 degrees are 370 mm long, of 60 degrees 315 mm: five points. But the most
    // of the outermost circle that any piece has is the arc with a chord of 346.4 mm, 66.7 degrees, less than a fifth.
    CHECK(separatedPoints(mesh::torus(300, 15, 96, 24), 346.41).size() == 5);
    const LowerBound round = lowerBound(mesh::torus(300, 15, 360, 24), bed200, 0);
    CHECK(round.pieces == 6);
    CHECK(round.reason.find("round feature") == 0);
    std::vector<std::vector<Vec3>> rings;
    for (int i = 0; i <= 600; ++i) {
        const double a = 2 * std::numbers::pi * i / 40.0;
        std::vector<Vec3> ring;
        for (int k = 0; k < 8; ++k) {
            const double b = 2 * std::numbers::pi * k / 8;
            const double r = 94 + 4 * std::cos(b);
            ring.push_back({r * std::cos(a), r * std::sin(a), 592.0 * i / 600 + 4 * std::sin(b)});
        }
        rings.push_back(ring);
    }
    CHECK(lowerBound(mesh::loft(rings), bed200, 0).pieces == 3);
}

TEST_CASE("lower bound: rings by the arc that one piece holds", "[lower_bound]")
{
    // ceil(360 / (2 asin(D / 2 R))) with R of the outermost circle: 260: 83.5 degrees, 320: 65.5 degrees.
    CHECK(lowerBound(mesh::torus(240, 20, 360, 24), bed200, 0).pieces == 5);
    CHECK(lowerBound(mesh::torus(300, 20, 360, 24), bed200, 0).pieces == 6);
    // An arc of 120 degrees has a chord of sqrt 3 R: from there on three points of a circle may be in one piece. The
    // great circle of 190 mm: 131.4 degrees between the farthest two, 34.3 more on the other side: 2.17 pieces.
    Mesh inner = mesh::icosphere(188, 4);
    for (mesh::Triangle& t : inner.triangles)
        std::swap(t[1], t[2]);
    CHECK(lowerBound(mesh::joined(mesh::icosphere(190, 5), inner), bed200, 0).pieces == 3);
    // Sizes about the one at which a piece's arc is a fifth: D / 2 sin 36 degrees = 294.7 mm.
    CHECK(lowerBound(mesh::torus(289, 5, 2000, 12), bed200, 0).pieces == 5);
    CHECK(lowerBound(mesh::torus(296, 5, 2000, 12), bed200, 0).pieces == 6);
}

TEST_CASE("lower bound: straight features by their length, exactly", "[lower_bound]")
{
    // 3 x 346.41 = 1039.23: four points that far apart must be found to a hair, a length is measured.
    const double d = 200 * std::sqrt(3.0);
    CHECK(lowerBound(mesh::box({0, 0, 0}, {3 * d * 0.9999, 1, 1}), bed200, 0).pieces == 3);
    const LowerBound four = lowerBound(mesh::box({0, 0, 0}, {3 * d * 1.0001, 1, 1}), bed200, 0);
    CHECK(four.pieces == 4);
    // What counts is the material, in however many stretches: two bars in line.
    const mesh::Region bars{{{0, 0}, {100, 0}, {100, 4}, {0, 4}}, {{200, 0}, {300, 0}, {300, 4}, {200, 4}}};
    CHECK(longestWithin(bars) == Approx(200).epsilon(0.001));
    CHECK(longestWithin(bars) <= 200 * 1.0001);
    CHECK(longestWithin({}) == 0);
}

TEST_CASE("lower bound: flat areas against the largest section of a bed", "[lower_bound]")
{
    // sqrt 2 B2 for a cube (Ball 1986): 56,569 mm2. A plate of 545 x 545 mm: 297,025 mm2, 5.25 of them, and six points
    // 346 mm apart don't fit on it.
    CHECK(largestBoxSectionMm2(200, 200, 200) == Approx(std::sqrt(2.0) * 200 * 200));
    CHECK(largestBoxSectionMm2(100, 300, 200) == Approx(300 * std::hypot(100, 200)));
    CHECK(largestBoxSectionMm2(300, 200, 100) == largestBoxSectionMm2(100, 300, 200));
    const LowerBound plate = lowerBound(mesh::box({0, 0, 0}, {545, 545, 5}), bed200, 0);
    CHECK(plate.pieces == 6);
    // Any plane through the middle of a box has less than the largest: 2000 of them.
    std::mt19937 random(3);
    std::normal_distribution<double> normal(0, 1);
    const Mesh bed = mesh::box({-50, -75, -150}, {50, 75, 150});
    double most = 0;
    for (int i = 0; i < 2000; ++i) {
        const auto section =
            mesh::sectionByPlane(bed, mesh::planeAt({normal(random), normal(random), normal(random)}, 0.001));
        REQUIRE(section);
        most = std::max(most, mesh::area(*section));
    }
    CHECK(most < largestBoxSectionMm2(100, 150, 300));
    CHECK(most > 0.95 * largestBoxSectionMm2(100, 150, 300));
    // Round: an upright section and a level one, both at once, are more than any.
    const Mesh drum = mesh::cylinder(100, 150, 128);
    for (int i = 0; i < 300; ++i) {
        const auto section = mesh::sectionByPlane(
            drum, mesh::planeThrough({0, 0, 75}, {normal(random), normal(random), normal(random)}));
        REQUIRE(section);
        CHECK(mesh::area(*section) < largestCylinderSectionMm2(200, 150));
    }
    CHECK(lowerBound(mesh::cylinder(400, 4, 128), {{"", Bed::Shape::Round, 200, 200, 150, 1}}, 0).pieces >= 12);
}

TEST_CASE("lower bound: what is too large as a whole takes two", "[lower_bound]")
{
    // A cap of a thin ball: its points are less than the diagonal apart, its material little, its hull too large.
    const Mesh tube = mesh::revolved({{135, 0}, {138, 0}, {138, 195}, {135, 195}}, 128);
    const LowerBound bound = lowerBound(tube, bed200, 0);
    CHECK(bound.pieces == 2);
    CHECK(bound.reason == "its hull is larger than a bed");
}

TEST_CASE("lower bound: turning and moving the part changes nothing", "[lower_bound]")
{
    std::mt19937 random(4);
    std::normal_distribution<double> normal(0, 1);
    for (int i = 0; i < 10; ++i) {
        const Transform turn = Transform::translation({500, 100, -900}) *
                               Transform::rotation({normal(random), normal(random), normal(random)}, normal(random));
        CHECK(lowerBound(mesh::transformed(mesh::box({0, 0, 0}, {1000, 10, 10}), turn), bed200, 0).pieces == 3);
        CHECK(lowerBound(mesh::transformed(mesh::box({0, 0, 0}, {400, 400, 400}), turn), bed200, 0).pieces == 8);
    }
}

TEST_CASE("lower bound: the points found are far enough apart and on the surface", "[lower_bound]")
{
    const Mesh ball = mesh::icosphere(900, 5);
    const auto points = separatedPoints(ball, 346.41);
    CHECK(points.size() > 30);
    for (std::size_t i = 0; i < points.size(); ++i) {
        CHECK(length(points[i]) == Approx(900).epsilon(0.001));
        for (std::size_t k = 0; k < i; ++k)
            CHECK(length(points[i] - points[k]) > 346.41);
    }
    CHECK(separatedPoints(Mesh{}, 100).empty());
}

TEST_CASE("lower bound: bodies add up, unless a piece may hold several", "[lower_bound]")
{
    const Mesh two =
        mesh::joined(mesh::box({0, 0, 0}, {100, 10, 10}),
                     mesh::transformed(mesh::box({0, 0, 0}, {1000, 10, 10}), Transform::translation({0, 50, 0})));
    const LowerBound apart = lowerBound(two, bed200, 0);
    CHECK(apart.pieces == 4);
    CHECK(apart.reason == "2 bodies, one of which needs 3 (3 points more than 346.4 mm apart)");
    CHECK(lowerBound(two, bed200, 0, false).pieces == 3);
    // A disk's shadow of 324 mm across is more than the largest section.
    CHECK(lowerBound(mesh::torus(150, 12, 72, 12), bed200, 0).reason == "its hull is larger than a bed");
}

TEST_CASE("lower bound: largest bed counts, round ones by their cylinder, none without room", "[lower_bound]")
{
    const Bed round{"", Bed::Shape::Round, 250, 250, 300, 1};
    CHECK(lowerBound(mesh::box({0, 0, 0}, {390, 10, 10}), {round}, 0).pieces == 1); // hypot(250, 300) = 390.5
    CHECK(lowerBound(mesh::box({0, 0, 0}, {391, 10, 10}), {round}, 0).pieces == 2);
    CHECK(lowerBound(mesh::box({0, 0, 0}, {391, 10, 10}), {round, {"", Bed::Shape::Rectangular, 400, 50, 50, 1}}, 0)
              .pieces == 1);
    CHECK(lowerBound(mesh::box({0, 0, 0}, {391, 10, 10}), {round}, 150).pieces == 1);
    CHECK(lowerBound(mesh::box({0, 0, 0}, {391, 10, 10}), {}, 0).pieces == 1);
}
