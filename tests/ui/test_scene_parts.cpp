// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"
#include "ui/colour.h"
#include "ui/floor_shadow.h"
#include "ui/yardstick.h"

#include <catch2/catch.hpp>
#include <set>

using namespace quoin;
using mesh::Vec3;

TEST_CASE("colours: touching pieces differ, all seven are used")
{
    std::vector<std::pair<std::size_t, std::size_t>> touching;
    constexpr std::size_t side = 7; // a sheet of pieces that touch along edges and at corners
    for (std::size_t y = 0; y < side; ++y)
        for (std::size_t x = 0; x < side; ++x)
            for (const auto& [dx, dy] : {std::pair{1, 0}, {0, 1}, {1, 1}, {-1, 1}}) {
                const int nx = static_cast<int>(x) + dx, ny = static_cast<int>(y) + dy;
                if (nx >= 0 && nx < static_cast<int>(side) && ny < static_cast<int>(side))
                    touching.emplace_back(y * side + x,
                                          static_cast<std::size_t>(ny) * side + static_cast<std::size_t>(nx));
            }
    const auto colours = ui::coloursFor(side * side, touching);
    REQUIRE(colours.size() == side * side);
    std::set<std::pair<double, double>> used;
    for (const auto& c : colours)
        used.emplace(c.r, c.g);
    CHECK(used.size() == 7);
    for (const auto& [a, b] : touching)
        CHECK_FALSE(colours[a] == colours[b]);
}

TEST_CASE("colours: more mutual neighbours than colours still get one each")
{
    std::vector<std::pair<std::size_t, std::size_t>> touching;
    for (std::size_t a = 0; a < 12; ++a)
        for (std::size_t b = a + 1; b < 12; ++b)
            touching.emplace_back(a, b);
    CHECK(ui::coloursFor(12, touching).size() == 12);
    CHECK(ui::coloursFor(0, {}).empty());
}

TEST_CASE("person: 1.75 m tall, upright, about as broad as people are")
{
    const mesh::Mesh person = ui::personOutline({1000, 200, -50}, {0, 1, 0});
    const mesh::Box3 box = bounds(person);
    CHECK(box.min.z == Approx(-50).margin(5));
    CHECK(box.extents().z == Approx(1750).margin(10));
    CHECK(box.extents().x == Approx(0).margin(1e-9));
    CHECK(box.extents().y > 400); // arms hanging; common practice, no source
    CHECK(box.extents().y < 560);
    CHECK(box.centre().y == Approx(200));
}

TEST_CASE("round length: the largest of 1, 2, 5 times a power of ten that fits")
{
    CHECK(ui::roundLengthMm(1) == Approx(1));
    CHECK(ui::roundLengthMm(1.99) == Approx(1));
    CHECK(ui::roundLengthMm(2) == Approx(2));
    CHECK(ui::roundLengthMm(499) == Approx(200));
    CHECK(ui::roundLengthMm(500) == Approx(500));
    CHECK(ui::roundLengthMm(1000) == Approx(1000));
    CHECK(ui::roundLengthMm(0.07) == Approx(0.05));
    CHECK(ui::roundLengthMm(0) == Approx(0.001));
}

TEST_CASE("rod: its five fields together have the length that is written on it")
{
    const mesh::Mesh light = ui::rodFields({10, 0, 0}, {0, 1, 0}, 500, 10, false);
    const mesh::Mesh dark = ui::rodFields({10, 0, 0}, {0, 1, 0}, 500, 10, true);
    CHECK(bounds(light).extents().y == Approx(500));
    CHECK(bounds(dark).min.y == Approx(100));
    CHECK(bounds(dark).max.y == Approx(400));
    CHECK(light.triangles.size() == 3 * 12);
    CHECK(dark.triangles.size() == 2 * 12);
}

TEST_CASE("floor shadow: dark under what stands, lighter under what hangs, none at the border")
{
    const auto darkest = [](double heightMm) {
        const mesh::Mesh plate = mesh::box({0, 0, heightMm}, {100, 100, heightMm + 5});
        const auto shadow = ui::floorShadow({{&plate, {}}}, {{0, 0, 0}, {100, 100, heightMm + 5}});
        const auto cell = [&](int x, int y) {
            return shadow.darkness[static_cast<std::size_t>(y * shadow.columns + x)];
        };
        CHECK(cell(0, 0) < 3);
        CHECK(cell(shadow.columns - 1, shadow.rows / 2) < 3);
        CHECK(cell(shadow.columns / 2, shadow.rows - 1) < 3);
        CHECK(shadow.corner.z == 0);
        return static_cast<int>(cell(shadow.columns / 2, shadow.rows / 2));
    };
    CHECK(darkest(0) > 200);
    CHECK(darkest(50) < 0.6 * darkest(0));
    CHECK(darkest(50) > 10);
}
