// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "mesh/primitives.h"

#include <catch2/catch.hpp>

#include <map>
#include <numbers>
#include <stdexcept>

using namespace quoin::mesh;
using std::numbers::pi;

namespace {

constexpr double exactly = 1e-12; // relative: closed forms in double precision

/// V - E + F of a mesh whose every edge is run once each way; throws away nothing, so an open or turned edge shows.
int eulerOfClosed(const Mesh& mesh)
{
    std::map<std::pair<Index, Index>, int> runs;
    std::vector<bool> used(mesh.points.size());
    for (const Triangle& t : mesh.triangles)
        for (std::size_t k = 0; k < 3; ++k) {
            ++runs[{t[k], t[(k + 1) % 3]}];
            used[t[k]] = true;
        }
    for (const auto& [edge, count] : runs) {
        REQUIRE(count == 1);
        REQUIRE(runs.contains({edge.second, edge.first}));
    }
    REQUIRE(std::count(used.begin(), used.end(), false) == 0);
    return static_cast<int>(mesh.points.size()) - static_cast<int>(runs.size() / 2) +
           static_cast<int>(mesh.triangles.size());
}

/// Area of a regular polygon inscribed in a circle.
double polygonArea(double radius, int sides)
{
    return 0.5 * sides * radius * radius * std::sin(2 * pi / sides);
}

Region squareWithRoundHole()
{
    Loop hole;
    for (int k = 0; k < 24; ++k)
        hole.push_back({3 * std::cos(2 * pi * k / 24), -3 * std::sin(2 * pi * k / 24)});
    return {{{-5, -5}, {5, -5}, {5, 5}, {-5, 5}}, hole};
}

} // namespace

TEST_CASE("box: volume")
{
    const Mesh m = box({1, 2, 3}, {3, 5, 7});
    CHECK(volume(m) == Approx(24).epsilon(exactly));
    CHECK(eulerOfClosed(m) == 2);
    CHECK_THROWS_AS(box({0, 0, 0}, {1, 0, 1}), std::invalid_argument);
}

TEST_CASE("cylinder: inscribed 64-gon prism, r 10, h 30")
{
    // Half the number of sides times r^2 sin(2 pi / n) times h: 9409.6455 mm3 (closed form).
    for (const int rows : {1, 7}) {
        const Mesh m = cylinder(10, 30, 64, rows);
        CHECK(volume(m) == Approx(9409.6455).epsilon(1e-8));
        CHECK(eulerOfClosed(m) == 2);
        CHECK(m.triangles.size() == static_cast<std::size_t>(64 * 2 * (rows + 1)));
    }
}

TEST_CASE("frustum: prismatoid formula, and the cone as its limit")
{
    const int sides = 20;
    const Mesh m = frustum(20, 10, 30, sides, 3);
    CHECK(volume(m) == Approx(30.0 / 3 * polygonArea(1, sides) * (400 + 200 + 100)).epsilon(exactly));
    CHECK(eulerOfClosed(m) == 2);
    const Mesh cone = frustum(10, 0, 30, sides);
    CHECK(volume(cone) == Approx(10 * polygonArea(10, sides)).epsilon(exactly));
    CHECK(eulerOfClosed(cone) == 2);
    const Mesh hanging = frustum(0, 10, 30, sides);
    CHECK(volume(hanging) == Approx(volume(cone)).epsilon(exactly));
    CHECK(eulerOfClosed(hanging) == 2);
}

TEST_CASE("torus: Pappus with inscribed polygons, one handle")
{
    // A ring of N flat sectors has N sin(2 pi / N) in place of 2 pi (Pappus; the cross-section's centroid is on the
    // ring circle by symmetry).
    const int ringSides = 48, tubeSides = 16;
    const Mesh m = torus(30, 10, ringSides, tubeSides);
    CHECK(volume(m) ==
          Approx(ringSides * std::sin(2 * pi / ringSides) * 30 * polygonArea(10, tubeSides)).epsilon(exactly));
    CHECK(eulerOfClosed(m) == 0);
    // Limit: 2 pi^2 R r^2 = 59217.6264.
    CHECK(volume(torus(30, 10, 400, 400)) == Approx(59217.6264).epsilon(2e-4));
    CHECK_THROWS_AS(torus(10, 10, 8, 8), std::invalid_argument);
}

TEST_CASE("revolved: a ring off the axis and a bicone on it")
{
    const int sides = 36;
    const Mesh washer = revolved({{4, 0}, {9, 0}, {9, 2}, {4, 2}}, sides);
    CHECK(volume(washer) == Approx(2 * polygonArea(1, sides) * (81 - 16)).epsilon(exactly));
    CHECK(eulerOfClosed(washer) == 0);
    const Mesh bicone = revolved({{0, -3}, {5, 0}, {0, 3}}, sides);
    CHECK(volume(bicone) == Approx(2 * polygonArea(5, sides)).epsilon(exactly));
    CHECK(eulerOfClosed(bicone) == 2);
    CHECK_THROWS_AS(revolved({{0, 0}, {5, 0}, {5, 5}}, sides), std::invalid_argument);
    CHECK_THROWS_AS(revolved({{0, 0}, {5, 0}, {0, 2}, {5, 3}, {0, 5}}, sides), std::invalid_argument);
}

TEST_CASE("icosphere: vertices on the sphere, volume from the icosahedron to the ball")
{
    // Regular icosahedron of edge 1: 2.1816950; its circumradius is sin(2 pi / 5).
    const double edge = 10 / std::sin(2 * pi / 5);
    CHECK(volume(icosphere(10, 0)) == Approx(2.1816950 * edge * edge * edge).epsilon(1e-7));
    const Mesh m = icosphere(10, 4);
    CHECK(m.triangles.size() == 20 * 256);
    CHECK(eulerOfClosed(m) == 2);
    for (const Vec3 p : m.points)
        CHECK(length(p) == Approx(10).epsilon(exactly));
    CHECK(volume(m) == Approx(4188.7902).epsilon(4e-3));
}

TEST_CASE("prism: a region with a hole keeps its exact volume in any number of rows")
{
    for (const int rows : {1, 5}) {
        const Mesh m = prism(squareWithRoundHole(), 8, rows);
        CHECK(volume(m) == Approx(8 * (100 - polygonArea(3, 24))).epsilon(exactly));
        CHECK(eulerOfClosed(m) == 0);
    }
    // A loop that crosses itself bounds no region.
    CHECK_THROWS_AS(prism({{{0, 0}, {4, 4}, {4, 0}, {0, 4}}}, 1), std::invalid_argument);
}

TEST_CASE("loft: rings, tips, and either sense of turning")
{
    const auto ring = [](double radius, double z, double sense) {
        std::vector<Vec3> r;
        for (int k = 0; k < 30; ++k)
            r.push_back({radius * std::cos(sense * 2 * pi * k / 30), radius * std::sin(sense * 2 * pi * k / 30), z});
        return r;
    };
    for (const double sense : {1.0, -1.0}) {
        const Mesh open = loft({ring(4, 0, sense), ring(4, 5, sense), ring(2, 8, sense)});
        CHECK(volume(open) == Approx(polygonArea(1, 30) * (16 * 5 + 3.0 / 3 * (16 + 8 + 4))).epsilon(exactly));
        CHECK(eulerOfClosed(open) == 2);
        const Mesh pointed = loft({{{0, 0, -3}}, ring(4, 0, sense), {{0, 0, 6}}});
        CHECK(volume(pointed) == Approx(polygonArea(4, 30) * 9 / 3).epsilon(exactly));
        CHECK(eulerOfClosed(pointed) == 2);
    }
    CHECK_THROWS_AS(loft({ring(4, 0, 1), {{0, 0, 1}, {1, 0, 1}, {0, 1, 1}}}), std::invalid_argument);
    CHECK_THROWS_AS(loft({ring(4, 0, 1)}), std::invalid_argument);
}

TEST_CASE("loft: caps square to an axis are flat to the last bit")
{
    std::vector<std::vector<Vec3>> rings(2);
    for (int k = 0; k < 64; ++k)
        for (const double z : {0.1, 8.7})
            rings[z > 1].push_back({std::cos(2 * pi * k / 64), std::sin(2 * pi * k / 64), z});
    for (const Vec3 p : loft(rings).points)
        CHECK((p.z == 0.1 || p.z == 8.7));
}

TEST_CASE("sides for a chord: the sag stays within the bound, with no corner to spare")
{
    // r = 50, sag 0.05 needs at least 71 corners (closed form): the next multiple of 4 is 72.
    CHECK(sidesForChord(50, 0.05) == 72);
    CHECK(50 * (1 - std::cos(pi / 72)) <= 0.05);
    CHECK(sidesForChord(0.5, 0.4) == 12);
    CHECK(sidesForChord(1, 5) == 12);
}
