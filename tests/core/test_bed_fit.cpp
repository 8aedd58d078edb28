// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/bed_fit.h"
#include "mesh/hull.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"

#include <catch2/catch.hpp>

#include <numbers>
#include <random>

using namespace quoin;
using namespace quoin::core;
using mesh::Mesh;
using mesh::Transform;
using mesh::Vec2;
using mesh::Vec3;

namespace {

Bed cubeBed(double sideMm)
{
    return {"cube", Bed::Shape::Rectangular, sideMm, sideMm, sideMm, 1};
}

Mesh boxOf(double x, double y, double z)
{
    return mesh::box({0, 0, 0}, {x, y, z});
}

/// The piece as it would be read back from a file of 32-bit floats.
Mesh rounded(Mesh m)
{
    for (Vec3& p : m.points)
        p = {static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z)};
    return m;
}

/// Slack of a polygon turned by an angle, from its points alone.
double slackTurned(const std::vector<Vec2>& polygon, double radians, double width, double depth)
{
    mesh::Box3 box;
    for (const Vec2 p : polygon)
        box.add(
            {p.x * std::cos(radians) - p.y * std::sin(radians), p.x * std::sin(radians) + p.y * std::cos(radians), 0});
    return std::min(width - box.extents().x, depth - box.extents().y);
}

/// Checks a pose by what it promises: rigid, on the plate, in the middle, within the bed after rounding.
void checkPose(const Mesh& piece, const Pose& pose, const std::vector<Bed>& beds, double marginMm)
{
    const Mesh placed = rounded(mesh::transformed(piece, pose.printFromAssembled));
    const mesh::Box3 box = mesh::bounds(placed);
    CHECK(pose.printFromAssembled.determinant() == Approx(1).epsilon(1e-12));
    CHECK(std::abs(box.min.z) < 1e-9);
    CHECK(roomLeftMm(placed, beds[pose.bed], marginMm) >= 0);
    CHECK(mesh::volume(placed) == Approx(mesh::volume(piece)).epsilon(1e-5));
    CHECK(box.extents().z == Approx(pose.extentsMm.z).epsilon(1e-6));
}

std::optional<Pose> fit(const Mesh& piece, const Bed& bed, double marginMm = 0, bool anyRotation = false)
{
    const std::optional<Pose> pose = fitOnBeds(piece, {bed}, {marginMm, anyRotation});
    if (pose)
        checkPose(piece, *pose, {bed}, marginMm);
    return pose;
}

} // namespace

TEST_CASE("best turn: never worse than a fine search, and the slack is what the turn gives", "[bed_fit]")
{
    std::mt19937 random(11);
    std::uniform_real_distribution<double> coordinate(-1, 1);
    for (int round = 0; round < 200; ++round) {
        std::vector<Vec2> points;
        for (int i = 0; i < 3 + round % 20; ++i)
            points.push_back({300 * coordinate(random), (20 + round) * coordinate(random)});
        const double width = 250 + 100 * coordinate(random), depth = 250 + 100 * coordinate(random);
        const TurnFit turn = bestTurn(points, width, depth);
        CHECK(turn.slackMm == Approx(slackTurned(points, turn.radians, width, depth)).margin(1e-9));
        double searched = -1e300;
        for (int k = 0; k < 3600; ++k)
            searched = std::max(searched, slackTurned(points, k * std::numbers::pi / 3600, width, depth));
        CHECK(turn.slackMm >= searched - 1e-9);
        // Slack changes by at most the diameter a radian: the search can't be further off than that.
        CHECK(turn.slackMm <= searched + 700 * std::numbers::pi / 3600);
    }
}

TEST_CASE("best turn: a rectangle in a square lies at 45 degrees when that helps", "[bed_fit]")
{
    // Closed form: both extents are (275 + 5) / sqrt 2 at 45 degrees.
    const TurnFit turn = bestTurn({{0, 0}, {275, 0}, {275, 5}, {0, 5}}, 200, 200);
    CHECK(turn.slackMm == Approx(200 - 280 / std::numbers::sqrt2));
    CHECK(std::abs(std::remainder(turn.radians - std::numbers::pi / 4, std::numbers::pi / 2)) < 1e-12);
}

TEST_CASE("best turn: points, segments and squares", "[bed_fit]")
{
    CHECK(bestTurn({}, 200, 100).slackMm == 100);
    CHECK(bestTurn({{5, 5}}, 200, 100).slackMm == 100);
    // A segment of 250 in 200 x 100 fits nowhere: best where 200 - 250 cos t = 100 - 250 sin t.
    const TurnFit segment = bestTurn({{0, 0}, {250, 0}}, 200, 100);
    CHECK(segment.slackMm == Approx(slackTurned({{0, 0}, {250, 0}}, segment.radians, 200, 100)));
    const double t = std::acos(100 / (250 * std::numbers::sqrt2)) - std::numbers::pi / 4;
    CHECK(segment.slackMm == Approx(200 - 250 * std::cos(t)));
    CHECK(bestTurn({{0, 0}, {200, 0}, {200, 200}, {0, 200}}, 200, 200).slackMm == Approx(0).margin(1e-9));
}

TEST_CASE("fit: a cube of exactly the bed fits, a millionth larger does not", "[bed_fit]")
{
    for (const double side : {200.0, 220.0, 300.0, 333.3, 500.0}) {
        const Bed bed = cubeBed(side);
        const auto pose = fit(boxOf(side, side, side), bed);
        REQUIRE(pose);
        CHECK(pose->slackMm == Approx(0).margin(1e-4));
        CHECK(pose->standsFlat);
        CHECK(pose->baseAreaMm2 == Approx(side * side));
        CHECK_FALSE(fit(boxOf(side * (1 + 1e-6), side, side), bed));
        CHECK_FALSE(fit(boxOf(side, side * (1 + 1e-6), side), bed));
        CHECK_FALSE(fit(boxOf(side, side, side * (1 + 1e-6)), bed));
        CHECK(fit(boxOf(side * (1 - 1e-6), side, side), bed));
    }
}

TEST_CASE("fit: turning the model does not change whether a cube of exactly the bed fits", "[bed_fit]")
{
    std::mt19937 random(2);
    std::normal_distribution<double> normal(0, 1);
    for (int i = 0; i < 20; ++i) {
        const Transform turn = Transform::translation({1500, -800, 900}) *
                               Transform::rotation({normal(random), normal(random), normal(random)}, normal(random));
        CHECK(fit(mesh::transformed(boxOf(200, 200, 200), turn), cubeBed(200)));
        CHECK_FALSE(fit(mesh::transformed(boxOf(200.0002, 200, 200), turn), cubeBed(200)));
    }
}

TEST_CASE("fit: the margin is kept on four sides and at the top", "[bed_fit]")
{
    const Bed bed{"", Bed::Shape::Rectangular, 210, 310, 405, 1};
    CHECK(fit(boxOf(200, 300, 400), bed, 5));
    CHECK_FALSE(fit(boxOf(200.01, 300, 400), bed, 5));
    CHECK_FALSE(fit(boxOf(200, 300.01, 400), bed, 5));
    CHECK_FALSE(fit(boxOf(200, 300, 400.01), bed, 5));
    CHECK_FALSE(fit(boxOf(1, 1, 1), cubeBed(10), 5));
}

TEST_CASE("fit: a plate of 275 x 200 x 5 stands on edge at 45 degrees in a bed of 200", "[bed_fit]")
{
    const auto pose = fit(boxOf(275, 200, 5), cubeBed(200));
    REQUIRE(pose);
    CHECK(pose->standsFlat);
    CHECK(pose->extentsMm.z == Approx(200));
    CHECK(pose->extentsMm.x == Approx(280 / std::numbers::sqrt2));
    CHECK(pose->baseAreaMm2 == Approx(275 * 5));
    CHECK_FALSE(fit(boxOf(278, 200, 5), cubeBed(200))); // (278 + 5) / sqrt 2 = 200.1
}

TEST_CASE("fit: square rods reach sqrt 2 B - d lying flat, more when free", "[bed_fit]")
{
    const double flat = 200 * std::numbers::sqrt2 - 10; // 272.8
    CHECK(fit(boxOf(flat - 0.001, 10, 10), cubeBed(200)));
    CHECK_FALSE(fit(boxOf(flat + 0.001, 10, 10), cubeBed(200)));
    // Free: at least 328.8 is known to fit (numeric search; in no case more than the diagonal, 346.4).
    const auto free = fit(boxOf(328.5, 10, 10), cubeBed(200), 0, true);
    REQUIRE(free);
    CHECK_FALSE(free->standsFlat);
    CHECK_FALSE(fit(boxOf(346.5, 10, 10), cubeBed(200), 0, true));
}

TEST_CASE("fit: parts of a cube of 202 in a bed of 200", "[bed_fit]")
{
    CHECK_FALSE(fit(boxOf(202, 202, 202), cubeBed(200), 0, true));
    CHECK(fit(boxOf(202, 101, 67.33), cubeBed(200))); // (202 + 67.3) / sqrt 2 = 190.4
    CHECK(fit(boxOf(202, 101, 80.8), cubeBed(200)));  // (202 + 80.8) / sqrt 2 = 199.97
    CHECK_FALSE(fit(boxOf(202, 101, 80.9), cubeBed(200)));
    // A slab of 202 x 202 fits in no pose on a face, but turned freely up to about 23 mm.
    CHECK_FALSE(fit(boxOf(202, 202, 20), cubeBed(200)));
    CHECK(fit(boxOf(202, 202, 20), cubeBed(200), 0, true));
    CHECK_FALSE(fit(boxOf(202, 202, 30), cubeBed(200), 0, true));
}

TEST_CASE("fit: a round bed takes the enclosing circle", "[bed_fit]")
{
    const Bed round{"", Bed::Shape::Round, 250, 250, 300, 1};
    CHECK(fit(boxOf(150, 200, 300), round)); // hypot(150, 200) = 250 exactly
    CHECK_FALSE(fit(boxOf(150.001, 200, 300), round));
    CHECK_FALSE(fit(boxOf(150, 200, 300), round, 1));
    const auto pose = fit(boxOf(140, 190, 290), round, 2);
    REQUIRE(pose);
    CHECK(pose->slackMm == Approx(123 - std::hypot(140, 190) / 2));
    // A rod leaning in the cylinder: its diagonal has to stay below hypot(250, 300) = 390.5.
    CHECK(fit(boxOf(375, 10, 10), round, 0, true));
    CHECK_FALSE(fit(boxOf(391, 10, 10), round, 0, true));
    // A triangle's enclosing circle is not about the middle of its bounds.
    CHECK(fit(mesh::cylinder(124.999, 300, 3), round));
}

TEST_CASE("fit: the smallest bed that fits, then the larger base, then less height", "[bed_fit]")
{
    const std::vector<Bed> beds{cubeBed(500), cubeBed(200), cubeBed(300)};
    const auto small = fitOnBeds(boxOf(180, 100, 50), beds, {5, false});
    REQUIRE(small);
    CHECK(small->bed == 1);
    CHECK(small->baseAreaMm2 == Approx(18000));
    const auto middle = fitOnBeds(boxOf(250, 100, 50), beds, {5, false});
    REQUIRE(middle);
    CHECK(middle->bed == 2);
    // Bases of 200 x 100 and 200 x 95 are nearly as large: the lower print wins.
    const auto low = fitOnBeds(boxOf(200, 100, 95), {cubeBed(300)}, {5, false});
    REQUIRE(low);
    CHECK(low->extentsMm.z == Approx(95));
}

TEST_CASE("fit: a flat base is real area with the centre of mass over it", "[bed_fit]")
{
    // A cup's rim: the hull has a full disc there, the mesh only a ring; it still stands on it, with the ring's area.
    const Mesh ring = mesh::revolved({{40, 0}, {50, 0}, {50, 60}, {40, 60}}, 64);
    const auto cup = fit(ring, cubeBed(200));
    REQUIRE(cup);
    const double sectors = 32 * std::sin(2 * std::numbers::pi / 64);
    CHECK(cup->baseAreaMm2 == Approx(sectors * (50 * 50 - 40 * 40)));
    // A ball has no flat face: it fits, and needs support.
    const auto ball = fit(mesh::icosphere(90, 4), cubeBed(200));
    REQUIRE(ball);
    CHECK_FALSE(ball->standsFlat);
    CHECK(ball->slackMm > 19);
}

TEST_CASE("fit: a face that the centre of mass does not stand over is no base", "[bed_fit]")
{
    // An oblique prism leaning over by three times its base: its two ends are its flat faces of smallest area, but it
    // falls over on them.
    Mesh leaning = boxOf(50, 50, 60);
    for (Vec3& p : leaning.points)
        p.x += 2.5 * p.z;
    const auto pose = fitOnBeds(leaning, {cubeBed(220)}, {0, false});
    REQUIRE(pose);
    CHECK(pose->standsFlat);
    checkPose(leaning, *pose, {cubeBed(220)}, 0);
    const Vec3 down = pose->printFromAssembled.rigidInverse().direction({0, 0, -1});
    CHECK(std::abs(down.z) < 0.999);
}

TEST_CASE("fit: closest pose says by how much a piece sticks out", "[bed_fit]")
{
    const Mesh box = boxOf(210, 150, 190);
    const auto pose = closestPose(PieceShape(box), {cubeBed(200)}, {0, false});
    REQUIRE(pose);
    CHECK(pose->slackMm < 0);
    CHECK(pose->slackMm == Approx(-10));
    CHECK_FALSE(closestPose(PieceShape(box), {}, {0, false}));
    CHECK_FALSE(closestPose(PieceShape(Mesh{}), {cubeBed(200)}, {0, false}));
    CHECK_FALSE(fitOnBeds(Mesh{}, {cubeBed(200)}));
}

TEST_CASE("fit: what is plainly too large, and what isn't", "[bed_fit]")
{
    const Mesh box = boxOf(30, 40, 50), ball = mesh::icosphere(100, 5);
    // Box: half the sum of its sides; ball: its diameter (less what the facets cut off).
    CHECK(measuresOf(box).meanWidthMm == Approx(60));
    CHECK(measuresOf(box).areaMm2 == Approx(2.0 * (1200 + 1500 + 2000)));
    CHECK(measuresOf(ball).meanWidthMm == Approx(200).epsilon(0.001));
    const auto tooLarge = [](const Mesh& m, const Bed& bed) { return clearlyTooLarge(measuresOf(m), {bed}, 0); };
    CHECK_FALSE(tooLarge(boxOf(200, 200, 200), cubeBed(200)));
    CHECK(tooLarge(boxOf(200.001, 200, 200), cubeBed(200)));
    CHECK(tooLarge(boxOf(346.5, 1, 1), cubeBed(200)));
    CHECK_FALSE(tooLarge(boxOf(328, 10, 10), cubeBed(200)));
    const Bed round{"", Bed::Shape::Round, 250, 250, 300, 1};
    CHECK_FALSE(tooLarge(mesh::cylinder(125, 300, 64), round));
    CHECK(tooLarge(mesh::cylinder(126, 300, 64), round));
}

TEST_CASE("fit: a ball of a quarter of a million points goes through the inner hull to the same answer", "[bed_fit]")
{
    const Mesh ball = mesh::icosphere(99.5, 7);
    const PieceShape shape(ball);
    REQUIRE_FALSE(shape.hullIsExact());
    const auto pose = fitOnBeds(shape, {cubeBed(200)}, {0, false});
    REQUIRE(pose);
    checkPose(ball, *pose, {cubeBed(200)}, 0);
    CHECK_FALSE(fitOnBeds(shape, {cubeBed(198.9)}, {0, false}));
}

TEST_CASE("room left: to each side, over the plate, on a round bed", "[bed_fit]")
{
    const Mesh box = mesh::box({-40, -30, 0}, {40, 30, 50});
    CHECK(roomLeftMm(box, cubeBed(100), 5) == Approx(5));
    CHECK(roomLeftMm(box, cubeBed(100), 12) == Approx(-2));
    CHECK(roomLeftMm(mesh::box({-40, -30, -0.5}, {40, 30, 50}), cubeBed(100), 5) == Approx(-0.5));
    CHECK(roomLeftMm(box, {"", Bed::Shape::Round, 110, 110, 100, 1}, 3) == Approx(2));
    CHECK(roomLeftMm(mesh::box({-40, -30, 0}, {40, 30, 98}), cubeBed(100), 5) == Approx(-3));
    CHECK(roomLeftMm(mesh::box({-50.000001, -30, 0}, {50, 30, 50}), cubeBed(100), 0) == 0);
}
