// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/hull.h"
#include "mesh/mass.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstring>
#include <fstream>
#include <iterator>
#include <numbers>
#include <random>

using namespace quoin::mesh;

namespace {

/// Corners of a binary STL file, three a facet; read here so that this test leans on nothing but the hull.
Buffer<Vec3> stlCorners(const std::filesystem::path& file)
{
    std::ifstream in(file, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), {}};
    std::uint32_t count = 0;
    std::memcpy(&count, bytes.data() + 80, 4);
    REQUIRE(bytes.size() >= 84 + 50ull * count);
    Buffer<Vec3> out;
    for (std::size_t i = 0; i < count; ++i)
        for (std::size_t k = 1; k <= 3; ++k) {
            float c[3];
            std::memcpy(c, bytes.data() + 84 + 50 * i + 12 * k, 12);
            out.push_back({c[0], c[1], c[2]});
        }
    return out;
}

/// How far a point reaches out of a hull, mm (negative inside).
double outside(const Mesh& hull, Vec3 p)
{
    double worst = -1e300;
    for (std::size_t t = 0; t < hull.triangles.size(); ++t) {
        const Vec3 a = hull.corner(t, 0);
        worst = std::max(worst, dot(normalized(cross(hull.corner(t, 1) - a, hull.corner(t, 2) - a)), p - a));
    }
    return worst;
}

bool eulerHolds(const Mesh& m)
{
    return 2 * (m.points.size() - 2) == m.triangles.size();
}

} // namespace

TEST_CASE("hull: a box with points inside, on its faces and on its edges", "[hull]")
{
    Buffer<Vec3> points;
    for (int x = 0; x <= 4; ++x)
        for (int y = 0; y <= 4; ++y)
            for (int z = 0; z <= 4; ++z)
                points.push_back({10.0 * x, 20.0 * y, 30.0 * z});
    const Mesh hull = convexHull(points);
    CHECK(volume(hull) == Approx(40.0 * 80 * 120).epsilon(1e-12));
    CHECK(area(hull) == Approx(2.0 * (40 * 80 + 80 * 120 + 40 * 120)).epsilon(1e-12));
    CHECK(eulerHolds(hull));
}

TEST_CASE("hull: points that span no space give an empty hull", "[hull]")
{
    CHECK(convexHull(Buffer<Vec3>{}).empty());
    CHECK(convexHull(Buffer<Vec3>{{1, 2, 3}, {1, 2, 3}}).empty());
    CHECK(convexHull(Buffer<Vec3>{{0, 0, 0}, {1, 1, 1}, {2, 2, 2}, {3, 3, 3}, {4, 4, 4}}).empty());
    Buffer<Vec3> flat;
    for (int i = 0; i < 2000; ++i)
        flat.push_back({static_cast<double>(i % 50), static_cast<double>(i / 50), 7});
    CHECK(convexHull(flat).empty());
    flat.push_back({25, 20, 7.0001});
    CHECK(volume(convexHull(flat)) == Approx(49.0 * 39 * 0.0001 / 3).epsilon(1e-6));
}

TEST_CASE("hull: hull of the bunny against Qhull", "[hull]")
{
    // Barber, Dobkin, Huhdanpaa 1996: libqhull 8.0.2 with "FA Qt" on the same file.
    const Mesh hull = convexHull(stlCorners(quoin::test::reference("stl-models/objects/bunny.bin.stl")));
    CHECK(volume(hull) == Approx(0.00124966019832).epsilon(1e-9));
    CHECK(area(hull) == Approx(0.0631144573373).epsilon(1e-9));
    CHECK(hull.points.size() == 1504);
    CHECK(eulerHolds(hull));
}

TEST_CASE("hull: hull of the gear wheel, many points in a plane, against Qhull", "[hull]")
{
    const Mesh hull = convexHull(stlCorners(quoin::test::reference("stl-models/objects/gearwheel.bin.stl")));
    CHECK(volume(hull) == Approx(10918.8934873).epsilon(1e-9));
    CHECK(area(hull) == Approx(3777.93306208).epsilon(1e-9));
}

TEST_CASE("hull: holds every point and is made of the points", "[hull]")
{
    std::mt19937 random(7);
    std::normal_distribution<double> normal(0, 1);
    Buffer<Vec3> points;
    for (int i = 0; i < 20000; ++i)
        points.push_back({1000 + 30 * normal(random), 2 * normal(random), -500 + 70 * normal(random)});
    const Mesh hull = convexHull(points);
    REQUIRE(hull.triangles.size() > 20);
    double worst = -1;
    for (const Vec3 p : points)
        worst = std::max(worst, outside(hull, p));
    CHECK(worst < 1e-9);
    for (const Vec3 p : hull.points)
        CHECK(std::find(points.begin(), points.end(), p) != points.end());
}

TEST_CASE("hull: the inner hull of a cut ball lies inside, nearly fills it, and keeps the flat face", "[hull]")
{
    std::mt19937 random(5);
    std::normal_distribution<double> normal(0, 1);
    Buffer<Vec3> points;
    for (int i = 0; i < 40000; ++i) {
        const Vec3 p = 100.0 * normalized(Vec3{normal(random), normal(random), normal(random)});
        points.push_back(p.z > 0 ? p : Vec3{p.x / std::hypot(p.x, p.y) * 100, p.y / std::hypot(p.x, p.y) * 100, 0});
    }
    const Mesh inner = innerHull(points);
    CHECK(inner.points.size() < 4000);
    for (const Vec3 p : inner.points)
        REQUIRE(std::find(points.begin(), points.end(), p) != points.end());
    // Half a ball: 2/3 pi r^3 (Archimedes). The exact hull of so many points in one plane takes a minute and a half.
    const double half = 2.0 / 3 * std::numbers::pi * 1e6;
    CHECK(volume(inner) <= half);
    CHECK(volume(inner) > 0.994 * half);
    double flat = 0;
    for (std::size_t t = 0; t < inner.triangles.size(); ++t)
        if (inner.corner(t, 0).z == 0 && inner.corner(t, 1).z == 0 && inner.corner(t, 2).z == 0)
            flat += triangleArea(inner, t);
    CHECK(flat > 0.995 * std::numbers::pi * 1e4);
    CHECK(innerHull({}).empty());
}

TEST_CASE("hull: the same points give the same hull, in whatever order they come", "[hull]")
{
    // Rings in planes, a grid on a box: flat facets of many corners, with points on their edges and inside them.
    Buffer<Vec3> points;
    for (const double z : {0.0, 20.0, 50.0})
        for (int k = 0; k < 48; ++k)
            points.push_back({60 * std::cos(k * std::numbers::pi / 24), 60 * std::sin(k * std::numbers::pi / 24), z});
    for (int x = 0; x <= 4; ++x)
        for (int y = 0; y <= 4; ++y)
            for (const double z : {-10.0, 0.0})
                points.push_back({-100 + 10.0 * x, -20 + 10.0 * y, z});
    const Mesh first = convexHull(points);
    CHECK(eulerHolds(first));
    std::mt19937 random(11);
    for (int trial = 0; trial < 20; ++trial) {
        std::shuffle(points.begin(), points.end(), random);
        const Mesh again = convexHull(points);
        REQUIRE(again.points == first.points);
        REQUIRE(again.triangles == first.triangles);
    }
}

TEST_CASE("hull: polygon of points in a plane", "[hull]")
{
    const Loop hull =
        convexHull(std::vector<Vec2>{{0, 0}, {4, 0}, {2, 0}, {4, 3}, {4, 1}, {0, 3}, {0, 0}, {2, 1}, {1, 3}, {0, 1.5}});
    CHECK(hull.size() == 4);
    CHECK(signedArea(hull) == 12);
    CHECK(convexHull(std::vector<Vec2>{{1, 1}, {1, 1}}).size() == 1);
    CHECK(convexHull(std::vector<Vec2>{{0, 0}, {1, 1}, {3, 3}, {2, 2}}).size() == 2);
}

TEST_CASE("hull: polygon of nearly collinear points is strictly convex", "[hull]")
{
    std::vector<Vec2> points;
    for (int i = 0; i <= 1000; ++i)
        points.push_back({0.1 * i, 0.3 * i + 1e-14 * (i % 3)});
    points.push_back({50, 0});
    const Loop hull = convexHull(points);
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const auto at = [&](std::size_t k) { return hull[(i + k) % hull.size()]; };
        const long double turn =
            (static_cast<long double>(at(1).x) - at(0).x) * (static_cast<long double>(at(2).y) - at(0).y) -
            (static_cast<long double>(at(1).y) - at(0).y) * (static_cast<long double>(at(2).x) - at(0).x);
        CHECK(turn > 0);
    }
}

TEST_CASE("circle: smallest around an obtuse and an acute triangle, and a square", "[hull]")
{
    // Obtuse: the long side is the diameter. Acute: the circumcircle, radius abc / (4 area).
    const Circle obtuse = smallestEnclosingCircle({{0, 0}, {10, 0}, {5, 1}});
    CHECK(obtuse.radius == Approx(5));
    CHECK(obtuse.centre.x == Approx(5));
    CHECK(obtuse.centre.y == Approx(0).margin(1e-12));
    CHECK(smallestEnclosingCircle({{0, 0}, {6, 0}, {3, 5}}).radius == Approx(34.0 * 6 / (4 * 15)));
    CHECK(smallestEnclosingCircle({{0, 0}, {2, 0}, {2, 2}, {0, 2}, {1, 1}}).radius == Approx(std::numbers::sqrt2));
    CHECK(smallestEnclosingCircle({{3, 4}}).radius == 0);
    CHECK(smallestEnclosingCircle({}).radius == 0);
}

TEST_CASE("circle: random sets have no point outside and no smaller circle", "[hull]")
{
    std::mt19937 random(3);
    std::uniform_real_distribution<double> coordinate(-100, 100);
    for (int round = 0; round < 50; ++round) {
        std::vector<Vec2> points;
        for (int i = 0; i < 12; ++i)
            points.push_back({coordinate(random), coordinate(random)});
        const Circle circle = smallestEnclosingCircle(points);
        std::vector<double> rim;
        for (const Vec2 p : points) {
            const Vec2 d = p - circle.centre;
            CHECK(length(d) <= circle.radius);
            if (length(d) > circle.radius * (1 - 1e-9))
                rim.push_back(std::atan2(d.y, d.x));
        }
        // Smallest exactly when the rim points leave no more than half of the rim free.
        std::sort(rim.begin(), rim.end());
        REQUIRE(rim.size() >= 2);
        double gap = rim.front() + 2 * std::numbers::pi - rim.back();
        for (std::size_t i = 1; i < rim.size(); ++i)
            gap = std::max(gap, rim[i] - rim[i - 1]);
        CHECK(gap <= std::numbers::pi + 1e-9);
    }
}
