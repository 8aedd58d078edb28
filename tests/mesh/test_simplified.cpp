// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/distance.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"
#include "mesh/simplified.h"
#include "mesh/topology.h"

#include <catch2/catch.hpp>

using namespace quoin;
using mesh::Mesh;
using mesh::Vec3;

TEST_CASE("simplified: a ball keeps its shape and stays solid", "[simplified]")
{
    const Mesh ball = mesh::icosphere(100, 5);
    const Mesh few = mesh::simplified(ball, 1000);
    CHECK(few.triangles.size() <= 1000);
    CHECK(few.triangles.size() > 500);
    CHECK(mesh::topologyOf(few).solid());
    CHECK(mesh::volume(few) == Approx(mesh::volume(ball)).epsilon(0.01));
    // Flat triangles of this size lie up to h2 / 2r inside: with 1000 of them h is about 9 mm, 0.4 mm.
    const mesh::SurfaceTree surface(few);
    for (std::size_t v = 0; v < ball.points.size(); v += 7)
        CHECK(surface.distance(ball.points[v]) < 1.5);
}

TEST_CASE("simplified: flat faces lose all that they don't need", "[simplified]")
{
    const Mesh bar = mesh::prism({{{0, 0}, {300, 0}, {300, 40}, {0, 40}}}, 20, 12);
    const Mesh few = mesh::simplified(bar, 40);
    CHECK(few.triangles.size() <= 40);
    CHECK(mesh::topologyOf(few).solid());
    CHECK(mesh::volume(few) == Approx(300 * 40 * 20).epsilon(1e-6));
}

TEST_CASE("simplified: thin rods stay whole", "[simplified]")
{
    const Mesh ring = mesh::torus(300, 4, 400, 16);
    const Mesh few = mesh::simplified(ring, 2000);
    CHECK(few.triangles.size() <= 2000);
    CHECK(mesh::topologyOf(few).solid());
    CHECK(mesh::connectedParts(few).count == 1);
    CHECK(mesh::volume(few) == Approx(mesh::volume(ring)).epsilon(0.03));
}

TEST_CASE("simplified: what is small enough is not touched", "[simplified]")
{
    const Mesh box = mesh::box({0, 0, 0}, {1, 2, 3});
    const Mesh same = mesh::simplified(box, 12);
    CHECK(same.points == box.points);
    CHECK(same.triangles == box.triangles);
    Context stopped;
    stopped.cancel();
    CHECK(mesh::simplified(mesh::icosphere(10, 3), 100, stopped).triangles.size() == 20u * 64u);
}
