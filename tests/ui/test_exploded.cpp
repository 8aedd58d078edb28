// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"
#include "ui/exploded.h"

#include "tests/support/plans.h"
#include <algorithm>

#include <catch2/catch.hpp>

using namespace quoin;
using mesh::Plane;
using mesh::Vec3;

namespace {

struct Split {
    core::CutPlan plan;
    std::vector<core::Piece> pieces;
};

Split splitBox(const std::vector<Plane>& planes)
{
    Split out;
    out.plan = test::planOf(planes);
    const auto leaves = core::cutByPlan(mesh::box({0, 0, 0}, {100, 100, 100}), out.plan);
    REQUIRE(leaves.ok());
    out.pieces = core::piecesOf(*leaves);
    return out;
}

} // namespace

TEST_CASE("exploded: slices of a bar open by equal gaps, in order, about the middle")
{
    const Split split = splitBox({{{0, 0, 1}, 20.0}, {{0, 0, 1}, 40.0}, {{0, 0, 1}, 60.0}, {{0, 0, 1}, 80.0}});
    REQUIRE(split.pieces.size() == 5);
    const auto shifts = ui::explodedShifts(split.plan, split.pieces, 30);
    std::vector<std::pair<double, double>> byHeight; // height and shift
    for (std::size_t i = 0; i < shifts.size(); ++i) {
        CHECK(shifts[i].x == Approx(0).margin(1e-12));
        byHeight.emplace_back(bounds(split.pieces[i].mesh).centre().z, shifts[i].z);
    }
    std::ranges::sort(byHeight);
    for (std::size_t i = 1; i < byHeight.size(); ++i)
        CHECK(byHeight[i].second - byHeight[i - 1].second == Approx(30));
    CHECK(byHeight.front().second < 0);
    CHECK(byHeight.back().second > 0);
}

TEST_CASE("exploded: a grid of eight opens along all three axes")
{
    const Split split = splitBox({{{1, 0, 0}, 50.0}, {{0, 1, 0}, 50.0}, {{0, 0, 1}, 50.0}});
    REQUIRE(split.pieces.size() == 8);
    const auto shifts = ui::explodedShifts(split.plan, split.pieces, 10);
    for (std::size_t i = 0; i < shifts.size(); ++i) {
        const Vec3 c = bounds(split.pieces[i].mesh).centre();
        CHECK(shifts[i].x == Approx(c.x > 50 ? 5 : -5));
        CHECK(shifts[i].y == Approx(c.y > 50 ? 5 : -5));
        CHECK(shifts[i].z == Approx(c.z > 50 ? 5 : -5));
    }
}

TEST_CASE("exploded: no cut, no shift")
{
    const Split split = splitBox({});
    const auto shifts = ui::explodedShifts(split.plan, split.pieces, 10);
    REQUIRE(shifts.size() == 1);
    CHECK(length(shifts[0]) == 0);
}
