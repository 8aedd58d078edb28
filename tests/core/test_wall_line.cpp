// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/wall_line.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec2;

namespace {

mesh::Loop circle(double radius, bool hole = false)
{
    mesh::Loop loop;
    for (int i = 0; i < 180; ++i) {
        const double a = (hole ? -1 : 1) * 2 * M_PI * i / 180;
        loop.push_back({radius * std::cos(a), radius * std::sin(a)});
    }
    return loop;
}

mesh::Loop square(double half, bool hole = false)
{
    mesh::Loop loop{{-half, -half}, {half, -half}, {half, half}, {-half, half}};
    if (hole)
        std::reverse(loop.begin(), loop.end());
    return loop;
}

} // namespace

TEST_CASE("wall line: of a tube, the circle halfway through its wall")
{
    const WallLine wall({circle(60), circle(50, true)});
    REQUIRE(wall.isLongAndThin());
    CHECK(wall.closed());
    CHECK(wall.lengthMm() == Approx(2 * M_PI * 55).epsilon(0.005));
    CHECK(wall.thicknessMm() == Approx(10).epsilon(0.01));
    for (const Vec2 p : wall.line())
        CHECK(mesh::length(p) == Approx(55).margin(0.05));
    // Evenly spaced: six places a sixth of a turn apart.
    for (std::size_t i = 0; i < 6; ++i) {
        const Vec2 a = wall.placesAbout(i, 6).front(), b = wall.placesAbout((i + 1) % 6, 6).front();
        CHECK(mesh::length(b - a) == Approx(55).epsilon(0.02));
    }
}

TEST_CASE("wall line: of a square frame, along its four walls")
{
    const mesh::Region frame{square(60), square(50, true)};
    const WallLine wall(frame);
    REQUIRE(wall.isLongAndThin());
    CHECK(wall.closed());
    CHECK(wall.thicknessMm() == Approx(10).epsilon(0.001));
    CHECK(wall.lengthMm() == Approx(8 * 55).epsilon(0.1));
    int onWalls = 0;
    for (const Vec2 p : wall.line())
        onWalls += std::abs(std::max(std::abs(p.x), std::abs(p.y)) - 55) < 0.01;
    CHECK(onWalls == static_cast<int>(wall.line().size()));
    CHECK(onWalls > 300);
}

TEST_CASE("wall line: of a half tube, once along, not there and back")
{
    mesh::Loop half;
    for (int i = 0; i <= 90; ++i)
        half.push_back({60 * std::cos(M_PI * i / 90), 60 * std::sin(M_PI * i / 90)});
    for (int i = 90; i >= 0; --i)
        half.push_back({50 * std::cos(M_PI * i / 90), 50 * std::sin(M_PI * i / 90)});
    const WallLine wall({half});
    REQUIRE(wall.isLongAndThin());
    CHECK_FALSE(wall.closed());
    CHECK(wall.lengthMm() == Approx(M_PI * 55).epsilon(0.08));
    const Vec2 a = wall.placesAbout(0, 2).front(), b = wall.placesAbout(1, 2).front();
    CHECK(mesh::length(b - a) == Approx(2 * 55 * std::sin(M_PI / 4)).epsilon(0.08));
}

TEST_CASE("wall line: a solid face and a stout bar are no walls")
{
    CHECK_FALSE(WallLine({square(50)}).isLongAndThin());
    CHECK_FALSE(WallLine({circle(60)}).isLongAndThin());
    CHECK_FALSE(WallLine({{{0, 0}, {200, 0}, {200, 30}, {0, 30}}}).isLongAndThin());
    CHECK_FALSE(WallLine({circle(60), circle(20, true)}).isLongAndThin());
}
