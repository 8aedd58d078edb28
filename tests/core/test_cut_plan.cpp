// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_plan.h"
#include "core/piece.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"
#include "mesh/topology.h"

#include "tests/support/plans.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::core;

TEST_CASE("cut plan: planes one after another, leaves below before above")
{
    const mesh::Mesh part = mesh::box({0, 0, 0}, {4, 2, 2});
    const CutPlan plan = test::planOf({mesh::planeAt({1, 0, 0}, 1), mesh::planeAt({0, 1, 0}, 1)});
    CHECK(plan.nodes.size() == 3);
    const auto leaves = cutByPlan(part, plan);
    REQUIRE(leaves.ok());
    REQUIRE(leaves->size() == 4);
    double sum = 0;
    for (const Leaf& leaf : *leaves) {
        CHECK(mesh::topologyOf(leaf.mesh).solid());
        sum += mesh::volume(leaf.mesh);
    }
    CHECK(sum == Approx(16).epsilon(1e-12));
    CHECK(mesh::volume((*leaves)[0].mesh) == Approx(2));
    CHECK(mesh::volume((*leaves)[3].mesh) == Approx(6));
    CHECK((*leaves)[1].path == Path{{0, false}, {1, true}});
}

TEST_CASE("cut plan: a plane makes a node only where it cuts")
{
    const mesh::Mesh part = mesh::box({0, 0, 0}, {4, 2, 2});
    // The oblique one meets only what is below x = 1; the last meets nothing.
    const auto plan = planByCutting(
        part, {mesh::planeAt({1, 0, 0}, 1), mesh::planeThrough({0.5, 0.5, 0}, {1, 1, 0}), mesh::planeAt({0, 0, 1}, 9)});
    REQUIRE(plan.ok());
    REQUIRE(plan->nodes.size() == 2);
    CHECK(plan->nodes[0].below == 1);
    CHECK(plan->nodes[0].above == -1);
    CHECK(cutByPlan(part, *plan)->size() == 3);
}

TEST_CASE("cut plan: forty planes are no trouble")
{
    std::vector<mesh::Plane> planes;
    for (int i = 1; i <= 40; ++i)
        planes.push_back(mesh::planeAt({1, 0, 0}, i));
    const auto plan = planByCutting(mesh::box({0, 0, 0}, {41, 2, 2}), planes);
    REQUIRE(plan.ok());
    CHECK(plan->nodes.size() == 40);
}

TEST_CASE("cut plan: planes through one point of the part")
{
    // Corners where several planes meet leave slivers near the rounding error; they must not tangle later cuts.
    const mesh::Transform turn = mesh::Transform::rotation({1, 2, 3}, 0.7) * mesh::Transform::translation({10, 20, 30});
    const mesh::Mesh part = mesh::transformed(mesh::box({-60, -40, -30}, {60, 40, 30}), turn);
    const mesh::Vec3 corner = part.points[0];
    const std::vector<mesh::Plane> planes{
        mesh::planeThrough(corner, {0.3, -0.7, 0.5}), mesh::planeThrough(corner, {-0.9, 0.1, 0.2}),
        mesh::planeThrough(corner, {0.5, 0.5, -0.4}), mesh::planeThrough(part.points[6], {0.3, 0.2, 0.9})};
    const auto plan = planByCutting(part, planes);
    REQUIRE(plan.ok());
    double sum = 0;
    const auto leaves = cutByPlan(part, *plan);
    REQUIRE(leaves.ok());
    for (const Piece& p : piecesOf(*leaves)) {
        CHECK(mesh::topologyOf(p.mesh).solid());
        sum += mesh::volume(p.mesh);
    }
    CHECK(sum == Approx(mesh::volume(part)).epsilon(1e-6));
}

TEST_CASE("cut plan: cancelled when asked")
{
    Context context;
    context.cancel();
    const auto leaves =
        cutByPlan(mesh::box({0, 0, 0}, {4, 2, 2}), test::planOf({mesh::planeAt({1, 0, 0}, 1)}), context);
    REQUIRE_FALSE(leaves.ok());
    CHECK(leaves.problem().reason == Reason::Cancelled);
}

TEST_CASE("pieces: islands apart or together, crumbs left out")
{
    // A U standing on its back: cut through both arms, the upper half is two islands.
    const mesh::Mesh ring = mesh::torus(30, 8, 32, 16);
    const auto plan = planByCutting(ring, {mesh::planeAt({1, 0, 0}, 5)});
    const auto leaves = cutByPlan(ring, *plan);
    CHECK(piecesOf(*leaves).size() == 2);
    const auto two = planByCutting(ring, {mesh::planeAt({1, 0, 0}, 35)});
    CHECK(piecesOf(*cutByPlan(ring, *two)).size() == 2);
    const auto across = planByCutting(ring, {mesh::planeAt({0, 0, 1}, 0), mesh::planeAt({1, 0, 0}, 26)});
    REQUIRE(across.ok());
    // A plane hardly below the top of a ball leaves a crumb.
    const mesh::Mesh ball = mesh::icosphere(10, 3);
    const double top = mesh::bounds(ball).max.z;
    const auto graze = planByCutting(ball, {mesh::planeAt({0, 0, 1}, top - 0.03)});
    int crumbs = 0;
    CHECK(piecesOf(*cutByPlan(ball, *graze), true, &crumbs).size() == 1);
    CHECK(crumbs == 1);
}
