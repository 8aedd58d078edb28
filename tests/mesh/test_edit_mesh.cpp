// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/edge_collapse.h"
#include "mesh/edit_mesh.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"
#include "mesh/split_fans.h"
#include "mesh/topology.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <numeric>

using namespace quoin::mesh;
using quoin::test::same;

namespace {

double leastHeight(const Mesh& mesh)
{
    double least = 1e300;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
        least = std::min(least, heightOf(mesh.corner(t, 0), mesh.corner(t, 1), mesh.corner(t, 2)));
    return least;
}

std::vector<Index> all(const EditMesh& mesh)
{
    std::vector<Index> triangles(mesh.triangleCount());
    std::iota(triangles.begin(), triangles.end(), Index{0});
    return triangles;
}

} // namespace

TEST_CASE("edit mesh: every edge of a sphere can be closed, and taken back", "[edit_mesh]")
{
    const Mesh sphere = icosphere(10, 2);
    EditMesh edit(sphere);
    for (Index t = 0; t < sphere.triangles.size(); ++t)
        for (std::size_t k = 0; k < 3; ++k) {
            const auto collapse = edit.collapse(sphere.triangles[t][k], sphere.triangles[t][(k + 1) % 3]);
            REQUIRE(collapse.has_value());
            const EditMesh::Edit back = edit.apply(*collapse);
            const Mesh closed = edit.mesh();
            REQUIRE(closed.triangles.size() == sphere.triangles.size() - 2);
            REQUIRE(closed.points.size() == sphere.points.size() - 1);
            REQUIRE(topologyOf(closed).solid());
            edit.apply(back);
        }
    CHECK(same(edit.mesh(), sphere));
}

TEST_CASE("edit mesh: what would not stay a surface is refused", "[edit_mesh]")
{
    const EditMesh four(quoin::test::tetrahedron({0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}));
    CHECK_FALSE(four.collapse(0, 1).has_value());
    CHECK_FALSE(four.flip(0, 0).has_value());
    // Necks of three edges that bound no triangle.
    const Mesh ring = torus(10, 3, 8, 3);
    EditMesh neck(ring);
    std::size_t refused = 0;
    for (const Triangle& t : ring.triangles)
        for (std::size_t k = 0; k < 3; ++k) {
            const auto collapse = neck.collapse(t[k], t[(k + 1) % 3]);
            refused += !collapse;
            if (!collapse)
                continue;
            const EditMesh::Edit back = neck.apply(*collapse);
            CHECK(topologyOf(neck.mesh()).solid());
            neck.apply(back);
        }
    CHECK(refused == 8 * 3 * 2);
    const EditMesh cube(box({0, 0, 0}, {1, 1, 1}));
    for (Index a = 0; a < 8; ++a)
        for (Index b = 0; b < 8; ++b)
            if (a != b && !cube.hasEdge(a, b))
                CHECK_FALSE(cube.collapse(a, b).has_value());
}

TEST_CASE("edit mesh: turned sides and split edges keep a closed surface and its volume", "[edit_mesh]")
{
    EditMesh edit(icosphere(10, 2));
    std::size_t turned = 0;
    for (Index t = 0; t < edit.triangleCount(); t += 5)
        if (const auto flip = edit.flip(t, static_cast<int>(t % 3))) {
            edit.apply(*flip);
            ++turned;
        }
    CHECK(turned > 30);
    CHECK(topologyOf(edit.mesh()).solid());
    const double before = volume(edit.mesh());
    for (Index t = 0; t < 100; ++t) {
        const Vec3 a = edit.point(edit.triangle(t)[0]), b = edit.point(edit.triangle(t)[1]);
        edit.splitEdge(t, 0, 0.5 * (a + b));
        const Triangle c = edit.triangle(t + 100);
        edit.splitTriangle(t + 100, (edit.point(c[0]) + edit.point(c[1]) + edit.point(c[2])) / 3);
    }
    const Mesh split = edit.mesh();
    CHECK(topologyOf(split).solid());
    CHECK(split.triangles.size() == 320 + 200 + 200);
    CHECK(volume(split) == Approx(before).epsilon(1e-12));
}

TEST_CASE("edge collapse: a sliver has its long side turned, a short edge is closed", "[edge_collapse]")
{
    const TidyOptions options{1e-4, 1e-4, 1};
    EditMesh sliver(box({0, 0, 0}, {2, 2, 2}));
    const Triangle t = sliver.triangle(3);
    const Vec3 a = sliver.point(t[0]), b = sliver.point(t[1]), c = sliver.point(t[2]);
    sliver.splitTriangle(3, 0.5 * (a + b) + 1e-7 * (c - a));
    REQUIRE(leastHeight(sliver.mesh()) < 1e-6);
    Drift drift(sliver.mesh().points);
    CHECK(tidyEdges(sliver, drift, all(sliver), options) == 0);
    CHECK(leastHeight(sliver.mesh()) > 0.5);
    CHECK(topologyOf(sliver.mesh()).solid());
    CHECK(volume(sliver.mesh()) == Approx(8).epsilon(1e-6));

    EditMesh near(box({0, 0, 0}, {2, 2, 2}));
    near.splitEdge(3, 0, a + 1e-6 * (b - a));
    Drift nearDrift(near.mesh().points);
    CHECK(tidyEdges(near, nearDrift, all(near), options) == 1);
    CHECK(near.mesh().triangles.size() == 12);
    CHECK(volume(near.mesh()) == Approx(8).epsilon(1e-12)); // the corner stays, the new one goes
}

TEST_CASE("edge collapse: no vertex gathers more drift than the limit", "[edge_collapse]")
{
    // A row of edges each shorter than the size: closing them all would move one end a long way.
    Mesh rod = cylinder(5, 100, 12, 200);
    EditMesh edit(rod);
    Drift drift(rod.points);
    tidyEdges(edit, drift, all(edit), {0.6, 0.1, 2});
    CHECK(topologyOf(edit.mesh()).solid());
    for (const Index v : edit.vertices())
        CHECK(drift.at(v, edit.point(v)) <= 2);
    CHECK(edit.mesh().points.size() < rod.points.size());
    CHECK(edit.mesh().points.size() > 12 * 20);
}

TEST_CASE("split fans: opposite pairs go, touching solids get corners of their own", "[split_fans]")
{
    const Mesh cube = quoin::test::cube({0, 0, 0}, 10);
    Mesh withSheet = cube;
    withSheet.triangles.push_back({0, 1, 6});
    withSheet.triangles.push_back({1, 0, 6});
    CHECK(same(withoutOppositePairs(withSheet), withoutOppositePairs(cube)));
    const Mesh touching = quoin::test::weldedTogether({cube, quoin::test::cube({10, 10, 0}, 10)});
    const Mesh parted = splitFans(touching);
    CHECK(topologyOf(parted).solid());
    CHECK(parted.points.size() == 16);
    CHECK(connectedParts(parted).count == 2);
    CHECK(same(splitFans(cube), cube));
}
