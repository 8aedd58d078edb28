// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "mesh/mesh.h"
#include "mesh/topology.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

#include <numbers>

using namespace quoin::mesh;
using namespace quoin::test;

TEST_CASE("welded: an exploded solid comes together again")
{
    const Mesh m = sphere({3, 1, 2}, 7, 3);
    const Mesh again = welded(exploded(m));
    CHECK(again.points.size() == m.points.size());
    CHECK(again.triangles.size() == m.triangles.size());
    CHECK(topologyOf(again).solid());
    CHECK(volume(again) == volume(m));
    CHECK(same(welded(again), again));
}

TEST_CASE("welded: minus zero is zero, neighbours in the last bit are not")
{
    const Mesh m = soup({{0.0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {-0.0, -0.0, 0}, {1, 0, 0x1p-1074}, {0, 1, 0}},
                        {{0, 1, 2}, {3, 5, 4}});
    CHECK(welded(m).points.size() == 4);
}

TEST_CASE("welded: collapsed triangles and unused points go, labels stay with theirs")
{
    Mesh m = soup({{9, 9, 9}, {0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 0}}, {{1, 4, 2}, {1, 2, 3}});
    m.labels.assign({7, 8});
    const Mesh w = welded(m);
    REQUIRE(w.triangles.size() == 1);
    CHECK(w.points.size() == 3);
    CHECK(w.label(0) == 8);
    CHECK(welded({}).empty());
}

TEST_CASE("transformed: mirroring keeps the outside outside")
{
    const Mesh m = tetrahedron({0, 0, 0}, {1, 0, 0}, {0, 2, 0}, {0, 0, 3});
    const Mesh mirrored = transformed(m, Transform::scaling(-2));
    CHECK(volume(mirrored) == Approx(8 * volume(m)));
    CHECK(topologyOf(mirrored).solid());
    const Mesh turned = transformed(m, Transform::rotation({1, 2, 3}, 1.0));
    CHECK(volume(turned) == Approx(volume(m)));
    CHECK(turned.triangles == m.triangles);
}

TEST_CASE("subset: renumbers in order of first use and keeps labels")
{
    Mesh m = cube({0, 0, 0}, 1);
    m.labels.resize(12);
    for (Index i = 0; i < 12; ++i)
        m.labels[i] = 100 + i;
    const Mesh s = subset(m, {3, 2});
    REQUIRE(s.triangles.size() == 2);
    CHECK(s.points.size() == 4);
    CHECK(s.triangles[0] == Triangle{0, 1, 2});
    CHECK(s.corner(0, 1) == m.corner(3, 1));
    CHECK(s.corner(1, 2) == m.corner(2, 2));
    CHECK(s.labels[0] == 103);
    CHECK(subset(m, {}).empty());
}

TEST_CASE("joined: both are there, labels are filled up where one has none")
{
    Mesh a = cube({0, 0, 0}, 1);
    const Mesh b = cube({5, 0, 0}, 2);
    CHECK(joined(a, b).labels.empty());
    a.labels.assign(12, 4);
    const Mesh ab = joined(a, b), ba = joined(b, a);
    CHECK(volume(ab) == Approx(9));
    CHECK(ab.label(0) == 4);
    CHECK(ab.label(12) == skinLabel);
    CHECK(ba.label(0) == skinLabel);
    CHECK(ba.label(12) == 4);
    CHECK(topologyOf(ab).solid());
}

TEST_CASE("bounds: of used points only, empty for nothing")
{
    Mesh m = cube({-1, 2, 3}, 2);
    m.points.push_back({1000, 1000, 1000});
    const Box3 box = bounds(m);
    CHECK(box.min == Vec3{-1, 2, 3});
    CHECK(box.max == Vec3{1, 4, 5});
    CHECK(bounds({}).empty());
}
