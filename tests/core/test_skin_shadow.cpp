// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/skin_shadow.h"
#include "mesh/distance.h"
#include "mesh/primitives.h"

#include <catch2/catch.hpp>

#include <random>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec2;
using mesh::Vec3;

namespace {

const mesh::Plane ground{{0, 0, 1}, 0};

/// The shadow's frame is the plane's own: a place over a point of space.
Vec2 over(Vec3 p)
{
    return mesh::frameOf(ground).flat(p);
}

} // namespace

TEST_CASE("skin shadow: of a box, straight to its sides, whatever the depth, and to its far side only when it is met")
{
    const mesh::Mesh box = mesh::box({0, 0, 0}, {60, 40, 50});
    const SkinShadow shadow(box, ground, 77, 1, 1000);
    // The floor z = 0 is the face, but carries no label here: asked from just above it.
    const auto gap = [&](Vec3 p, double from, double to) { return shadow.gap({{over(p)}, from, to}, 1000).acrossMm; };
    CHECK(gap({20, 15, 0}, 0.1, 30) == Approx(15));
    CHECK(gap({20, 15, 0}, 0.1, 49.9) == Approx(15));
    CHECK(gap({20, 15, 0}, 0.1, 50.1) == 0);
    CHECK(gap({55, 15, 0}, 10, 20) == Approx(5));
    CHECK(shadow.gap({{over({20, 15, 0})}, 0.1, 30}, 7).acrossMm == 7);
    // Outside of the box the nearest wall counts just so.
    CHECK(gap({70, 15, 0}, 1, 2) == Approx(10));
}

TEST_CASE("skin shadow: a footprint with corners, and skin that doesn't count")
{
    const SkinShadow shadow(mesh::box({0, 0, 0}, {60, 40, 50}), ground, 77, 1, 1000);
    mesh::Loop rectangle{over({20, 10, 0}), over({30, 10, 0}), over({30, 20, 0}), over({20, 20, 0})};
    if (mesh::signedArea(rectangle) < 0)
        std::reverse(rectangle.begin(), rectangle.end());
    CHECK(shadow.gap({rectangle, 1, 20}, 1000).acrossMm == Approx(10)); // to y = 0
    SkinShadow::Stretch stretch{rectangle, 1, 20};
    // Only what lies at y >= 15 counts: then x = 0 at 20 mm and y = 40 at 20 mm.
    const Vec2 way = over({0, -1, 0}) - over({0, 0, 0});
    stretch.within = HalfPlane{way, dot(way, over({0, 15, 0}))};
    CHECK(shadow.gap(stretch, 1000).acrossMm == Approx(20));
    // A footprint that reaches through a wall, and one that holds everything.
    CHECK(shadow.gap({{over({50, 10, 0}), over({70, 10, 0})}, 1, 2}, 1000).acrossMm == 0);
}

TEST_CASE("skin shadow: agrees with points spread over a curved surface")
{
    // Many points on the true surface: their least distance to the axis in the slab is never less than the gap, and a
    // little more at most.
    mesh::Mesh ball = mesh::icosphere(40, 5);
    for (Vec3& p : ball.points)
        p = p + Vec3{0, 0, 10};
    const SkinShadow shadow(ball, ground, 77, 1, 1000);
    const auto samples = mesh::sampledSurface(ball, 200'000, 3);
    std::mt19937 random(5);
    std::uniform_real_distribution<double> across(-25, 25), deep(0, 40);
    for (int i = 0; i < 60; ++i) {
        const Vec2 at{across(random), across(random)};
        double from = deep(random), to = deep(random);
        if (from > to)
            std::swap(from, to);
        if (to - from < 2)
            continue;
        double least = 1e300;
        for (const auto& s : samples)
            if (s.point.z >= from && s.point.z <= to)
                least = std::min(least, mesh::length(over(s.point) - at));
        const SkinShadow::Gap gap = shadow.gap({{at}, from, to}, 1000);
        INFO(from << " " << to);
        CHECK(gap.acrossMm <= least + 1e-9);
        CHECK(gap.acrossMm >= least - 0.8);
        CHECK(gap.depthMm >= from - 1e-9);
        CHECK(gap.depthMm <= to + 1e-9);
    }
}
