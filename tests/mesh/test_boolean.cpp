// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/boolean.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <numbers>

using namespace quoin::mesh;
using quoin::Reason;

namespace {

constexpr double exactly = 1e-12; // relative
const Mesh a = box({0, 0, 0}, {10, 10, 10});
const Mesh b = box({5, 5, 5}, {15, 15, 15});

} // namespace

TEST_CASE("boolean: two overlapping cubes")
{
    CHECK(volume(*solidUnion(a, b)) == Approx(1875).epsilon(exactly));
    CHECK(volume(*solidDifference(a, b)) == Approx(875).epsilon(exactly));
    CHECK(volume(*solidIntersection(a, b)) == Approx(125).epsilon(exactly));
}

TEST_CASE("boolean: a bore through a plate keeps the exact volume")
{
    const int sides = 48;
    const Mesh plate = box({-20, -20, 0}, {20, 20, 6});
    const Mesh drill = transformed(cylinder(5, 10, sides, 4), Transform::translation({0.3, 0.7, -2}));
    const auto bored = solidDifference(plate, drill);
    REQUIRE(bored.ok());
    const double circle = 0.5 * sides * 25 * std::sin(2 * std::numbers::pi / sides);
    CHECK(volume(*bored) == Approx(1600 * 6 - 6 * circle).epsilon(exactly));
    // V - E + F is 0 with one handle; E = 3F/2 when closed.
    CHECK(2 * bored->points.size() == bored->triangles.size());
}

TEST_CASE("boolean: coplanar faces and equal solids")
{
    const Mesh beside = box({10, 0, 0}, {14, 10, 10});
    CHECK(volume(*solidUnion(a, beside)) == Approx(1400).epsilon(exactly));
    CHECK(solidIntersection(a, beside)->empty());
    CHECK(solidDifference(a, a)->empty());
    CHECK(volume(*solidIntersection(a, a)) == Approx(1000).epsilon(exactly));
    const Mesh flush = box({2, 2, 0}, {8, 8, 4});
    CHECK(volume(*solidDifference(a, flush)) == Approx(1000 - 144).epsilon(exactly));
}

TEST_CASE("boolean: one inside the other, and apart")
{
    const Mesh small = box({4, 4, 4}, {6, 6, 6});
    CHECK(volume(*solidDifference(a, small)) == Approx(992).epsilon(exactly));
    CHECK(solidDifference(small, a)->empty());
    CHECK(volume(*solidUnion(a, small)) == Approx(1000).epsilon(exactly));
    const Mesh apart = box({20, 0, 0}, {21, 1, 1});
    CHECK(volume(*solidUnion(a, apart)) == Approx(1001).epsilon(exactly));
    CHECK(solidIntersection(a, apart)->empty());
}

TEST_CASE("boolean: an empty solid changes nothing")
{
    CHECK(volume(*solidUnion(a, {})) == Approx(1000).epsilon(exactly));
    CHECK(volume(*solidUnion({}, a)) == Approx(1000).epsilon(exactly));
    CHECK(volume(*solidDifference(a, {})) == Approx(1000).epsilon(exactly));
    CHECK(solidDifference({}, a)->empty());
    CHECK(solidIntersection(a, {})->empty());
}

TEST_CASE("boolean: volumes of a and b are conserved on round bodies")
{
    const Mesh ball = icosphere(7, 3);
    const Mesh bar = transformed(cylinder(3, 30, 40, 10), Transform::translation({1, 2, -15}));
    const double together = volume(*solidUnion(ball, bar)) + volume(*solidIntersection(ball, bar));
    CHECK(together == Approx(volume(ball) + volume(bar)).epsilon(1e-11));
    CHECK(volume(*solidDifference(ball, bar)) + volume(*solidIntersection(ball, bar)) ==
          Approx(volume(ball)).epsilon(1e-11));
}

TEST_CASE("boolean: edges that all but meet leave no slivers behind")
{
    // The drill's corners lie half a step off the disc's, and its diagonals cross the disc's face in the middle of a
    // row, where the rays of the face's fan cross them too: exactly in theory, by 1e-16 in doubles.
    const int sides = 64;
    const double halfStep = std::numbers::pi / sides;
    const Mesh disc = transformed(cylinder(4.1, 18, sides, 9), Transform::translation({0, 0, -9}));
    const Mesh drill = transformed(cylinder(2.2, 20, sides, 10),
                                   Transform::translation({0, 0, -10}) * Transform::rotation({0, 0, 1}, halfStep));
    const auto bored = solidDifference(disc, drill);
    REQUIRE(bored.ok());
    Mesh rounded = *bored;
    for (Vec3& p : rounded.points)
        p = {static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z)};
    const Topology topology = topologyOf(welded(rounded));
    CHECK(topology.solid());
    CHECK(topology.degenerateTriangles == 0);
    CHECK(selfIntersections(rounded).empty());
}

TEST_CASE("boolean: what is no solid is refused with its reason")
{
    Mesh open = a;
    open.triangles.pop_back();
    CHECK(solidUnion(open, b).problem().reason == Reason::NotClosed);
    CHECK(solidUnion(b, open).problem().what.find("second") != std::string::npos);

    Mesh inside = a;
    for (Triangle& t : inside.triangles)
        std::swap(t[1], t[2]);
    CHECK(solidDifference(b, inside).problem().reason == Reason::NotOriented);

    Mesh turned = a;
    std::swap(turned.triangles[0][1], turned.triangles[0][2]);
    CHECK(solidDifference(turned, b).problem().reason == Reason::NotClosed);

    // Two boxes run through each other as one mesh, and the tool reaches the place where they cross.
    const Mesh crossed = joined(a, box({5, 2, 2}, {15, 8, 8}));
    CHECK(solidDifference(crossed, box({8, 1, 1}, {12, 9, 9})).problem().reason == Reason::SelfIntersecting);

    // Two cubes that touch along an edge: the union is no 2-manifold.
    CHECK(solidUnion(a, box({10, 10, 0}, {20, 20, 10})).problem().reason == Reason::CutFailed);
}

TEST_CASE("boolean: labels are dropped")
{
    Mesh labelled = a;
    labelled.labels.assign(labelled.triangles.size(), 3);
    CHECK(solidUnion(labelled, b)->labels.empty());
    CHECK(solidUnion(labelled, {})->labels.empty());
}
