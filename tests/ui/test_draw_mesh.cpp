// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/distance.h"
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"
#include "tests/support/shapes.h"
#include "ui/coarse_mesh.h"
#include "ui/draw_mesh.h"
#include "ui/draw_mesh_data.h"
#include "ui/level_choice.h"
#include "ui/shading.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <numbers>
#include <set>

using namespace quoin;
using mesh::Vec3;

namespace {

Vec3 wide(const std::array<float, 3>& p)
{
    return {p[0], p[1], p[2]};
}

/// Corners of every triangle of a level, each triangle turned so that its least corner is first.
std::multiset<std::array<std::array<float, 3>, 3>> trianglesOf(const ui::DrawLevel& level)
{
    std::multiset<std::array<std::array<float, 3>, 3>> out;
    for (const ui::DrawChunk& chunk : level.chunks)
        for (const auto& t : chunk.triangles) {
            std::array<std::array<float, 3>, 3> corners{chunk.points[t[0]], chunk.points[t[1]], chunk.points[t[2]]};
            std::ranges::rotate(corners, std::ranges::min_element(corners));
            out.insert(corners);
        }
    return out;
}

double areaOf(const ui::DrawLevel& level)
{
    double area = 0;
    for (const auto& t : trianglesOf(level))
        area += length(cross(wide(t[1]) - wide(t[0]), wide(t[2]) - wide(t[0]))) / 2;
    return area;
}

} // namespace

TEST_CASE("draw mesh: chunks hold every triangle once, near each other and none large")
{
    const mesh::Mesh torus = mesh::torus(100, 40, 500, 250);
    REQUIRE(torus.triangles.size() > 2 * ui::trianglesPerChunk);
    const auto drawn = ui::drawMeshOf(torus);
    REQUIRE(drawn);
    CHECK(ui::triangleCount(*drawn) == torus.triangles.size());
    const ui::DrawLevel& full = drawn->levels.front();
    CHECK(full.chunks.size() >= 5);
    ui::DrawLevel expected;
    expected.chunks.emplace_back();
    for (const Vec3 p : torus.points)
        expected.chunks[0].points.push_back(
            {static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z)});
    expected.chunks[0].triangles.assign(torus.triangles.begin(), torus.triangles.end());
    CHECK(trianglesOf(full) == trianglesOf(expected));
    for (const ui::DrawChunk& chunk : full.chunks) {
        CHECK(chunk.triangles.size() <= ui::trianglesPerChunk);
        // A torus of 280 mm in at least five parts, each cut across the longest side.
        const Vec3 e = chunk.box.extents();
        CHECK(std::max({e.x, e.y, e.z}) <= 145);
        CHECK(chunk.normals.size() == chunk.points.size());
        for (const auto& p : chunk.points)
            for (int k = 0; k < 3; ++k) {
                CHECK_FALSE(p[static_cast<std::size_t>(k)] < chunk.box.min[k]);
                CHECK_FALSE(p[static_cast<std::size_t>(k)] > chunk.box.max[k]);
            }
    }
    CHECK(length(ui::boundsOf(*drawn).extents() - Vec3{280, 280, 80}) < 0.05);
}

TEST_CASE("draw mesh: coarser levels keep to their count and their error")
{
    const double R = 100, r = 40;
    const mesh::Mesh torus = mesh::torus(R, r, 500, 250);
    const auto drawn = ui::drawMeshOf(torus);
    REQUIRE(drawn);
    REQUIRE(drawn->levels.size() == 6);
    // Closed form (Pappus): 4 pi^2 R r.
    const double area = 4 * std::numbers::pi * std::numbers::pi * R * r;
    const std::array<std::size_t, 6> targets{250'000, 64'000, 16'000, 4'000, 1'000, 250};
    for (std::size_t i = 1; i < drawn->levels.size(); ++i) {
        const ui::DrawLevel& level = drawn->levels[i];
        CAPTURE(i, level.triangles, level.errorMm);
        CHECK(10 * level.triangles <= 13 * targets[i]);
        CHECK(10 * level.triangles >= 4 * targets[i]);
        CHECK(level.errorMm > drawn->levels[i - 1].errorMm);
        double farthest = 0;
        for (const auto& t : trianglesOf(level))
            for (const Vec3 p : {wide(t[0]), wide(t[1]), wide(t[2]), (wide(t[0]) + wide(t[1]) + wide(t[2])) / 3})
                farthest = std::max(farthest, std::abs(std::hypot(std::hypot(p.x, p.y) - R, p.z) - r));
        CHECK(farthest <= level.errorMm);
        if (i <= 3)
            CHECK(areaOf(level) == Approx(area).epsilon(0.03));
        for (const auto& normal : level.chunks[0].normals)
            CHECK(length(wide(normal)) == Approx(1).epsilon(1e-5));
    }
}

TEST_CASE("draw mesh: a small mesh has no coarser copy above its own size, and keeps faces and borders apart")
{
    const auto halves = mesh::cutByPlane(mesh::cylinder(5, 20, 40), {{0, 0, 1}, 10.0}, {.label = 3});
    REQUIRE(halves.ok());
    const auto drawn = ui::drawMeshOf(halves->below);
    REQUIRE(drawn);
    REQUIRE(drawn->levels.size() == 1);
    const ui::DrawLevel& level = drawn->levels[0];
    REQUIRE(level.chunks.size() == 1);
    const ui::DrawChunk& chunk = level.chunks[0];
    CHECK(chunk.skinTriangles < chunk.triangles.size());
    for (std::size_t t = 0; t < chunk.triangles.size(); ++t) {
        bool onCut = true;
        for (const auto v : chunk.triangles[t])
            onCut = onCut && chunk.points[v][2] == 10.0F;
        CHECK(onCut == (t >= chunk.skinTriangles));
    }
    double perimeter = 0;
    for (std::size_t i = 0; i + 1 < level.borders.size(); i += 2)
        perimeter += length(wide(level.borders[i]) - wide(level.borders[i + 1]));
    // Perimeter of the regular polygon inscribed in the circle: 2 n r sin(pi / n).
    CHECK(perimeter == Approx(2 * 40 * 5 * std::sin(std::numbers::pi / 40)).epsilon(1e-6));
}

TEST_CASE("draw mesh: nothing, dust and a cancelled job")
{
    CHECK(ui::triangleCount(*ui::drawMeshOf({})) == 0);
    CHECK(ui::boundsOf(*ui::drawMeshOf({})).empty());
    mesh::Mesh flat;
    flat.points = {{0, 0, 0}, {1, 0, 0}, {2, 0, 0}};
    flat.triangles = {{0, 1, 2}};
    CHECK(ui::triangleCount(*ui::drawMeshOf(flat)) == 0);
    Context context;
    context.cancel();
    CHECK(ui::drawMeshOf(mesh::icosphere(1, 3), context) == nullptr);
}

TEST_CASE("coarse mesh: a box stays a box, corners and all")
{
    // Facets of 1 mm on a box of 40 mm: the corners are where three planes meet, which the quadrics find.
    mesh::Mesh box = mesh::prism({{{0, 0}, {40, 0}, {40, 40}, {0, 40}}}, 40, 40);
    const auto coarse = ui::coarseMesh(box, box.triangles.size() / 8);
    REQUIRE(coarse.mesh.triangles.size() > 12);
    for (const Vec3 corner : {Vec3{0, 0, 0}, Vec3{40, 0, 0}, Vec3{40, 40, 0}, Vec3{40, 40, 40}, Vec3{0, 40, 40}}) {
        double nearest = 1e9;
        for (const Vec3 p : coarse.mesh.points)
            nearest = std::min(nearest, length(p - corner));
        CHECK(nearest < 0.2);
    }
}

TEST_CASE("coarse mesh: labels stay with their faces")
{
    mesh::Mesh ball = mesh::icosphere(10, 5);
    for (std::size_t t = 0; t < ball.triangles.size(); ++t)
        ball.labels.push_back(ball.corner(t, 0).z > 0 ? 7 : 0);
    const auto coarse = ui::coarseMesh(ball, 2000);
    REQUIRE(coarse.mesh.labels.size() == coarse.mesh.triangles.size());
    for (std::size_t t = 0; t < coarse.mesh.triangles.size(); ++t) {
        const double z = (coarse.mesh.corner(t, 0).z + coarse.mesh.corner(t, 1).z + coarse.mesh.corner(t, 2).z) / 3;
        if (std::abs(z) > 2 * coarse.errorMm)
            CHECK((coarse.mesh.label(t) == 7) == (z > 0));
    }
}

TEST_CASE("level choice: within the budget, where it is seen least first")
{
    const ui::LevelCandidate near{{1000, 100, 10}, 500}, far{{1000, 100, 10}, 50}, unseen{{1000, 100, 10}, 0};
    CHECK(ui::chooseLevels({near, far, unseen}, 5000) == std::vector<std::size_t>{0, 0, 2});
    CHECK(ui::chooseLevels({near, far}, 2000) == std::vector<std::size_t>{0, 0});
    CHECK(ui::chooseLevels({near, far}, 1999) == std::vector<std::size_t>{0, 1});
    CHECK(ui::chooseLevels({near, far}, 1099) == std::vector<std::size_t>{0, 2});
    CHECK(ui::chooseLevels({near, far}, 1009) == std::vector<std::size_t>{1, 2});
    CHECK(ui::chooseLevels({near, far}, 1) == std::vector<std::size_t>{2, 2});
    CHECK(ui::chooseLevels({}, 1).empty());
    CHECK(ui::chooseLevels({{{}, 10}}, 1) == std::vector<std::size_t>{0});
}
