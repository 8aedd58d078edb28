// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"
#include "ui/badge.h"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace quoin;
using mesh::Transform;
using mesh::Vec3;

namespace {

ui::ViewCamera frontCamera()
{
    return ui::fittedCamera({{-100, 0, -75}, {100, 0, 75}}, {0, -1, 0}, 1600, 1200, {0, 0, 0, 0});
}

std::uint32_t at(const ui::VisibleMap& map, double x, double y)
{
    return map.item[static_cast<std::size_t>(y / map.pixelsPerCell) * static_cast<std::size_t>(map.width) +
                    static_cast<std::size_t>(x / map.pixelsPerCell)];
}

} // namespace

TEST_CASE("visible map: the nearer solid hides the farther one, whatever their order")
{
    const auto camera = frontCamera();
    const mesh::Mesh large = mesh::box({-60, 10, -40}, {60, 20, 40}), small = mesh::box({-10, -20, -10}, {10, -10, 10});
    for (const bool largeFirst : {true, false}) {
        const std::vector<ui::PlacedMesh> items = largeFirst ? std::vector<ui::PlacedMesh>{{&large, {}}, {&small, {}}}
                                                             : std::vector<ui::PlacedMesh>{{&small, {}}, {&large, {}}};
        const auto map = ui::visibleMap(items, camera);
        const std::uint32_t largeId = largeFirst ? 1 : 2, smallId = largeFirst ? 2 : 1;
        CHECK(at(map, 800, 600) == smallId);
        CHECK(at(map, 800 + 300, 600) == largeId);
        CHECK(at(map, 20, 20) == 0);
    }
}

TEST_CASE("visible map: the area of a facing square is that of its projection")
{
    const auto camera = frontCamera();
    const mesh::Mesh box = mesh::box({-30, 0, -30}, {30, 5, 30});
    const auto map = ui::visibleMap({{&box, {}}}, camera);
    const double cells = static_cast<double>(std::ranges::count(map.item, 1u));
    const double side = camera.project({30, 0, 0}).x - camera.project({-30, 0, 0}).x;
    CHECK(cells * map.pixelsPerCell * map.pixelsPerCell == Approx(side * side).epsilon(0.02));
}

TEST_CASE("badges: in the middle of what is seen of a solid")
{
    const auto camera = frontCamera();
    const mesh::Mesh left = mesh::box({-60, 0, -30}, {-10, 5, 30}), right = mesh::box({10, 0, -30}, {60, 5, 30});
    const auto badges = ui::placeBadges(ui::visibleMap({{&left, {}}, {&right, {}}}, camera), {0, 1}, 17);
    REQUIRE(badges.size() == 2);
    for (const auto& badge : badges) {
        CHECK_FALSE(badge.leader);
        const auto middle = camera.project({badge.item == 0 ? -35.0 : 35.0, 0, 0});
        CHECK(badge.x == Approx(middle.x).margin(8));
        CHECK(std::abs(badge.y - middle.y) < 60);
    }
}

TEST_CASE("badges: a thin solid gets one beside it with a leader; a hidden one none")
{
    const auto camera = frontCamera();
    const mesh::Mesh thin = mesh::box({-60, 0, -1}, {60, 5, 0.5}), wall = mesh::box({-60, 0, 10}, {60, 5, 60}),
                     hidden = mesh::box({-5, 20, 20}, {5, 30, 30});
    const auto map = ui::visibleMap({{&thin, {}}, {&wall, {}}, {&hidden, {}}}, camera);
    const auto badges = ui::placeBadges(map, {0, 1, 2}, 17);
    REQUIRE(badges.size() == 2);
    CHECK(badges[0].item == 0);
    CHECK(badges[0].leader);
    CHECK(at(map, badges[0].anchorX, badges[0].anchorY) == 1);
    CHECK(at(map, badges[0].x, badges[0].y) != 2); // not on the wall
    CHECK(badges[1].item == 1);
    CHECK_FALSE(badges[1].leader);
}

TEST_CASE("badges: a crowd of small solids keeps its badges apart and inside the picture")
{
    const auto camera = frontCamera();
    std::vector<mesh::Mesh> cubes;
    for (int i = 0; i < 6; ++i)
        for (int j = 0; j < 6; ++j)
            cubes.push_back(mesh::box({80 + 2.5 * i, 0, 60 + 2.5 * j}, {82.0 + 2.5 * i, 2, 62.0 + 2.5 * j}));
    std::vector<ui::PlacedMesh> items;
    std::vector<std::size_t> wanted;
    for (const auto& cube : cubes) {
        wanted.push_back(items.size());
        items.push_back({&cube, {}});
    }
    const auto badges = ui::placeBadges(ui::visibleMap(items, camera), wanted, 17);
    REQUIRE(badges.size() == cubes.size());
    for (const auto& a : badges) {
        CHECK((a.x > 17 && a.x < 1600 - 17 && a.y > 17 && a.y < 1200 - 17));
        for (const auto& b : badges)
            if (a.item < b.item)
                CHECK(std::hypot(a.x - b.x, a.y - b.y) > 34);
    }
}
