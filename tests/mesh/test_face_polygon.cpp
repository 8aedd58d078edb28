// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/face_polygon.h"
#include "mesh/mass.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>
#include <numeric>

using namespace quoin::mesh;

namespace {

struct Filled {
    Mesh mesh;
    FaceOutcome outcome;
};

Filled fill(const std::vector<Vec3>& corners)
{
    Filled filled;
    filled.mesh.points.assign(corners.begin(), corners.end());
    std::vector<Index> order(corners.size());
    std::iota(order.begin(), order.end(), Index{0});
    filled.outcome = appendFace(order, filled.mesh.points, filled.mesh.triangles);
    return filled;
}

Vec3 areaVector(const Mesh& mesh)
{
    Vec3 sum{0, 0, 0};
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
        sum = sum + 0.5 * cross(mesh.corner(t, 1) - mesh.corner(t, 0), mesh.corner(t, 2) - mesh.corner(t, 0));
    return sum;
}

} // namespace

TEST_CASE("face polygon: a star keeps its area and its side, whichever way it faces")
{
    // Area of a star with n tips on radius R and n hollows on radius r: n R r sin(pi / n), closed form.
    const int tips = 7;
    const double R = 10, r = 3;
    std::vector<Vec3> star;
    for (int i = 0; i < 2 * tips; ++i) {
        const double a = std::numbers::pi * i / tips;
        star.push_back({(i % 2 ? r : R) * std::cos(a), (i % 2 ? r : R) * std::sin(a), 0});
    }
    const double area = tips * R * r * std::sin(std::numbers::pi / tips);
    const Transform turn =
        GENERATE(Transform{}, Transform::rotation({1, 0, 0}, 2.0), Transform::rotation({1, 2, 3}, 1.0),
                 Transform::rotation({0, 1, 0}, std::numbers::pi));
    for (Vec3& p : star)
        p = turn.point(p);
    for (std::size_t start = 0; start < star.size(); ++start) {
        std::rotate(star.begin(), star.begin() + 1, star.end());
        const Filled filled = fill(star);
        CHECK(filled.outcome == FaceOutcome::Done);
        CHECK(filled.mesh.triangles.size() == star.size() - 2);
        CHECK(quoin::mesh::area(filled.mesh) == Approx(area));
        CHECK(dot(areaVector(filled.mesh), turn.direction({0, 0, 1})) == Approx(area));
    }
}

TEST_CASE("face polygon: a bridge to a hole leaves the hole open")
{
    // A square of 30 with a square hole of 10, as one outline that runs to the hole and back.
    const Filled filled = fill({{0, 0, 0},
                                {30, 0, 0},
                                {30, 30, 0},
                                {0, 30, 0},
                                {0, 0, 0},
                                {10, 10, 0},
                                {10, 20, 0},
                                {20, 20, 0},
                                {20, 10, 0},
                                {10, 10, 0}});
    CHECK(filled.outcome == FaceOutcome::Done);
    CHECK(area(filled.mesh) == Approx(800));
}

TEST_CASE("face polygon: corners in a row make no triangle without area")
{
    const Filled filled = fill({{0, 0, 0}, {10, 0, 0}, {20, 0, 0}, {20, 20, 0}, {0, 20, 0}});
    CHECK(filled.outcome == FaceOutcome::Done);
    REQUIRE(filled.mesh.triangles.size() == 3);
    for (std::size_t t = 0; t < 3; ++t)
        CHECK(triangleArea(filled.mesh, t) > 1);
}

TEST_CASE("face polygon: repeated corners are passed over")
{
    CHECK(fill({{0, 0, 0}, {0, 0, 0}, {10, 0, 0}, {0, 10, 0}, {0, 10, 0}, {0, 0, 0}}).mesh.triangles.size() == 1);
    const Filled gone = fill({{0, 0, 0}, {0, 0, 0}, {10, 0, 0}, {10, 0, 0}});
    CHECK(gone.outcome == FaceOutcome::Vanished);
    CHECK(gone.mesh.triangles.empty());
}

TEST_CASE("face polygon: an outline that crosses itself is said to")
{
    const Filled bow = fill({{0, 0, 0}, {10, 10, 0}, {10, 0, 0}, {0, 9, 0}});
    CHECK(bow.outcome == FaceOutcome::CrossesItself);
    CHECK(bow.mesh.triangles.size() == 2);
    // Five left turns, but two rounds.
    std::vector<Vec3> pentagram;
    for (int i = 0; i < 5; ++i)
        pentagram.push_back({std::cos(0.8 * std::numbers::pi * i), std::sin(0.8 * std::numbers::pi * i), 0});
    CHECK(fill(pentagram).outcome == FaceOutcome::CrossesItself);
}

TEST_CASE("face polygon: a face without area keeps its neighbours connected")
{
    const Filled flat = fill({{0, 0, 0}, {10, 0, 0}, {20, 0, 0}, {5, 0, 0}});
    CHECK(flat.outcome == FaceOutcome::Done);
    CHECK(flat.mesh.triangles.size() == 2);
}
