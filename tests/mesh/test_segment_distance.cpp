// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/distance.h"
#include "mesh/primitives.h"
#include "mesh/segment_distance.h"

#include <catch2/catch.hpp>

#include <random>

using namespace quoin::mesh;

TEST_CASE("segment distance: closed forms against a triangle")
{
    const Vec3 a{0, 0, 0}, b{10, 0, 0}, c{0, 10, 0};
    const auto gap = [&](Vec3 p, Vec3 q) { return segmentTriangleGap(p, q, a, b, c); };
    CHECK(gap({1, 1, 5}, {1, 1, 3}).distanceMm == Approx(3));
    CHECK(gap({1, 1, 5}, {1, 1, 3}).along == 1);
    CHECK(gap({1, 1, 5}, {1, 1, -3}).distanceMm == Approx(0).margin(1e-12));
    CHECK(gap({1, 1, 5}, {1, 1, -3}).along == Approx(5.0 / 8));
    CHECK(gap({-2, -5, 4}, {-2, 25, 4}).distanceMm == Approx(std::sqrt(4.0 + 16))); // beside the edge from c to a
    CHECK(gap({8, 8, 1}, {8, 8, -1}).distanceMm == Approx(6 / std::sqrt(2.0)));     // past the slanted edge
    CHECK(gap({1, 1, 4}, {3, 3, 4}).distanceMm == Approx(4));
    CHECK(gap({1, 1, 4}, {3, 3, 4}).along == 0);              // all as near: the start counts
    CHECK(gap({1, 1, 4}, {1, 1, 4}).distanceMm == Approx(4)); // a point
}

TEST_CASE("segment distance: either segment may be a point")
{
    const Vec3 a{0, 0, 0}, b{10, 0, 0}, p{4, 3, 0};
    CHECK(segmentGap(a, b, p, p).distanceMm == Approx(3));
    CHECK(segmentGap(a, b, p, p).along == Approx(0.4));
    CHECK(segmentGap(p, p, a, b).distanceMm == Approx(3));
    CHECK(segmentGap(p, p, a, a).distanceMm == Approx(5));
}

TEST_CASE("segment distance: a tree answers as finely spaced points of the segment do")
{
    const Mesh body = torus(40, 12, 48, 24);
    const SurfaceTree tree(body);
    std::mt19937 random(4);
    std::uniform_real_distribution<double> place(-60, 60);
    const auto point = [&] { return Vec3{place(random), place(random), place(random)}; };
    for (int i = 0; i < 200; ++i) {
        const Vec3 p = point(), q = p + 0.3 * point();
        const SegmentGap gap = tree.distanceToSegment(p, q);
        constexpr int steps = 400;
        double least = 1e300;
        for (int k = 0; k <= steps; ++k)
            least = std::min(least, tree.distance(p + (double(k) / steps) * (q - p)));
        const double spacing = length(q - p) / steps;
        CHECK(gap.distanceMm <= least + 1e-9);
        CHECK(gap.distanceMm >= least - spacing / 2 - 1e-9);
        CHECK(tree.distance(p + gap.along * (q - p)) == Approx(gap.distanceMm).margin(1e-6));
    }
}
