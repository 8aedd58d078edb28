// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "mesh/topology.h"
#include "tests/support/scratch.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>

using namespace quoin::mesh;
using namespace quoin::test;

TEST_CASE("topology: closed solids are solid, with the edge count that Euler's formula forces")
{
    // Closed triangle meshes have 3F/2 edges; V - E + F is 2 for a ball and 0 for a ring (Euler).
    const auto euler = [](const Mesh& m) {
        const Topology t = topologyOf(m);
        CHECK(t.solid());
        CHECK(t.degenerateTriangles + t.duplicateTriangles == 0);
        return static_cast<long>(m.points.size()) - static_cast<long>(t.edges) + static_cast<long>(m.triangles.size());
    };
    CHECK(euler(cube({0, 0, 0}, 1)) == 2);
    CHECK(euler(tetrahedron({0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1})) == 2);
    CHECK(euler(sphere({1, 2, 3}, 5, 4)) == 2);
    CHECK(euler(ring(30, 10, 24, 16)) == 0);
    CHECK(euler(together({cube({0, 0, 0}, 1), ring(30, 10, 8, 6)})) == 2);
}

TEST_CASE("topology: an empty mesh has nothing and is called solid")
{
    const Topology t = topologyOf({});
    CHECK(t.edges == 0);
    CHECK(t.solid());
    CHECK(connectedParts({}).count == 0);
    CHECK(bodies({}).empty());
}

TEST_CASE("topology: open edges are counted and placed")
{
    const Mesh m = without(cube({0, 0, 0}, 2), {2});
    const Topology t = topologyOf(m);
    CHECK(t.openEdges == 3);
    CHECK_FALSE(t.closed());
    CHECK_FALSE(t.solid());
    CHECK(t.openAt.z == 2);
    CHECK(t.somewhere == t.openAt);
    CHECK(topologyOf(exploded(m)).openEdges == 33);
}

TEST_CASE("topology: a turned face is flipped against its three neighbours")
{
    Mesh m = cube({0, 0, 0}, 2);
    std::swap(m.triangles[4][0], m.triangles[4][1]);
    const Topology t = topologyOf(m);
    CHECK(t.flippedEdges == 3);
    CHECK(t.closed());
    CHECK_FALSE(t.oriented());
    CHECK(t.somewhere == t.flippedAt);
}

TEST_CASE("topology: two cubes sharing an edge have one non-manifold edge and no non-manifold vertex")
{
    const Topology t = topologyOf(weldedTogether({cube({0, 0, 0}, 1), cube({1, 1, 0}, 1)}));
    CHECK(t.nonManifoldEdges == 1);
    CHECK(t.nonManifoldVertices == 0);
    CHECK(t.openEdges == 0);
    CHECK(t.nonManifoldEdgeAt == Vec3{1, 1, 0.5});
    CHECK_FALSE(t.solid());
}

TEST_CASE("topology: two cubes sharing a corner have one non-manifold vertex")
{
    const Topology t = topologyOf(weldedTogether({cube({0, 0, 0}, 1), cube({1, 1, 1}, 1)}));
    CHECK(t.nonManifoldVertices == 1);
    CHECK(t.nonManifoldEdges == 0);
    CHECK(t.nonManifoldVertexAt == Vec3{1, 1, 1});
    CHECK_FALSE(t.solid());
}

TEST_CASE("topology: an open fan round a vertex is one fan, two open fans are two")
{
    const Mesh fan = soup({{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}, {-1, 1, 0}, {-1, 0, 0}},
                          {{0, 2, 3}, {0, 1, 2}, {0, 3, 4}, {0, 4, 5}});
    CHECK(topologyOf(fan).nonManifoldVertices == 0);
    CHECK(topologyOf(without(fan, {2})).nonManifoldVertices == 1);
}

TEST_CASE("topology: duplicates count in either winding, and each one more")
{
    Mesh m = cube({0, 0, 0}, 1);
    m.triangles.push_back({m.triangles[5][1], m.triangles[5][2], m.triangles[5][0]});
    CHECK(topologyOf(m).duplicateTriangles == 1);
    m.triangles.push_back({m.triangles[5][1], m.triangles[5][0], m.triangles[5][2]});
    CHECK(topologyOf(m).duplicateTriangles == 2);
    CHECK(topologyOf(weldedTogether({cube({0, 0, 0}, 1), cube({0, 0, 0}, 1)})).duplicateTriangles == 12);
    // A sheet laid back on itself is closed and oriented as far as edges go.
    const Topology sheet = topologyOf(soup({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, {{0, 1, 2}, {0, 2, 1}}));
    CHECK(sheet.duplicateTriangles == 1);
    CHECK(sheet.openEdges == 0);
}

TEST_CASE("topology: triangles without area are told exactly")
{
    CHECK(degenerate({0, 0, 0}, {1, 1, 1}, {3, 3, 3}));
    CHECK(degenerate({1, 2, 3}, {1, 2, 3}, {9, 9, 9}));
    CHECK_FALSE(degenerate({0, 0, 0}, {1, 1, 1}, {3, 3, 3.0000000000000004}));
    // 0.1 + 0.2 isn't 0.3: as real numbers these doubles are not in line.
    CHECK_FALSE(degenerate({0, 0, 0}, {0.1, 0.3, 0}, {0.2, 0.1 * 3 + 0.3, 0}));
    CHECK_FALSE(degenerate({0, 0, 0}, {1e-200, 0, 0}, {0, 1e-200, 0}));
    Mesh m = soup({{0, 0, 0}, {2, 0, 0}, {1, 0, 0}, {0, 1, 0}}, {{0, 1, 2}, {0, 1, 3}, {0, 0, 3}});
    const Topology t = topologyOf(m);
    CHECK(t.degenerateTriangles == 2);
    CHECK(t.nonManifoldEdges >= 1);
    CHECK_FALSE(t.solid());
}

TEST_CASE("topology: counts don't hang on the order of triangles and points")
{
    const Mesh m = weldedTogether({cube({0, 0, 0}, 1), cube({1, 1, 0}, 1), cube({5, 5, 5}, 1), cube({6, 6, 6}, 1),
                                   without(sphere({20, 0, 0}, 3, 2), {7, 40, 43})});
    const Topology before = topologyOf(m);
    std::mt19937 random(7);
    Mesh mixed = m;
    std::shuffle(mixed.triangles.begin(), mixed.triangles.end(), random);
    for (Triangle& t : mixed.triangles)
        std::rotate(t.begin(), t.begin() + random() % 3, t.end());
    const Topology after = topologyOf(mixed);
    CHECK(before.edges == after.edges);
    CHECK(before.openEdges == after.openEdges);
    CHECK(before.openEdges == 7);
    CHECK(before.nonManifoldEdges == after.nonManifoldEdges);
    CHECK(before.nonManifoldVertices == after.nonManifoldVertices);
    CHECK(after.nonManifoldVertices == 1);
}

TEST_CASE("topology: the raw Stanford bunny has 223 open edges and no other fault")
{
    // Counted independently with another kernel: five holes, 223 boundary edges, 34834 vertices.
    const Mesh m = binaryStl(reference("stl-models/objects/bunny.bin.stl"));
    const Topology t = topologyOf(m);
    CHECK(m.points.size() == 34834);
    CHECK(t.openEdges == 223);
    CHECK(t.nonManifoldEdges == 0);
    CHECK(t.nonManifoldVertices == 0);
    CHECK(t.flippedEdges == 0);
}

TEST_CASE("parts: connected through edges, numbered by first triangle")
{
    const Mesh m = weldedTogether({cube({0, 0, 0}, 1), cube({1, 1, 1}, 1), cube({9, 9, 9}, 1)});
    const Parts parts = connectedParts(m);
    REQUIRE(parts.count == 3); // the first two share a corner only
    for (std::size_t i = 0; i < 36; ++i)
        CHECK(parts.partOf[i] == i / 12);
    CHECK(connectedParts(weldedTogether({cube({0, 0, 0}, 1), cube({1, 1, 0}, 1)})).count == 1);
    CHECK(trianglesOf(parts)[1].front() == 12);
}

TEST_CASE("bodies: a single body comes back as it is")
{
    Mesh m = sphere({0, 0, 0}, 4, 2);
    m.labels.assign(m.triangles.size(), 3);
    const std::vector<Mesh> out = bodies(m);
    REQUIRE(out.size() == 1);
    CHECK(same(out[0], m));
    CHECK(bodies(turnedOver(m)).size() == 1);
}

TEST_CASE("bodies: a cavity belongs to its body, a body in a cavity is its own")
{
    const Mesh m = together({turnedOver(cube({1, 1, 1}, 8)), cube({2, 2, 2}, 6), cube({20, 0, 0}, 10),
                             cube({0, 0, 0}, 10), turnedOver(cube({3, 3, 3}, 4)), turnedOver(sphere({25, 5, 5}, 2, 1)),
                             turnedOver(sphere({22, 5, 5}, 0.5, 1))});
    const std::vector<Mesh> out = bodies(m);
    REQUIRE(out.size() == 3);
    // Ordered by the outer shell's first triangle: inner hollow cube, the one at x = 20, outer hollow cube.
    CHECK(volume(out[0]) == Approx(216 - 64));
    CHECK(volume(out[1]) ==
          Approx(1000 + volume(turnedOver(sphere({25, 5, 5}, 2, 1))) + volume(turnedOver(sphere({22, 5, 5}, 0.5, 1)))));
    CHECK(volume(out[2]) == Approx(1000 - 512));
}

TEST_CASE("bodies: shells that cut each other, touch or lie in solid material are bodies of their own")
{
    CHECK(bodies(together({cube({0, 0, 0}, 2), cube({1, 1, 1}, 2)})).size() == 2);
    CHECK(bodies(together({cube({0, 0, 0}, 2), cube({0, 0, 0}, 2)})).size() == 2);
    CHECK(bodies(together({cube({0, 0, 0}, 9), cube({1, 1, 1}, 2)})).size() == 2);
    CHECK(bodies(together({cube({0, 0, 0}, 9), turnedOver(cube({20, 1, 1}, 2))})).size() == 2);
    CHECK(bodies(turnedOver(together({cube({0, 0, 0}, 9), turnedOver(cube({1, 1, 1}, 2))}))).size() == 1);
}

TEST_CASE("bodies: labels go along")
{
    Mesh m = together({cube({0, 0, 0}, 1), cube({5, 0, 0}, 1)});
    m.labels.resize(24);
    for (Index i = 0; i < 24; ++i)
        m.labels[i] = i;
    const std::vector<Mesh> out = bodies(m);
    REQUIRE(out.size() == 2);
    CHECK(out[1].labels.front() == 12);
    CHECK(out[1].labels.back() == 23);
}
