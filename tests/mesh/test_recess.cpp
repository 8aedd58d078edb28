// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"
#include "mesh/recess.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"

#include <catch2/catch.hpp>

using namespace quoin::mesh;

namespace {

Loop circle(Vec2 middle, double radius, int sides)
{
    Loop loop;
    for (int i = 0; i < sides; ++i)
        loop.push_back(
            {middle.x + radius * std::cos(2 * M_PI * i / sides), middle.y + radius * std::sin(2 * M_PI * i / sides)});
    return loop;
}

Recess bore(Vec2 middle, double radius, double depth, int sides = 32)
{
    const Loop wall = circle(middle, radius, sides);
    return {{{0, {wall}}, {depth, {wall}}}};
}

/// The lower half of a box 40 x 40 x 40, cut at z = 0: its face carries label 1 and looks up.
Mesh halfBox()
{
    return cutByPlane(box({-20, -20, -20}, {20, 20, 20}), planeAt({0, 0, 1}, 0))->below;
}

constexpr Label feature = 1000001;

} // namespace

TEST_CASE("recess: a bore takes out a prism and leaves a solid")
{
    const Mesh m = halfBox();
    const Recess r = bore({3, -5}, 4, 10);
    // A regular polygon of n corners on radius r has the area n/2 r^2 sin(2 pi / n).
    const double prism = 16.0 * 16 * std::sin(2 * M_PI / 32) * 10;
    CHECK(volume(r) == Approx(prism).epsilon(1e-12));
    const auto sunk = withRecesses(m, 1, planeAt({0, 0, 1}, 0), {r}, feature);
    REQUIRE(sunk.ok());
    CHECK(topologyOf(*sunk).solid());
    CHECK(selfIntersections(*sunk).empty());
    CHECK(volume(m) - volume(*sunk) == Approx(prism).epsilon(1e-9));
    std::size_t walls = 0;
    for (std::size_t i = 0; i < sunk->triangles.size(); ++i)
        walls += sunk->label(i) == feature ? 1 : 0;
    CHECK(walls == 2 * 32 + 30); // two a side, and a floor of n - 2
}

TEST_CASE("recess: several at once, chamfered, with an island left standing")
{
    const Mesh m = halfBox();
    Recess chamfered = bore({-10, -10}, 3, 8);
    chamfered.levels[0].outline = {circle({-10, -10}, 3.5, 32)};
    chamfered.levels.insert(chamfered.levels.begin() + 1, {0.5, chamfered.levels[1].outline});
    Loop island = circle({8, 8}, 2, 16);
    std::reverse(island.begin(), island.end());
    const Region ring{circle({8, 8}, 5, 24), island};
    const Recess letter{{{0, ring}, {0.6, ring}}};
    const auto sunk = withRecesses(m, 1, planeAt({0, 0, 1}, 0), {chamfered, letter}, feature);
    REQUIRE(sunk.ok());
    CHECK(topologyOf(*sunk).solid());
    CHECK(selfIntersections(*sunk).empty());
    CHECK(volume(m) - volume(*sunk) == Approx(volume(chamfered) + volume(letter)).epsilon(1e-9));
}

TEST_CASE("recess: on the upper half and on an oblique face")
{
    const Plane plane = planeAt({0.3, -0.5, 0.8}, 2);
    const auto halves = cutByPlane(box({-20, -20, -20}, {20, 20, 20}), plane);
    REQUIRE(halves.ok());
    const Recess r = bore({1, 2}, 3, 6);
    const auto below = withRecesses(halves->below, 1, plane, {r}, feature);
    const auto above = withRecesses(halves->above, 1, {-plane.normal, -plane.offset}, {r}, feature);
    REQUIRE(below.ok());
    REQUIRE(above.ok());
    CHECK(topologyOf(*below).solid());
    CHECK(topologyOf(*above).solid());
    CHECK(volume(halves->below) - volume(*below) == Approx(volume(r)).epsilon(1e-9));
    CHECK(volume(halves->above) - volume(*above) == Approx(volume(r)).epsilon(1e-9));
}

TEST_CASE("recess: a second call on the same face, and on a face with a hole")
{
    const auto halves = cutByPlane(torus(30, 10, 48, 24), planeAt({0, 0, 1}, 0));
    REQUIRE(halves.ok());
    const Plane up = planeAt({0, 0, 1}, 0);
    const PlaneFrame frame = frameOf(up);
    const Recess one = bore(frame.flat({30, 0, 0}), 3, 5), two = bore(frame.flat({-30, 0, 0}), 3, 5);
    const auto first = withRecesses(halves->below, 1, up, {one}, feature);
    REQUIRE(first.ok());
    const auto second = withRecesses(*first, 1, up, {two}, feature);
    REQUIRE(second.ok());
    CHECK(topologyOf(*second).solid());
    CHECK(volume(halves->below) - volume(*second) == Approx(2 * volume(one)).epsilon(1e-9));
}

TEST_CASE("recess: refused when it leaves the face, meets another, or is malformed")
{
    const Mesh m = halfBox();
    const Plane up = planeAt({0, 0, 1}, 0);
    CHECK_FALSE(withRecesses(m, 1, up, {bore({19, 0}, 4, 5)}, feature).ok());
    CHECK_FALSE(withRecesses(m, 1, up, {bore({60, 0}, 4, 5)}, feature).ok());
    CHECK_FALSE(withRecesses(m, 1, up, {bore({0, 0}, 4, 5), bore({5, 0}, 4, 5)}, feature).ok());
    CHECK_FALSE(withRecesses(m, 7, up, {bore({0, 0}, 4, 5)}, feature).ok());
    Recess upward = bore({0, 0}, 4, 5);
    upward.levels[1].depthMm = -5;
    const auto refused = withRecesses(m, 1, up, {upward}, feature);
    REQUIRE_FALSE(refused.ok());
    CHECK(refused.problem().reason == quoin::Reason::JointFailed);
}

TEST_CASE("recess: refused when it breaks through the surface elsewhere, or into what was sunk from another face")
{
    const Mesh m = halfBox(); // 20 deep
    const Plane top = planeAt({0, 0, 1}, 0);
    CHECK(withRecesses(m, 1, top, {bore({0, 0}, 4, 19.999)}, feature).ok());
    for (const double depth : {20.0, 20.001, 30.0}) { // its floor in the surface, just past it, far out
        const auto through = withRecesses(m, 1, top, {bore({0, 0}, 4, depth)}, feature);
        REQUIRE_FALSE(through.ok());
        CHECK(through.problem().what.find("breaks through") != std::string::npos);
        CHECK_FALSE(through.problem().place.empty());
        CHECK_FALSE(through.problem().remedy.empty());
    }
    // A cone that widens through the side.
    Recess wide = bore({14, 0}, 4, 10);
    wide.levels[1].outline = {circle({14, 0}, 7, 32)};
    CHECK_FALSE(withRecesses(m, 1, top, {wide}, feature).ok());
    // From the side: 12 deep at 6 to 14 below the top, into a bore that is there, and past it.
    const auto halves = cutByPlane(m, planeAt({1, 0, 0}, 10), {.label = 2});
    REQUIRE(halves.ok());
    const auto bored = withRecesses(halves->below, 1, top, {bore({0, 0}, 4, 15)}, feature);
    REQUIRE(bored.ok());
    const Plane side = planeAt({1, 0, 0}, 10);
    const auto beside = [&](double y, double depth) {
        const Vec2 middle = frameOf(side).flat({10, y, -10});
        return withRecesses(*bored, 2, side, {bore(middle, 4, depth)}, feature + 1);
    };
    CHECK_FALSE(beside(0, 12).ok());
    CHECK(beside(0, 5.5).ok());
    CHECK(beside(9, 12).ok());
}

TEST_CASE("recess: the outline of a face, whichever way it looks")
{
    const Plane plane = planeAt({0, 0, 1}, 0);
    const auto halves = cutByPlane(torus(30, 10, 48, 24), plane);
    REQUIRE(halves.ok());
    const double below = area(faceOutline(halves->below, 1, plane)), above = area(faceOutline(halves->above, 1, plane));
    CHECK(below == Approx(above).epsilon(1e-12));
    CHECK(below == Approx(48.0 / 2 * std::sin(2 * M_PI / 48) * (40 * 40 - 20 * 20)).epsilon(1e-9));
}
