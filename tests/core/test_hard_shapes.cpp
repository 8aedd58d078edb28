// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/hard_shapes.h"

#include "core/lower_bound.h"
#include "mesh/health.h"
#include "mesh/mass.h"

#include <catch2/catch.hpp>

#include <numbers>
#include <random>

using namespace quoin;
using namespace quoin::core;
using mesh::Mesh;
using mesh::Transform;
using mesh::Vec3;

namespace {

const std::vector<Bed> bed200 = test::hardBed();

mesh::Health healthy(const Mesh& m)
{
    return mesh::healthOf(m, {true, 0, 1});
}

Mesh turned(const Mesh& m, unsigned seed)
{
    std::mt19937 random(seed);
    std::normal_distribution<double> normal(0, 1);
    const Vec3 axis{normal(random), normal(random), normal(random)};
    return mesh::transformed(m, Transform::translation({310, -170, 44}) * Transform::rotation(axis, normal(random)));
}

} // namespace

TEST_CASE("hard shapes: they are what their names say", "[hard_shapes]")
{
    const double pi = std::numbers::pi;
    for (const test::HardShape& shape : test::hardShapes()) {
        INFO(shape.name);
        CHECK(healthy(shape.mesh).sound());
        CHECK(shape.least <= shape.known);
        CHECK(shape.known <= shape.grid);
    }
    CHECK(mesh::volume(test::hardBox()) == Approx(64e6));
    CHECK(mesh::volume(test::hardPlate()) == Approx(550e3));
    CHECK(mesh::volume(test::hardEll()) == Approx((280 * 50 + 230 * 50) * 50));
    // Guldin: 2 pi R times pi r2; faceted a little less.
    CHECK(mesh::volume(test::hardRing(300, 15)) == Approx(2 * pi * 300 * pi * 15 * 15).epsilon(0.03));
    CHECK(mesh::volume(test::hardTube()) == Approx(pi * (150 * 150 - 147 * 147) * 200).epsilon(0.002));
    CHECK(mesh::bounds(test::hardHelix()).extents().z == Approx(600));
    CHECK(mesh::volume(test::hardShell()) ==
          Approx(4.0 / 3 * pi * (std::pow(190, 3) - std::pow(188, 3))).epsilon(0.01));
    CHECK(healthy(test::hardTree()).sound());
    CHECK(healthy(test::hardLinks()).bodies.size() == 2);
}

TEST_CASE("hard shapes: lower bounds are those that are known, turned or not", "[hard_shapes][lower_bound]")
{
    unsigned seed = 0;
    for (const test::HardShape& shape : test::hardShapes()) {
        INFO(shape.name);
        CHECK(lowerBound(shape.mesh, bed200, 0).pieces == shape.least);
        CHECK(lowerBound(turned(shape.mesh, ++seed), bed200, 0).pieces == shape.least);
    }
}

TEST_CASE("hard shapes: a binary tree's tips are counted, and linked rings each for itself",
          "[hard_shapes][lower_bound]")
{
    // 16 tips; the fewest pieces are at least the tips that are pairwise more than 346.4 mm apart.
    const LowerBound tree = lowerBound(test::hardTree(), bed200, 0);
    CHECK(tree.pieces >= 4);
    // Outermost circles of 162 mm: chords are less than the diagonal, the hull is too large.
    const LowerBound links = lowerBound(test::hardLinks(), bed200, 0);
    CHECK(links.pieces == 4);
    CHECK(links.reason.find("2 bodies") == 0);
}
