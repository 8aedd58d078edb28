// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/thread_mesh.h"
#include "mesh/local_boolean.h"
#include "mesh/mass.h"
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"
#include "mesh/print_ready.h"
#include "mesh/recess.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::mesh;

namespace {

constexpr Label feature = 1000001;

core::ThreadedShape screw()
{
    core::ThreadedShape shape;
    shape.thread = core::threadFrom("Tr 20x4").value();
    shape.lengthMm = 25;
    shape.clearanceMm = 0.3;
    shape.chordMm = 0.1; // coarse for speed
    return shape;
}

void requireSound(const Result<Mesh>& made)
{
    if (!made.ok())
        FAIL(made.problem().sentence());
    CHECK(topologyOf(*made).solid());
    CHECK(selfIntersections(*made).empty());
    CHECK(printReady(*made).ok());
}

} // namespace

TEST_CASE("thread on a face: stud and bore sewn into the two sides of an oblique cut")
{
    const Plane plane = planeAt({0.3, -0.5, 0.8}, 2), turned{-plane.normal, -plane.offset};
    const auto halves = cutByPlane(icosphere(60, 4), plane);
    REQUIRE(halves.ok());
    const PlaneFrame frame = frameOf(plane);
    const Transform put =
        Transform::translation(frame.space({3, 4})) * Transform::fromColumns(frame.u, frame.v, frame.normal);
    const FacePatch stud{transformed(core::externalThread(screw())->mesh, put)};
    const FacePatch bore{transformed(core::internalThread(screw())->mesh, put)};
    // Closed flat, the stud is a solid: its volume is the one that is added.
    const auto lower = withFeatures(halves->below, 1, plane, {}, {stud}, feature);
    requireSound(lower);
    CHECK(volume(*lower) - volume(halves->below) == Approx(volumeAdded(stud, plane)).epsilon(1e-9));
    CHECK(volumeAdded(stud, plane) > 0);
    const auto upper = withFeatures(halves->above, 1, turned, {}, {bore}, feature);
    requireSound(upper);
    CHECK(volume(*upper) - volume(halves->above) == Approx(volumeAdded(bore, turned)).epsilon(1e-9));
    CHECK(-volumeAdded(bore, turned) > volumeAdded(stud, plane));
}

TEST_CASE("thread on a face: a loose stud taken out of a ball's side, and left standing in it")
{
    const Mesh ball = icosphere(60, 4);
    const auto loose = core::studSolid(screw(), screw());
    REQUIRE(loose.ok());
    const Mesh stud = transformed(*loose, Transform::translation({58, 0, 0}) * Transform::rotation({0, 1, 1}, 0.8));
    const auto taken = withoutSolid(ball, stud, feature), added = withSolid(ball, stud, feature);
    requireSound(taken);
    requireSound(added);
    // What is taken from the ball and what is added to it make up the stud.
    CHECK(volume(*added) - volume(*taken) == Approx(volume(stud)).epsilon(1e-9));
}
