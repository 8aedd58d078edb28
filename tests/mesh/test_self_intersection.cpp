// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/self_intersection.h"
#include "tests/support/scratch.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>

using namespace quoin::mesh;
using namespace quoin::test;

namespace {

std::size_t pairs(const Mesh& m)
{
    return selfIntersections(m).size();
}

} // namespace

TEST_CASE("self-intersection: embedded solids have none")
{
    CHECK(pairs({}) == 0);
    CHECK(pairs(cube({0, 0, 0}, 1)) == 0);
    CHECK(pairs(sphere({1, 2, 3}, 10, 5)) == 0);
    CHECK(pairs(ring(30, 10, 40, 30)) == 0);
    CHECK(pairs(together({cube({0, 0, 0}, 9), turnedOver(cube({1, 1, 1}, 2)), cube({10, 0, 0}, 3)})) == 0);
}

TEST_CASE("self-intersection: edge neighbours meet only when folded onto each other")
{
    const auto fold = [](Vec3 d) { return soup({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, d}, {{0, 1, 2}, {1, 0, 3}}); };
    CHECK(pairs(fold({0, -1, 0})) == 0);   // flat
    CHECK(pairs(fold({0, 0, 1})) == 0);    // square
    CHECK(pairs(fold({0, 1, 1e-9})) == 0); // nearly shut
    CHECK(pairs(fold({5, 1, 0})) == 1);    // shut
    CHECK(pairs(fold({0, 1, 0})) == 1);    // shut, third corners in one place
}

TEST_CASE("self-intersection: corner neighbours may share the corner and no more")
{
    const auto kite = [](Vec3 r, Vec3 s) {
        return soup({{0, 0, 0}, {2, 0, 0}, {0, 2, 0}, r, s}, {{0, 1, 2}, {0, 3, 4}});
    };
    CHECK(pairs(kite({-1, 0, 0}, {0, -1, 0})) == 0);
    CHECK(pairs(kite({-1, 0, 1}, {-1, 0, -1})) == 0);
    CHECK(pairs(kite({1, 1, 1}, {1, 1, -1})) == 1);        // runs through the middle
    CHECK(pairs(kite({0.5, 0.5, 0}, {1, 0.5, 1})) == 1);   // one edge lies in the other
    CHECK(pairs(kite({4, 0, 0}, {4, 0, 1})) == 1);         // along an edge
    CHECK(pairs(kite({0.5, 0.5, 0}, {0.4, 0.6, 0})) == 1); // flat, within
    CHECK(pairs(kite({4, 4, 0}, {4, 5, 0})) == 1);         // flat, across
    CHECK(pairs(kite({3, -1, 1}, {3, -1, -1})) == 0);
}

TEST_CASE("self-intersection: strangers may not even touch")
{
    const Mesh base = soup({{0, 0, 0}, {2, 0, 0}, {0, 2, 0}}, {{0, 1, 2}});
    const auto with = [&](Vec3 a, Vec3 b, Vec3 c) { return pairs(together({base, soup({a, b, c}, {{0, 1, 2}})})); };
    CHECK(with({0.5, 0.5, 0}, {1, 1, 1}, {0, 1, 1}) == 1); // a tip on the face
    CHECK(with({0, 0, 0}, {-1, 0, 0}, {0, -1, 0}) == 1);   // tip on tip, other index
    CHECK(with({0, 0, 0}, {2, 0, 0}, {0, -2, 0}) == 1);    // edge on edge, other indices
    CHECK(with({0.5, 0.5, 1e-12}, {1, 1, 1}, {0, 1, 1}) == 0);
    CHECK(with({0.2, 0.2, -1}, {0.2, 0.2, 1}, {5, 5, 0}) == 1);
}

TEST_CASE("self-intersection: duplicates and coplanar overlaps count")
{
    Mesh twice = cube({0, 0, 0}, 1);
    twice.triangles.push_back(twice.triangles[0]);
    // The copy meets its original, and what both neighbours share with it is an edge only.
    CHECK(pairs(twice) == 1);
    CHECK(selfIntersections(twice)[0] == std::pair<Index, Index>{0, 12});
    CHECK(pairs(together({cube({0, 0, 0}, 1), cube({1, 0.25, 0.25}, 1)})) > 0);
}

TEST_CASE("self-intersection: overlapping cubes meet in pairs counted by brute force")
{
    // Two cubes in general position: each crossing pair found by an independent test of all 12 x 12 pairs, edge
    // against face, in exact small integers.
    const Mesh a = cube({0, 0, 0}, 4), b = cube({3, 2, 1}, 5);
    const auto det = [](Vec3 u, Vec3 v, Vec3 w) { return dot(u, cross(v, w)); };
    const auto pierces = [&](Vec3 p, Vec3 q, Vec3 x, Vec3 y, Vec3 z) {
        const double sp = det(y - x, z - x, p - x), sq = det(y - x, z - x, q - x);
        if (sp * sq > 0 || (sp == 0 && sq == 0))
            return false;
        const double u = det(q - p, x - p, y - p), v = det(q - p, y - p, z - p), w = det(q - p, z - p, x - p);
        return (u >= 0 && v >= 0 && w >= 0) || (u <= 0 && v <= 0 && w <= 0);
    };
    std::size_t expected = 0;
    for (std::size_t i = 0; i < 12; ++i)
        for (std::size_t j = 0; j < 12; ++j) {
            bool meet = false;
            for (int k = 0; k < 3; ++k) {
                meet = meet || pierces(a.corner(i, k), a.corner(i, (k + 1) % 3), b.corner(j, 0), b.corner(j, 1),
                                       b.corner(j, 2));
                meet = meet || pierces(b.corner(j, k), b.corner(j, (k + 1) % 3), a.corner(i, 0), a.corner(i, 1),
                                       a.corner(i, 2));
            }
            expected += meet ? 1 : 0;
        }
    REQUIRE(expected > 0);
    CHECK(pairs(together({a, b})) == expected);
}

TEST_CASE("self-intersection: the answer doesn't hang on order and is sorted")
{
    Mesh m = together({sphere({0, 0, 0}, 5, 3), sphere({4, 1, 0}, 5, 3)});
    const auto first = selfIntersections(m);
    CHECK(std::is_sorted(first.begin(), first.end()));
    CHECK(first == selfIntersections(m));
    for (const auto& [s, t] : first)
        CHECK(s < t);
    std::mt19937 random(3);
    std::shuffle(m.triangles.begin(), m.triangles.end(), random);
    CHECK(pairs(m) == first.size());
}

TEST_CASE("self-intersection: a limit stops early")
{
    const Mesh m = together({sphere({0, 0, 0}, 5, 5), sphere({4, 1, 0}, 5, 5)});
    const std::size_t some = selfIntersections(m, 1).size();
    CHECK(some >= 1);
    CHECK(some < pairs(m) / 2);
}

TEST_CASE("self-intersection: triangles without area do no harm and their neighbours tell")
{
    // A cap whose edge 0-1 is split by point 4 on one side only, closed by a needle.
    const Mesh m = soup({{0, 0, 0}, {4, 0, 0}, {0, 4, 0}, {0, -4, 0}, {2, 0, 0}, {1, 1, 9}},
                        {{0, 1, 2}, {4, 0, 3}, {1, 4, 3}, {0, 4, 1}, {5, 5, 5}});
    for (const auto& [s, t] : selfIntersections(m)) {
        CHECK(s != 3);
        CHECK(t < 3);
    }
    CHECK(pairs(m) == 2);
}

TEST_CASE("self-intersection: meshes that touch intersect, meshes apart don't")
{
    const Mesh a = sphere({0, 0, 0}, 5, 3);
    CHECK(meshesIntersect(a, moved(a, {9, 0, 0})));
    CHECK(meshesIntersect(cube({0, 0, 0}, 1), cube({1, 0, 0}, 1)));
    CHECK(meshesIntersect(cube({0, 0, 0}, 1), cube({1, 1, 1}, 1)));
    CHECK_FALSE(meshesIntersect(cube({0, 0, 0}, 1), cube({1.0000001, 0, 0}, 1)));
    CHECK_FALSE(meshesIntersect(a, cube({-1, -1, -1}, 2))); // inside, not touching
    CHECK_FALSE(meshesIntersect(a, {}));
    CHECK_FALSE(meshesIntersect({}, a));
}

TEST_CASE("self-intersection: the raw Stanford bunny has none")
{
    CHECK(pairs(binaryStl(reference("stl-models/objects/bunny.bin.stl"))) == 0);
}
