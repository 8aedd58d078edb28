// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample_models/sweep.h"

#include <catch2/catch.hpp>

#include <numbers>
#include <stdexcept>

using namespace quoin::samples;
using quoin::mesh::length;

namespace {

constexpr double roundingMm = 1e-9;

} // namespace

TEST_CASE("profile: through its knots, monotone between them, level outside")
{
    const Profile profile({{0, 5}, {1, 5}, {2, 1}, {3, 1.2}, {5, 9}});
    for (const Vec2 knot : {Vec2{0, 5}, Vec2{1, 5}, Vec2{2, 1}, Vec2{3, 1.2}, Vec2{5, 9}})
        CHECK(profile(knot.x) == Approx(knot.y));
    CHECK(profile(-1) == 5);
    CHECK(profile(7) == 9);
    double before = profile(0);
    for (int i = 1; i <= 500; ++i) {
        const double t = i / 100.0;
        const double now = profile(t);
        // Down from 1 to 2, up from 2 on; never past a knot.
        CHECK((t <= 2 ? now <= before + 1e-12 : now >= before - 1e-12));
        CHECK(std::abs(now - before) < 0.1);
        before = now;
    }
    CHECK_THROWS_AS(Profile({{0, 1}}), std::invalid_argument);
}

TEST_CASE("path: through its points, smooth, along the directions asked for")
{
    const std::vector<Vec3> points{{0, 0, 0}, {10, 0, 2}, {12, 0, 15}, {4, 0, 22}, {9, 0, 30}};
    const Path path(points, Vec3{0, 0, 3}, Vec3{2, 0, 0});
    for (std::size_t i = 0; i < points.size(); ++i)
        CHECK(length(path.at(path.knot(i)) - points[i]) < roundingMm);
    CHECK(length(path.tangent(0) - Vec3{0, 0, 1}) < roundingMm);
    CHECK(length(path.tangent(1) - Vec3{1, 0, 0}) < roundingMm);
    // The tangent is the derivative, without a jump at the points.
    constexpr double step = 1e-6;
    for (double t = 0.01; t < 0.99; t += 0.01)
        CHECK(length(normalized(path.at(t + step) - path.at(t - step)) - path.tangent(t)) < 1e-5);
    for (std::size_t i = 1; i + 1 < points.size(); ++i)
        CHECK(length(path.tangent(path.knot(i) - step) - path.tangent(path.knot(i) + step)) < 1e-4);
}

TEST_CASE("path: a straight row of points stays straight")
{
    const Path path({{0, 0, 0}, {1, 1, 0}, {4, 4, 0}, {9, 9, 0}});
    CHECK(length(path.at(0.5) - Vec3{4.5, 4.5, 0}) < roundingMm);
    CHECK(path.chordsMm() == Approx(9 * std::numbers::sqrt2));
    CHECK_THROWS_AS(Path({{0, 0, 0}, {1, 0, 0}}), std::invalid_argument);
}

TEST_CASE("section ring: half axes lie sideways, up and down across the spine")
{
    const double angle = 0.4;
    const Vec3 tangent{std::cos(angle), 0, std::sin(angle)}, upward{-std::sin(angle), 0, std::cos(angle)};
    const Vec3 centre{3, 0, 7};
    const auto ring = sectionRing(centre, tangent, {4, 2, 3}, 8);
    REQUIRE(ring.size() == 8);
    CHECK(length(ring[0] - (centre + Vec3{0, 4, 0})) < roundingMm);
    CHECK(length(ring[2] - (centre + 2 * upward)) < roundingMm);
    CHECK(length(ring[6] - (centre - 3 * upward)) < roundingMm);
    for (const Vec3 p : ring)
        CHECK(std::abs(dot(p - centre, tangent)) < roundingMm);
}

TEST_CASE("round ends: a quarter circle, with stations that grow denser towards the tip")
{
    CHECK(roundingAtEnd(0.5, 0.9) == 1);
    CHECK(roundingAtEnd(0.9, 0.9) == 1);
    CHECK(roundingAtEnd(0.96, 0.9) == Approx(0.8)); // 3-4-5 triangle
    CHECK(roundingAtEnd(1, 0.9) == 0);
    const auto stations = stationsToTip(9, 6, 0.9);
    REQUIRE(stations.size() == 15);
    CHECK(stations.front() == 0);
    CHECK(stations[9] == Approx(0.9));
    CHECK(stations.back() < 1);
    for (std::size_t i = 1; i < stations.size(); ++i)
        CHECK(stations[i] > stations[i - 1]);
    CHECK(stations[14] - stations[13] < stations[10] - stations[9]);
}
