// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/distance.h"
#include "mesh/mass.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <limits>
#include <random>

using namespace quoin::mesh;
using namespace quoin::test;

namespace {

std::vector<Vec3> randomPoints(std::size_t count, double reach, unsigned seed)
{
    std::mt19937 random(seed);
    const auto one = [&] { return reach * (static_cast<double>(random()) / 2147483648.0 - 1); };
    std::vector<Vec3> points(count);
    for (Vec3& p : points)
        p = {one(), one(), one()};
    return points;
}

} // namespace

TEST_CASE("distance: to a box, against the closed form inside and outside")
{
    const SurfaceTree tree(cuboid({-1, -2, -3}, {1, 2, 3}));
    for (const Vec3 p : randomPoints(500, 5, 1)) {
        const Vec3 d{std::abs(p.x) - 1, std::abs(p.y) - 2, std::abs(p.z) - 3};
        const double outside = std::hypot(std::max(d.x, 0.0), std::max(d.y, 0.0), std::max(d.z, 0.0));
        const double inside = std::min(std::max({d.x, d.y, d.z}), 0.0);
        CHECK(tree.distance(p) == Approx(std::abs(outside + inside)).margin(1e-12));
        CHECK(tree.inside(p) == (outside == 0));
        CHECK(length(*tree.nearest(p) - p) == Approx(tree.distance(p)).margin(1e-12));
    }
}

TEST_CASE("distance: the tree agrees with a look at every triangle")
{
    const Mesh m = ring(20, 6, 30, 20);
    const SurfaceTree tree(m);
    for (const Vec3 p : randomPoints(60, 30, 2)) {
        double least = std::numeric_limits<double>::infinity();
        for (Index i = 0; i < m.triangles.size(); ++i)
            least = std::min(least, SurfaceTree(m, std::vector<Index>{i}).distance(p));
        CHECK(tree.distance(p) == least);
    }
}

TEST_CASE("distance: a triangle's nearest point at each corner, edge and within")
{
    const SurfaceTree tree(soup({{0, 0, 0}, {4, 0, 0}, {0, 4, 0}}, {{0, 1, 2}}));
    const auto nearest = [&](Vec3 p) { return *tree.nearest(p); };
    CHECK(nearest({-1, -1, 1}) == Vec3{0, 0, 0});
    CHECK(nearest({9, -1, 0}) == Vec3{4, 0, 0});
    CHECK(nearest({-1, 9, 0}) == Vec3{0, 4, 0});
    CHECK(nearest({2, -3, 1}) == Vec3{2, 0, 0});
    CHECK(nearest({-3, 2, 1}) == Vec3{0, 2, 0});
    CHECK(length(nearest({4, 4, 2}) - Vec3{2, 2, 0}) < 1e-12);
    CHECK(length(nearest({1, 1, -7}) - Vec3{1, 1, 0}) < 1e-12);
}

TEST_CASE("distance: a triangle without area still has a distance")
{
    const SurfaceTree needle(soup({{0, 0, 0}, {4, 0, 0}, {2, 0, 0}}, {{0, 1, 2}}));
    CHECK(needle.distance({3, 1, 0}) == 1);
    CHECK(needle.distance({6, 0, 0}) == 2);
    const SurfaceTree point(soup({{1, 1, 1}}, {{0, 0, 0}}));
    CHECK(point.distance({1, 1, 3}) == 2);
}

TEST_CASE("distance: an empty tree is infinitely far and holds nothing")
{
    const SurfaceTree tree{Mesh{}};
    CHECK(tree.empty());
    CHECK(std::isinf(tree.distance({0, 0, 0})));
    CHECK_FALSE(tree.nearest({0, 0, 0}));
    CHECK_FALSE(tree.firstHit({0, 0, 0}, {1, 0, 0}));
    CHECK_FALSE(tree.inside({0, 0, 0}));
    CHECK(SurfaceTree(cube({0, 0, 0}, 1), [](std::size_t) { return false; }).empty());
}

TEST_CASE("distance: only the triangles asked for take part")
{
    const Mesh m = cube({0, 0, 0}, 1);
    const SurfaceTree top(m, [](std::size_t t) { return t == 2 || t == 3; });
    CHECK(top.distance({0.3, 0.3, 0}) == 1);
    const auto hit = top.firstHitTriangle({0.9, 0.2, -4}, {0, 0, 1});
    REQUIRE(hit);
    CHECK(hit->distanceMm == 5);
    CHECK(hit->triangle == 2);
}

TEST_CASE("ray: first hit of a cube, straight, through edges and corners, and past a minimum")
{
    const SurfaceTree tree(cube({0, 0, 0}, 2));
    CHECK(*tree.firstHit({-3, 0.5, 0.7}, {1, 0, 0}) == 3);
    CHECK(*tree.firstHit({-3, 0.5, 0.7}, {1, 0, 0}, 3.5) == 5);
    CHECK(*tree.firstHit({-3, 1, 1}, {1, 0, 0}) == 3); // through a diagonal
    CHECK(*tree.firstHit({1, 1, 1}, {0, 0, -1}) == 1);
    CHECK_FALSE(tree.firstHit({-3, 1, 1}, {-1, 0, 0}));
    CHECK_FALSE(tree.firstHit({-3, 2.5, 1}, {1, 0, 0}));
    const double third = 1 / std::sqrt(3.0);
    CHECK(*tree.firstHit({-1, -1, -1}, {third, third, third}) == Approx(std::sqrt(3.0)));
}

TEST_CASE("ray: never slips through a seam")
{
    // From the middle to each corner and each edge middle of a ball.
    const Mesh m = sphere({0, 0, 0}, 10, 3);
    const SurfaceTree tree(m);
    for (const Triangle& t : m.triangles)
        for (std::size_t k = 0; k < 3; ++k) {
            const Vec3 a = m.points[t[k]], b = m.points[t[(k + 1) % 3]];
            CHECK(tree.firstHit({0, 0, 0}, normalized(a)));
            CHECK(tree.firstHit({0, 0, 0}, normalized(a + b)));
        }
}

TEST_CASE("inside: a ring, and exactly through vertices and edges of a lattice")
{
    const SurfaceTree tree(ring(20, 6, 64, 48));
    CHECK(tree.inside({20, 0, 0}));
    CHECK(tree.inside({-20, 0, 0}));
    CHECK_FALSE(tree.inside({0, 0, 0}));
    CHECK_FALSE(tree.inside({-27, 0, 0}));
    // Points in line with corners, edges and diagonals of the cube along x.
    const SurfaceTree box(cube({0, 0, 0}, 4));
    for (int y = -1; y <= 5; ++y)
        for (int z = -1; z <= 5; ++z) {
            if (y != 0 && y != 4 && z != 0 && z != 4)
                CHECK(box.inside({2, double(y), double(z)}) == (y > 0 && y < 4 && z > 0 && z < 4));
            CHECK_FALSE(box.inside({-1, double(y), double(z)}));
            CHECK_FALSE(box.inside({5, double(y), double(z)}));
        }
}

TEST_CASE("winding: counts how often, and which way round")
{
    const SurfaceTree tree(together(
        {cube({0, 0, 0}, 9), cube({1, 1, 1}, 3), turnedOver(cube({5, 5, 5}, 2)), turnedOver(cube({20, 0, 0}, 2))}));
    CHECK(tree.winding({0.5, 0.5, 0.5}) == 1);
    CHECK(tree.winding({2, 2, 2}) == 2);
    CHECK(tree.winding({6, 6, 6}) == 0);
    CHECK(tree.winding({21, 1, 1}) == -1);
    CHECK(tree.winding({-5, 1, 1}) == 0);
}

TEST_CASE("samples: on their triangle, in proportion to area, the same each time")
{
    Mesh m = cuboid({0, 0, 0}, {10, 10, 1});
    m.triangles.push_back({0, 0, 1}); // no area: gets none
    const auto samples = sampledSurface(m, 4000, 5);
    REQUIRE(samples.size() == 4000);
    std::vector<std::size_t> perTriangle(m.triangles.size(), 0);
    for (const SurfacePoint& s : samples) {
        ++perTriangle[s.triangle];
        CHECK(SurfaceTree(m, std::vector<Index>{s.triangle}).distance(s.point) < 1e-12);
    }
    // One in each equal strip of area: within one of the exact share.
    for (std::size_t i = 0; i < perTriangle.size(); ++i)
        CHECK(std::abs(static_cast<double>(perTriangle[i]) - 4000 * triangleArea(m, i) / area(m)) <= 1.001);
    const auto again = sampledSurface(m, 4000, 5);
    for (std::size_t i = 0; i < 4000; ++i)
        CHECK(samples[i].point == again[i].point);
    CHECK_FALSE(sampledSurface(m, 4000, 6)[0].point == samples[0].point);
    CHECK(sampledSurface({}, 10, 1).empty());
    CHECK(sampledSurface(soup({{0, 0, 0}}, {{0, 0, 0}}), 10, 1).empty());
}
