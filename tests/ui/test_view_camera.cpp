// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/view_camera.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <random>

using namespace quoin;
using mesh::Vec3;

namespace {

std::vector<Vec3> cloud(unsigned seed, Vec3 size)
{
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> unit(-0.5, 0.5);
    std::vector<Vec3> points;
    for (int i = 0; i < 500; ++i)
        points.push_back({500 + size.x * unit(random), size.y * unit(random), -300 + size.z * unit(random)});
    return points;
}

} // namespace

TEST_CASE("view camera: everything is seen, inside the margins, and fills the picture one way")
{
    const ui::Margins margins{0.1, 0.05, 0.08, 0.2};
    for (const Vec3 towards : {Vec3{0.5, -1, 0.4}, Vec3{1, 0, 0}, Vec3{0, 0, 1}, Vec3{0, 0, -1}, Vec3{-3, 2, -1}})
        for (const Vec3 size : {Vec3{100, 100, 100}, Vec3{3000, 10, 10}, Vec3{5, 5, 2000}}) {
            const auto points = cloud(7, size);
            const auto camera = ui::fittedCamera(points, towards, 1600, 1200, margins);
            double left = 1e9, right = -1e9, low = 1e9, high = -1e9;
            for (const Vec3 p : points) {
                const auto seen = camera.project(p);
                CHECK(seen.depthMm > 0);
                left = std::min(left, seen.x);
                right = std::max(right, seen.x);
                low = std::min(low, seen.y);
                high = std::max(high, seen.y);
            }
            CHECK(left >= 800 * 0.1 - 0.01);
            CHECK(right <= 1600 - 800 * 0.05 + 0.01);
            CHECK(low >= 600 * 0.2 - 0.01);
            CHECK(high <= 1200 - 600 * 0.08 + 0.01);
            const double fillX = (right - left) / (1600 - 800 * 0.15), fillY = (high - low) / (1200 - 600 * 0.28);
            CHECK(std::max(fillX, fillY) == Approx(1).epsilon(1e-6));
        }
}

TEST_CASE("view camera: its axes are right-handed and upright")
{
    const auto camera = ui::fittedCamera(cloud(1, {10, 20, 30}), {1, -2, 0.5}, 1600, 1200);
    CHECK(length(cross(camera.right, camera.up) - camera.back) < 1e-12);
    CHECK(camera.right.z == Approx(0).margin(1e-12));
    CHECK(camera.up.z > 0.8);
    // Seen from the front right, +x lies to the right and what is nearer appears larger.
    CHECK(camera.right.x > 0.8);
    const Vec3 near = camera.eye - 100 * camera.back, far = camera.eye - 200 * camera.back;
    CHECK(camera.project(near + camera.right).x - camera.project(near).x ==
          Approx(2 * (camera.project(far + camera.right).x - camera.project(far).x)));
    CHECK(camera.project(near).x == Approx(800));
    CHECK(camera.project(near).y == Approx(600));
}

TEST_CASE("view camera: one point and no point")
{
    const auto one = ui::fittedCamera({{3, 4, 5}}, {0, -1, 0}, 1600, 1200);
    CHECK(one.project({3, 4, 5}).depthMm > 0);
    CHECK(ui::fittedCamera({}, {0, -1, 0}, 1600, 1200).widthPx == 1600);
}
