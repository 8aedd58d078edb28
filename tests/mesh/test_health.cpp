// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/health.h"
#include "mesh/mass.h"
#include "tests/support/scratch.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <limits>

using namespace quoin;
using namespace quoin::mesh;
using namespace quoin::test;

namespace {

std::optional<Reason> why(const Mesh& m)
{
    const Health h = healthOf(m);
    const auto problem = whyNotSound(m, h);
    CHECK(h.sound() == !problem.has_value());
    if (!problem)
        return std::nullopt;
    CHECK_FALSE(problem->what.empty());
    CHECK_FALSE(problem->remedy.empty());
    // Whatever keeps it from being cut is among the notes as an error.
    CHECK(std::any_of(h.notes.begin(), h.notes.end(), [&](const Note& n) {
        return n.severity == Note::Severity::Error && n.text.find(problem->what) != std::string::npos;
    }));
    return problem->reason;
}

bool says(const Health& h, const std::string& words)
{
    return std::any_of(h.notes.begin(), h.notes.end(),
                       [&](const Note& n) { return n.text.find(words) != std::string::npos; });
}

} // namespace

TEST_CASE("health: a sound box with its figures")
{
    const Mesh m = cuboid({0, 0, 0}, {20, 30, 2});
    const Health h = healthOf(m);
    CHECK(h.sound());
    CHECK_FALSE(whyNotSound(m, h));
    CHECK(h.triangles == 12);
    CHECK(h.volumeMm3 == Approx(1200));
    CHECK(h.areaMm2 == Approx(1400));
    CHECK(h.extentsMm == Vec3{20, 30, 2});
    REQUIRE(h.bodies.size() == 1);
    CHECK(*h.bodies[0].thinnestWallMm == Approx(2));
    CHECK(says(h, "thinnest wall met is 2 mm"));
    CHECK(
        std::none_of(h.notes.begin(), h.notes.end(), [](const Note& n) { return n.severity != Note::Severity::Info; }));
}

TEST_CASE("health: each reason, with its place")
{
    CHECK(why({}) == Reason::NoVolume);
    CHECK(why(without(cube({0, 0, 0}, 5), {3})) == Reason::NotClosed);
    CHECK(why(weldedTogether({cube({0, 0, 0}, 1), cube({1, 1, 0}, 1)})) == Reason::NotManifold);
    CHECK(why(weldedTogether({cube({0, 0, 0}, 1), cube({1, 1, 1}, 1)})) == Reason::NotManifold);
    CHECK(why(together({cube({0, 0, 0}, 2), cube({1, 1, 1}, 2)})) == Reason::SelfIntersecting);
    CHECK(why(turnedOver(cube({0, 0, 0}, 2))) == Reason::NotOriented);
    Mesh flipped = cube({0, 0, 0}, 2);
    std::swap(flipped.triangles[0][0], flipped.triangles[0][1]);
    CHECK(why(flipped) == Reason::NotOriented);
    // Touching in space is as bad as cutting: the place is neither inside nor outside.
    CHECK(why(together({cube({0, 0, 0}, 1), cube({1, 0, 0}, 1)})) == Reason::SelfIntersecting);

    const Mesh hole = without(cube({0, 0, 0}, 5), {3});
    const auto problem = whyNotSound(hole, healthOf(hole));
    REQUIRE(problem);
    CHECK(problem->sentence() ==
          "the surface is not closed: 1 hole with 3 open edges (" + problem->place + "). Repair it (--repair).");
    CHECK(problem->place.find("5.000) mm") != std::string::npos); // the hole is in the top
}

TEST_CASE("health: numbers that aren't finite are said, not computed with")
{
    for (const double bad : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
        Mesh m = cube({0, 0, 0}, 2);
        m.points[3].y = bad;
        CHECK(why(m) == Reason::NumberNotFinite);
        CHECK(healthOf(m).notFinite == 1);
    }
}

TEST_CASE("health: a doubled sheet encloses nothing")
{
    const Mesh sheet = soup({{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}}, {{0, 1, 2}, {0, 2, 3}, {0, 2, 1}, {0, 3, 2}});
    CHECK(why(sheet).has_value());
    CHECK(says(healthOf(sheet), "encloses no volume"));
    CHECK(says(healthOf(sheet), "2 triangles are there twice"));
}

TEST_CASE("health: a hollow body is one sound body with a cavity, not one inside out")
{
    const Mesh m = together({cube({0, 0, 0}, 10), turnedOver(cube({1, 1, 1}, 8))});
    const Health h = healthOf(m);
    CHECK(h.sound());
    REQUIRE(h.bodies.size() == 1);
    CHECK(h.bodies[0].cavities == 1);
    CHECK(h.volumeMm3 == Approx(1000 - 512));
    CHECK(*h.bodies[0].thinnestWallMm == Approx(1));
    CHECK(says(h, "1 closed cavity that nothing leads into"));
    CHECK_FALSE(says(h, "inside out"));
}

TEST_CASE("health: a body inside out among others, and one inside another's material")
{
    const Mesh turned = together({cube({0, 0, 0}, 10), turnedOver(cube({20, 0, 0}, 5))});
    CHECK(why(turned) == Reason::NotOriented);
    CHECK(says(healthOf(turned), "1 of 2 bodies is inside out"));
    CHECK(healthOf(turned).bodies[1].volumeMm3 == Approx(-125));

    const Mesh twice = together({cube({0, 0, 0}, 10), cube({2, 2, 2}, 5)});
    CHECK(why(twice) == Reason::SelfIntersecting);
    CHECK(healthOf(twice).bodies[1].inMaterial);
    CHECK(says(healthOf(twice), "1 of 2 bodies lies inside the solid material of another"));
}

TEST_CASE("health: per body and whole")
{
    const Mesh m =
        together({without(sphere({0, 0, 0}, 5, 2), {0}), together({cube({20, 0, 0}, 4), cube({22, 2, 2}, 4)})});
    const Health h = healthOf(m);
    REQUIRE(h.bodies.size() == 3);
    CHECK(h.bodies[0].topology.openEdges == 3);
    CHECK_FALSE(h.bodies[0].thinnestWallMm);
    CHECK(h.bodies[1].topology.solid());
    CHECK(h.bodies[1].selfIntersectingPairs == 0);
    CHECK(h.selfIntersectingPairs > 0);
    CHECK(h.selfIntersectionAt.x >= 22);
    CHECK(h.selfIntersectionAt.x <= 24);
    CHECK(h.bodies[2].volumeMm3 == Approx(64));
    CHECK(h.holes == 1);
}

TEST_CASE("health: a body's own self-intersections are counted with it")
{
    // A ring whose tube is thicker than the ring's radius runs through itself.
    const Mesh m = together({cube({50, 0, 0}, 1), ring(4, 6, 24, 16)});
    const Health h = healthOf(m);
    REQUIRE(h.bodies.size() == 2);
    CHECK(h.bodies[0].selfIntersectingPairs == 0);
    CHECK(h.bodies[1].selfIntersectingPairs == h.selfIntersectingPairs);
    CHECK(h.selfIntersectingPairs > 0);
}

TEST_CASE("health: walls are square through, and sharp edges are no walls")
{
    // Regular tetrahedron, dihedral angle 70.5 degrees: no two faces are back to back within 45.
    const Health tetra = healthOf(tetrahedron({1, 1, 1}, {1, -1, -1}, {-1, 1, -1}, {-1, -1, 1}));
    CHECK_FALSE(tetra.bodies[0].thinnestWallMm);
    // A ball: chords along normals, about the diameter.
    CHECK(*healthOf(sphere({0, 0, 0}, 10, 4)).bodies[0].thinnestWallMm == Approx(20).epsilon(0.02));
    // A turned box has the same wall.
    CHECK(*healthOf(turnedOver(cuboid({0, 0, 0}, {9, 9, 1}))).bodies[0].thinnestWallMm == Approx(1));
    CHECK_FALSE(healthOf(cube({0, 0, 0}, 1), {.wallSamples = 0}).bodies[0].thinnestWallMm);
}

TEST_CASE("health: the same each time, far from the origin too")
{
    const Mesh m = moved(ring(20, 6, 30, 20), {5000, -7000, 9000});
    const Health a = healthOf(m), b = healthOf(m);
    CHECK(a.sound());
    CHECK(a.bodies[0].thinnestWallMm == b.bodies[0].thinnestWallMm);
    CHECK(*a.bodies[0].thinnestWallMm == Approx(12).epsilon(0.05));
}

TEST_CASE("health: what isn't asked for isn't done, and cancel comes back")
{
    const Mesh m = together({cube({0, 0, 0}, 2), cube({1, 1, 1}, 2)});
    CHECK(healthOf(m, {.selfIntersections = false}).selfIntersectingPairs == 0);
    Context context;
    context.cancel();
    CHECK(healthOf(m, {}, context).bodies.empty());
}

TEST_CASE("health: the raw Stanford bunny has five holes")
{
    // Counted independently with another kernel: five holes, 223 boundary edges.
    const Health bunny = healthOf(binaryStl(reference("stl-models/objects/bunny.bin.stl")), {.wallSamples = 0});
    CHECK(bunny.holes == 5);
    CHECK_FALSE(bunny.sound());
    CHECK(says(bunny, "5 holes with 223 open edges"));
}
