// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/surface_brush.h"

#include "mesh/distance.h"
#include "mesh/primitives.h"
#include "tests/support/shapes.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <numbers>
#include <random>
#include <set>

using namespace quoin;
using mesh::Index;
using mesh::Vec3;

namespace {

double areaOf(const mesh::Mesh& m, const std::vector<Index>& triangles)
{
    double sum = 0;
    for (const Index t : triangles)
        sum += length(cross(m.corner(t, 1) - m.corner(t, 0), m.corner(t, 2) - m.corner(t, 0))) / 2;
    return sum;
}

/// The triangle nearest to a place.
Index at(const mesh::Mesh& m, Vec3 p)
{
    Index best = 0;
    double least = 1e300;
    for (Index t = 0; t < m.triangles.size(); ++t) {
        const double d = ui::distanceToTriangle(p, m.corner(t, 0), m.corner(t, 1), m.corner(t, 2));
        if (d < least) {
            least = d;
            best = t;
        }
    }
    return best;
}

} // namespace

TEST_CASE("surface neighbours: every triangle of a closed surface has three, and they are mutual")
{
    const auto m = test::sphere({0, 0, 0}, 10, 3);
    const auto n = ui::neighboursOf(m);
    REQUIRE(n.across.size() == 3 * m.triangles.size());
    for (Index t = 0; t < m.triangles.size(); ++t)
        for (std::size_t k = 0; k < 3; ++k) {
            const Index other = n.across[3 * t + k];
            REQUIRE(other < m.triangles.size());
            int back = 0, shared = 0;
            for (std::size_t j = 0; j < 3; ++j) {
                back += n.across[3 * other + j] == t ? 1 : 0;
                for (std::size_t i = 0; i < 3; ++i)
                    shared += m.triangles[t][i] == m.triangles[other][j] ? 1 : 0;
            }
            CHECK(back == 1);
            CHECK(shared == 2);
        }
}

TEST_CASE("surface neighbours: none across a border")
{
    const auto m = test::without(test::cube({0, 0, 0}, 10), {0, 1});
    const auto n = ui::neighboursOf(m);
    CHECK(std::count(n.across.begin(), n.across.end(), ui::SurfaceNeighbours::none) == 4);
}

TEST_CASE("distance to a triangle: the same as the nearest-point tree's")
{
    std::mt19937 random(5);
    std::uniform_real_distribution<double> unit(-1, 1);
    const auto point = [&] { return Vec3{unit(random), unit(random), unit(random)}; };
    for (int i = 0; i < 300; ++i) {
        const Vec3 a = point(), b = point(), c = point(), p = 2.0 * point();
        const mesh::SurfaceTree tree(test::soup({a, b, c}, {{0, 1, 2}}));
        CHECK(ui::distanceToTriangle(p, a, b, c) == Approx(tree.distance(p)).margin(1e-9));
    }
    // A needle without area is as far as its nearest corner at most.
    CHECK(ui::distanceToTriangle({0, 3, 0}, {0, 0, 0}, {0, 0, 0}, {0, 0, 0}) == 3);
}

TEST_CASE("brush: on a ball it marks the cap within its radius, as large as closed form says")
{
    const auto m = test::sphere({0, 0, 0}, 50, 6);
    const auto n = ui::neighboursOf(m);
    const Vec3 top{0, 0, 50};
    const auto marked = ui::brushed(m, n, at(m, top), top, 20);
    // Archimedes: the part of a sphere within a chord length c of a point has the area pi c^2.
    CHECK(areaOf(m, marked) == Approx(std::numbers::pi * 400).epsilon(0.1));
    CHECK(areaOf(m, marked) >= std::numbers::pi * 400 * 0.999);
    CHECK(std::set<Index>(marked.begin(), marked.end()).size() == marked.size());
}

TEST_CASE("brush: the other side of a slit is left alone")
{
    // A ring with a gap of 1 mm: a prism of a C.
    const mesh::Region c{{{0, 0}, {40, 0}, {40, 20}, {0, 20}, {0, 10.5}, {30, 10.5}, {30, 9.5}, {0, 9.5}}};
    const auto m = mesh::prism(c, 10, 10);
    const auto n = ui::neighboursOf(m);
    const Vec3 lip{15, 9.5, 5};
    const auto marked = ui::brushed(m, n, at(m, lip), lip, 3);
    REQUIRE_FALSE(marked.empty());
    for (const Index t : marked)
        for (int k = 0; k < 3; ++k)
            CHECK(m.corner(t, k).y < 10);
}

TEST_CASE("brush: a radius of nothing marks the triangle under the pointer")
{
    const auto m = test::sphere({0, 0, 0}, 50, 3);
    const auto n = ui::neighboursOf(m);
    const Vec3 inside = (m.corner(7, 0) + m.corner(7, 1) + m.corner(7, 2)) / 3.0;
    CHECK(ui::brushed(m, n, 7, inside, 0) == std::vector<Index>{7});
}

TEST_CASE("smooth patch: ends at creases")
{
    const auto cube = test::cube({0, 0, 0}, 10);
    const auto n = ui::neighboursOf(cube);
    for (Index t = 0; t < 12; ++t)
        CHECK(ui::smoothPatch(cube, n, t).size() == 2);
    // The round side of a cylinder of 24 sides is one patch (15 degrees an edge), its ends are others.
    const auto rod = mesh::cylinder(5, 20, 24, 2);
    const auto across = ui::neighboursOf(rod);
    CHECK(areaOf(rod, ui::smoothPatch(rod, across, at(rod, {5, 0, 10}))) ==
          Approx(20 * 24 * 2 * 5 * std::sin(std::numbers::pi / 24)));
    CHECK(areaOf(rod, ui::smoothPatch(rod, across, at(rod, {0, 0, 20}))) ==
          Approx(24 * 0.5 * 25 * std::sin(2 * std::numbers::pi / 24)));
    // A finer limit parts the sides from each other.
    CHECK(ui::smoothPatch(rod, across, at(rod, {5, 0.1, 10}), 0.2).size() == 4);
}

TEST_CASE("smooth patch: passes over a triangle without area")
{
    // Two squares in one plane with a needle of no area along their common edge.
    const auto m = test::soup({{0, 0, 0}, {10, 0, 0}, {10, 10, 0}, {0, 10, 0}, {10, 5, 0}, {20, 0, 0}, {20, 10, 0}},
                              {{0, 1, 2}, {0, 2, 3}, {2, 1, 4}, {4, 1, 5}, {4, 5, 6}, {4, 6, 2}});
    const auto n = ui::neighboursOf(m);
    CHECK(ui::smoothPatch(m, n, 0).size() == 6);
    CHECK(ui::smoothPatch(m, n, 2).size() == 6);
}

TEST_CASE("smooth patch: a triangle without area hides no crease behind it")
{
    // The same with the second square standing up.
    const auto m = test::soup({{0, 0, 0}, {10, 0, 0}, {10, 10, 0}, {0, 10, 0}, {10, 5, 0}, {10, 0, 10}, {10, 10, 10}},
                              {{0, 1, 2}, {0, 2, 3}, {2, 1, 4}, {4, 1, 5}, {4, 5, 6}, {4, 6, 2}});
    const auto n = ui::neighboursOf(m);
    CHECK(ui::smoothPatch(m, n, 0).size() == 3);
    CHECK(ui::smoothPatch(m, n, 4).size() == 4);
}

TEST_CASE("smooth patch: stops at the wished number, nearest first")
{
    const auto m = test::sphere({0, 0, 0}, 50, 4);
    const auto n = ui::neighboursOf(m);
    const auto few = ui::smoothPatch(m, n, 100, ui::creaseRadians, 10);
    CHECK(few.size() == 10);
    CHECK(few.front() == 100);
    const auto all = ui::smoothPatch(m, n, 100);
    CHECK(all.size() == m.triangles.size());
    CHECK(std::equal(few.begin(), few.end(), all.begin()));
}
