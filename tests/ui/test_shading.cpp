// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"
#include "ui/shading.h"

#include <catch2/catch.hpp>

using namespace quoin;
using mesh::Vec3;

namespace {

Vec3 wide(const std::array<float, 3>& p)
{
    return {p[0], p[1], p[2]};
}

} // namespace

TEST_CASE("shading: a box has crisp edges, so every corner is there three times")
{
    const auto shaded = ui::shaded(mesh::box({0, 0, 0}, {1, 2, 3}));
    CHECK(shaded.points.size() == 24);
    CHECK(shaded.triangles.size() == 12);
    for (const auto& t : shaded.triangles) {
        const Vec3 a = wide(shaded.points[t[0]]);
        const Vec3 flat = normalized(cross(wide(shaded.points[t[1]]) - a, wide(shaded.points[t[2]]) - a));
        for (const auto v : t)
            CHECK(length(wide(shaded.normals[v]) - flat) < 1e-6);
    }
    CHECK(shaded.borders.empty());
}

TEST_CASE("shading: a ball is smooth, with the ball's own normals")
{
    const mesh::Mesh ball = mesh::icosphere(10, 4);
    const auto shaded = ui::shaded(ball);
    CHECK(shaded.points.size() == ball.points.size());
    for (std::size_t i = 0; i < shaded.points.size(); ++i)
        CHECK(length(wide(shaded.normals[i]) - wide(shaded.points[i]) / 10) < 0.01);
}

TEST_CASE("shading: a cylinder is smooth around and crisp at its rims")
{
    constexpr int sides = 48;
    const mesh::Mesh cylinder = mesh::cylinder(5, 20, sides);
    const auto shaded = ui::shaded(cylinder);
    CHECK(shaded.points.size() == cylinder.points.size() + 2 * sides);
    for (std::size_t i = 0; i < shaded.points.size(); ++i) {
        const Vec3 n = wide(shaded.normals[i]), p = wide(shaded.points[i]);
        const bool cap = std::abs(n.z) > 0.999;
        if (!cap)
            CHECK(length(n - Vec3{p.x / 5, p.y / 5, 0}) < 0.02);
    }
}

TEST_CASE("shading: the borders are the outline of a cut face")
{
    constexpr int sides = 40;
    mesh::CutOptions options;
    options.label = 3;
    const auto halves = mesh::cutByPlane(mesh::cylinder(5, 20, sides), {{0, 0, 1}, 10.0}, options);
    REQUIRE(halves.ok());
    const auto shaded = ui::shaded(halves->below);
    double perimeter = 0;
    for (const auto& edge : shaded.borders) {
        const Vec3 a = wide(shaded.points[edge[0]]), b = wide(shaded.points[edge[1]]);
        CHECK(a.z == Approx(10));
        CHECK(b.z == Approx(10));
        perimeter += length(a - b);
    }
    // Perimeter of the regular polygon inscribed in the circle: 2 n r sin(pi / n).
    CHECK(perimeter == Approx(2 * sides * 5 * std::sin(3.14159265358979 / sides)).epsilon(1e-6));
}

TEST_CASE("shading: a cut face that meets the skin at a small angle stays flat")
{
    const double nearPole = 9.9; // the skin leans 8 degrees here, less than a crease
    const auto halves = mesh::cutByPlane(mesh::icosphere(10, 5), {{0, 0, 1}, nearPole});
    REQUIRE(halves.ok());
    const mesh::Mesh& below = halves->below;
    const auto shaded = ui::shaded(below);
    std::size_t onCut = 0;
    for (std::size_t t = 0; t < below.triangles.size(); ++t)
        if (below.label(t) != mesh::skinLabel)
            for (const auto v : shaded.triangles[t]) {
                CHECK(shaded.normals[v][2] > 0.99999F);
                ++onCut;
            }
    CHECK(onCut > 20);
}

TEST_CASE("shading: triangles without area are left out")
{
    mesh::Mesh mesh = mesh::box({0, 0, 0}, {1, 1, 1});
    mesh.triangles.push_back({0, 1, 1});
    const auto shaded = ui::shaded(mesh);
    CHECK(shaded.triangles.size() == 12);
    for (const auto& n : shaded.normals)
        CHECK(length(wide(n)) == Approx(1));
}
