// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/patch_order.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <random>

using namespace quoin;
using mesh::Vec3;

namespace {

/// Where a ray meets a convex polygon, in lengths of its direction; -1 where it doesn't.
double meeting(const std::vector<Vec3>& corners, Vec3 from, Vec3 along)
{
    const Vec3 n = cross(corners[1] - corners[0], corners[2] - corners[0]);
    const double at = dot(corners[0] - from, n) / dot(along, n);
    const Vec3 p = from + at * along;
    for (std::size_t i = 0; i < corners.size(); ++i)
        if (dot(cross(corners[(i + 1) % corners.size()] - corners[i], p - corners[i]), n) < 0)
            return -1;
    return at > 0 ? at : -1;
}

} // namespace

TEST_CASE("patch order: no piece lies across another's plane, areas are kept, and the order is right for every eye")
{
    // Three planes through each other, as cut planes of a model are.
    const std::vector<std::vector<Vec3>> patches{{{0, -5, -5}, {0, 5, -5}, {0, 5, 5}, {0, -5, 5}},
                                                 {{-5, 0, -5}, {5, 0, -5}, {5, 0, 5}, {-5, 0, 5}},
                                                 {{-5, -5, 1}, {5, -5, 1}, {5, 5, 1}, {-5, 5, 1}},
                                                 {{7, -5, -5}, {7, -5, -5}, {7, 5, 5}}}; // no area? a sliver with some
    const ui::PatchOrder order(patches);
    std::vector<double> area(patches.size(), 0);
    for (const auto& piece : order.pieces()) {
        Vec3 sum{0, 0, 0};
        for (std::size_t i = 1; i + 1 < piece.corners.size(); ++i)
            sum = sum + cross(piece.corners[i] - piece.corners[0], piece.corners[i + 1] - piece.corners[0]);
        area[piece.patch] += length(sum) / 2;
    }
    CHECK(area[0] == Approx(100));
    CHECK(area[1] == Approx(100));
    CHECK(area[2] == Approx(100));
    CHECK(area[3] == 0);
    CHECK(order.pieces().size() == 1 + 2 + 4);

    // What a ray from the eye meets later has to be drawn earlier.
    std::mt19937 random(3);
    std::uniform_real_distribution<double> place(-30, 30), inside(-4, 4);
    int met = 0;
    for (int i = 0; i < 500; ++i) {
        const Vec3 eye{place(random), place(random), place(random)};
        const Vec3 along = Vec3{inside(random), inside(random), inside(random)} - eye;
        const auto sorted = order.farthestFirst(eye);
        REQUIRE(sorted.size() == order.pieces().size());
        double before = 1e300;
        for (const std::size_t n : sorted)
            if (const double at = meeting(order.pieces()[n].corners, eye, along); at > 0) {
                CHECK(at < before);
                before = at;
                ++met;
            }
    }
    CHECK(met > 700);
    CHECK(ui::PatchOrder().farthestFirst({0, 0, 0}).empty());
}
