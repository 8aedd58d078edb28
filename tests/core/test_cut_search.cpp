// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/branch_search.h"
#include "core/piece.h"
#include "core/suggest.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"

#include <catch2/catch.hpp>

#include <random>

using namespace quoin;
using namespace quoin::core;
using mesh::Mesh;
using mesh::Transform;
using mesh::Vec3;

namespace {

const std::vector<Bed> bed200{{"", Bed::Shape::Rectangular, 200, 200, 200, 1}};

SuggestOptions working(std::uint64_t work, bool anyRotation = false)
{
    SuggestOptions options;
    options.fit = {0, anyRotation};
    options.seconds = 60;
    options.alternatives = 1;
    options.work = work;
    return options;
}

Mesh turned(const Mesh& m, unsigned seed)
{
    std::mt19937 random(seed);
    std::normal_distribution<double> normal(0, 1);
    const Vec3 axis{normal(random), normal(random), normal(random)};
    return mesh::transformed(m, Transform::translation({50, -30, 90}) * Transform::rotation(axis, normal(random)));
}

/// Every piece, cut anew, fits; nothing is lost.
Suggestion checked(const Mesh& part, const SuggestOptions& options)
{
    const auto found = suggestGrid(part, {}, bed200, options);
    if (!found)
        FAIL(found.problem().sentence());
    const auto leaves = cutByPlan(part, found->plan);
    REQUIRE(leaves);
    const auto pieces = piecesOf(*leaves, options.islandsApart);
    double volume = 0;
    for (const Piece& piece : pieces) {
        CHECK(fitOnBeds(piece.mesh, bed200, options.fit));
        volume += mesh::volume(piece.mesh);
    }
    CHECK(volume == Approx(mesh::volume(part)).epsilon(1e-9));
    CHECK(static_cast<int>(pieces.size()) == found->pieces);
    return *found;
}

} // namespace

// The counts of shared shapes are "best known": found by hand, with numeric fits.
TEST_CASE("search: a tube in three arcs, where a grid takes four", "[cut_search]")
{
    const Mesh tube = mesh::revolved({{147, 0}, {150, 0}, {150, 200}, {147, 200}}, 96);
    CHECK(checked(tube, working(4)).pieces == 3);
    CHECK(checked(turned(tube, 3), working(4)).pieces == 3);
}

// Six is best known (an arc of 61.3 degrees fits), and the bound; a grid takes ten.
TEST_CASE("search: a ring in fewer arcs than a grid takes cells", "[cut_search]")
{
    const int pieces = checked(mesh::torus(300, 15, 96, 12), working(60)).pieces;
    CHECK(pieces >= 6);
    CHECK(pieces < 9);
}

TEST_CASE("search: the same work gives the same plan", "[cut_search]")
{
    const Mesh part = mesh::torus(220, 60, 48, 16);
    const Suggestion a = checked(part, working(3)), b = checked(part, working(3));
    REQUIRE(a.plan.nodes.size() == b.plan.nodes.size());
    for (std::size_t i = 0; i < a.plan.nodes.size(); ++i)
        CHECK(a.plan.nodes[i].plane == b.plan.nodes[i].plane);
}

TEST_CASE("search: never more pieces than the grid alone", "[cut_search]")
{
    for (const Mesh& part :
         {mesh::icosphere(190, 3), mesh::torus(220, 60, 48, 16), mesh::box({0, 0, 0}, {450, 300, 220})}) {
        SuggestOptions none = working(1);
        none.seconds = 0;
        const int grid = checked(part, none).pieces;
        CHECK(checked(part, working(2)).pieces <= grid);
    }
}
