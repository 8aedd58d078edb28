// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample_models/heron_linkage.h"
#include "sample_models/heron_sizes.h"

#include <catch2/catch.hpp>

#include <numbers>

using namespace quoin::samples;
using quoin::mesh::Transform;
using quoin::mesh::Vec2;
using quoin::mesh::Vec3;
using std::numbers::pi;

namespace {

constexpr Vec2 hinge{size::hingeY, size::hingeZ};
constexpr Vec2 axis{0, size::crankZ};
constexpr double roundingMm = 1e-9;

/// Angle at the hinge between the crank axis and the rod pin, from the three sides (law of cosines).
double angleAtHinge(const FourBar& bars, double axisToRodPin)
{
    return std::acos((bars.ground * bars.ground + bars.lever * bars.lever - axisToRodPin * axisToRodPin) /
                     (2 * bars.ground * bars.lever));
}

/// The same angle from a pose.
double angleAtHinge(const LinkagePose& pose)
{
    const Vec2 a = axis - hinge, b = pose.leftRodPin - hinge;
    return std::atan2(std::abs(cross(a, b)), dot(a, b));
}

} // namespace

TEST_CASE("heron linkage: a crank that turns round and a wing that rocks")
{
    const FourBar bars = heronFourBar();
    CHECK(bars.crankTurnsRound());
    // Grashof 1883: shortest + longest < the other two, the shortest being the crank.
    CHECK(bars.crank + bars.rod < bars.lever + bars.ground);
    // Counter-examples: a crank too long, and a crank that is not the shortest.
    CHECK_FALSE(FourBar{13, 42, 13.9, 41.1}.crankTurnsRound());
    CHECK_FALSE(FourBar{15, 42, 13.9, 41.1}.crankTurnsRound());
    CHECK_FALSE(FourBar{6, 60, 13.9, 41.1}.crankTurnsRound());
}

TEST_CASE("heron linkage: bars keep their lengths all the way round, on both sides")
{
    const FourBar bars = heronFourBar();
    for (int degrees = 0; degrees < 360; ++degrees) {
        const LinkagePose pose = linkageAt(degrees * pi / 180);
        CHECK(std::abs(length(pose.crankPin - axis) - bars.crank) < roundingMm);
        CHECK(std::abs(length(pose.leftRodPin - pose.crankPin) - bars.rod) < roundingMm);
        CHECK(std::abs(length(pose.rightRodPin - pose.crankPin) - bars.rod) < roundingMm);
        CHECK(std::abs(length(pose.leftRodPin - hinge) - bars.lever) < roundingMm);
        CHECK(std::abs(length(pose.rightRodPin - Vec2{-hinge.x, hinge.y}) - bars.lever) < roundingMm);
        // Common practice, no source: 40 to 140 degrees between rod and lever, or the wing binds.
        const Vec2 rod = pose.crankPin - pose.leftRodPin, lever = hinge - pose.leftRodPin;
        const double between = std::abs(std::atan2(cross(rod, lever), dot(rod, lever))) * 180 / pi;
        CHECK(between > 40);
        CHECK(between < 140);
    }
}

TEST_CASE("heron linkage: the left wing does what the right one does with the crank mirrored")
{
    for (int degrees = 0; degrees < 360; degrees += 7) {
        const double angle = degrees * pi / 180;
        CHECK(linkageAt(angle).leftWing == Approx(linkageAt(pi - angle).rightWing).margin(1e-12));
    }
    const LinkagePose top = linkageAt(pi / 2);
    CHECK(top.leftWing == Approx(top.rightWing).margin(1e-12));
    CHECK(top.leftWing > 20 * pi / 180);
}

TEST_CASE("heron linkage: the stroke ends where crank and rod lie in line")
{
    const FourBar bars = heronFourBar();
    double least = pi, most = 0;
    int turns = 0;
    double before = linkageAt(-0.002).leftWing, rise = 1;
    constexpr int steps = 3600;
    for (int i = 0; i <= steps; ++i) {
        const LinkagePose pose = linkageAt(2 * pi * i / steps);
        least = std::min(least, angleAtHinge(pose));
        most = std::max(most, angleAtHinge(pose));
        if ((pose.leftWing - before) * rise < 0) {
            rise = -rise;
            ++turns;
        }
        before = pose.leftWing;
    }
    CHECK(most == Approx(angleAtHinge(bars, bars.rod + bars.crank)).margin(1e-6));
    CHECK(least == Approx(angleAtHinge(bars, bars.rod - bars.crank)).margin(1e-6));
    CHECK(turns == 2);
    CHECK(most - least > 45 * pi / 180);
}

TEST_CASE("heron linkage: frames put each link where the pose says")
{
    const LinkagePose pose = linkageAt(1.1);
    const auto far = [](Vec3 a, Vec3 b) { return length(a - b); };
    const auto across = [](Vec2 p) { return Vec3{0, p.x, p.y}; };
    CHECK(far(linkFrame(Link::Crank, pose).point({0, 0, size::throwRadius}), across(pose.crankPin)) < roundingMm);
    CHECK(far(linkFrame(Link::LeftRod, pose).point({0, size::rodLength, 0}), across(pose.leftRodPin)) < roundingMm);
    CHECK(far(linkFrame(Link::RightRod, pose).point({0, size::rodLength, 0}), across(pose.rightRodPin)) < roundingMm);
    const Vec3 left = linkFrame(Link::LeftWing, pose).point({-size::hingeX, size::leverY, size::leverZ});
    const Vec3 right = linkFrame(Link::RightWing, pose).point({-size::hingeX, -size::leverY, size::leverZ});
    CHECK(far(left, across(pose.leftRodPin)) < roundingMm);
    CHECK(far(right, across(pose.rightRodPin)) < roundingMm);
}
