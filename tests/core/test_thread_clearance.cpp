// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/self_intersection.h"
#include "mesh/topology.h"
#include "thread_gap.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace quoin;
using namespace quoin::core;
using quoin::test::meshGapMm;
using quoin::test::threadedShape;
using std::numbers::pi;

namespace {

/// Rounding of a distance between points some 100 mm from the origin.
constexpr double roundingMm = 1e-6;

/// The angle that lifts the bore off its stud by this many turns.
mesh::Transform lifted(const Thread& thread, double turns)
{
    return screwMotion(thread, (thread.leftHand ? -2 : 2) * pi * turns);
}

} // namespace

TEST_CASE("thread clearance: the pair keeps it at rest and at eight eighths of a turn")
{
    for (const ThreadedShape& shape : test::threadFamily()) {
        INFO(designation(shape.thread));
        const mesh::Mesh stud = externalThread(shape)->mesh;
        const mesh::Mesh bore = internalThread(shape)->mesh;
        const mesh::SurfaceTree tree(stud);
        double tightest = 1e300;
        for (int k = 0; k <= 8; ++k) {
            const double gap = meshGapMm(mesh::transformed(bore, lifted(shape.thread, k / 8.)), stud, tree);
            CHECK(gap >= shape.clearanceMm - roundingMm);
            tightest = std::min(tightest, gap);
        }
        // Not by standing off: what comes on top is within the chord error, and 1 / cos of the lead angle at the core
        // (30 degrees at most here).
        CHECK(tightest < shape.clearanceMm * 1.16 + shape.chordMm);
    }
}

TEST_CASE("thread clearance: the pair keeps it through eight whole turns")
{
    for (const char* name : {"Printable 16x3", "Tr 16x4LH"}) {
        INFO(name);
        const ThreadedShape shape = threadedShape(name, 40);
        REQUIRE(shape.lengthMm > 8 * shape.thread.leadMm());
        const mesh::Mesh stud = externalThread(shape)->mesh;
        const mesh::Mesh bore = internalThread(shape)->mesh;
        const mesh::SurfaceTree tree(stud);
        for (int k = 1; k <= 8; ++k)
            CHECK(meshGapMm(mesh::transformed(bore, lifted(shape.thread, k)), stud, tree) >=
                  shape.clearanceMm - roundingMm);
        // The other way the bore's bottom meets the stud's end.
        CHECK(mesh::meshesIntersect(mesh::transformed(bore, lifted(shape.thread, -1)), stud));
    }
}

TEST_CASE("thread clearance: no clearance still doesn't make the pair meet")
{
    for (const char* name : {"Printable 30x5", "Tr 40x14(P7)LH"}) {
        const ThreadedShape shape = threadedShape(name, 35, 0);
        const mesh::Mesh bore = internalThread(shape)->mesh;
        CHECK_FALSE(mesh::meshesIntersect(externalThread(shape)->mesh, bore));
    }
}

TEST_CASE("thread clearance: a steep lead doesn't eat into it")
{
    // 20 degrees at the core: two flanks set off within the axial plane alone would come 0.04 mm nearer than asked,
    // more than the facets' own offsets give back at this chord error.
    const ThreadedShape shape = threadedShape("Printable 60x60(P15)", 35, 1.2, 0.02);
    const mesh::Mesh stud = externalThread(shape)->mesh;
    const double gap = meshGapMm(internalThread(shape)->mesh, stud, mesh::SurfaceTree(stud));
    CHECK(gap >= shape.clearanceMm - roundingMm);
    CHECK(gap < 1.05 * shape.clearanceMm);
}

TEST_CASE("thread clearance: a wrong phase, hand, lead or way of turning is noticed")
{
    for (const ThreadedShape& shape : test::threadFamily()) {
        INFO(designation(shape.thread));
        const mesh::Mesh stud = externalThread(shape)->mesh;
        const mesh::SurfaceTree tree(stud);
        for (const double off : {-pi / 6, pi / 6}) {
            ThreadedShape wrong = shape;
            wrong.phase += off;
            const mesh::Mesh bore = internalThread(wrong)->mesh;
            CHECK((mesh::meshesIntersect(bore, stud) || meshGapMm(bore, stud, tree) < 0.8 * shape.clearanceMm));
        }
        ThreadedShape otherHand = shape;
        otherHand.thread.leftHand = !shape.thread.leftHand;
        CHECK(mesh::meshesIntersect(internalThread(otherHand)->mesh, stud));
        const mesh::Mesh bore = internalThread(shape)->mesh;
        CHECK(mesh::meshesIntersect(
            mesh::transformed(bore, mesh::Transform::rotation({0, 0, 1}, pi / shape.thread.starts)), stud));
    }
}

TEST_CASE("thread clearance: phases a start apart are the same thread")
{
    ThreadedShape shape = threadedShape("Tr 36x18(P6)", 40);
    const mesh::Mesh stud = externalThread(shape)->mesh;
    shape.phase += 2 * pi / 3 * 4;
    const mesh::SurfaceTree tree(stud);
    CHECK(meshGapMm(internalThread(shape)->mesh, stud, tree) >= shape.clearanceMm - roundingMm);
}

TEST_CASE("thread clearance: a loose stud fits both its bores")
{
    ThreadedShape upper = threadedShape("Printable 30x5", 30);
    ThreadedShape lower = threadedShape("Printable 30x5LH", 25);
    lower.phase = -2.1;
    for (const bool sameHand : {false, true}) {
        lower.thread.leftHand = !sameHand;
        const mesh::Mesh stud = studSolid(upper, lower).value();
        CHECK(mesh::topologyOf(stud).solid());
        CHECK(mesh::topologyOf(stud).degenerateTriangles == 0);
        CHECK(mesh::selfIntersections(stud, 1).empty());
        CHECK(mesh::bounds(stud).max.z == Approx(30));
        CHECK(mesh::bounds(stud).min.z == Approx(-25));
        const mesh::SurfaceTree tree(stud);
        CHECK(meshGapMm(internalThread(upper)->mesh, stud, tree) >= 0.3 - roundingMm);
        CHECK(meshGapMm(mesh::transformed(internalThread(lower)->mesh, lowerHalfTurn()), stud, tree) >=
              0.3 - roundingMm);
    }
}
