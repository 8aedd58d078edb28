// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/stroke_font.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

using namespace quoin;
using core::strokeText;
using core::StrokeText;
using mesh::Vec2;

namespace {

const std::string letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789";

double segmentDistance(Vec2 p, Vec2 a, Vec2 b)
{
    const Vec2 d = b - a;
    const double t = std::clamp(dot(p - a, d) / dot(d, d), 0.0, 1.0);
    return length(p - (a + t * d));
}

/// How far the farthest point of a lies from b: a measure of how different two letters look to the eye.
double farthest(const StrokeText& a, const StrokeText& b)
{
    double worst = 0;
    for (const auto& path : a.paths)
        for (std::size_t i = 0; i + 1 < path.size(); ++i)
            for (int k = 0; k <= 8; ++k) {
                const Vec2 p = path[i] + (k / 8.0) * (path[i + 1] - path[i]);
                double nearest = 1e9;
                for (const auto& other : b.paths)
                    for (std::size_t j = 0; j + 1 < other.size(); ++j)
                        nearest = std::min(nearest, segmentDistance(p, other[j], other[j + 1]));
                worst = std::max(worst, nearest);
            }
    return worst;
}

double difference(const StrokeText& a, const StrokeText& b)
{
    return std::max(farthest(a, b), farthest(b, a));
}

StrokeText turnedHalf(StrokeText text)
{
    for (auto& path : text.paths)
        for (Vec2& p : path)
            p = {text.width - p.x, 1 - p.y};
    return text;
}

} // namespace

TEST_CASE("stroke font: every letter lies inside its box and fills its height")
{
    for (const char c : letters) {
        const StrokeText text = strokeText(std::string(1, c));
        INFO("letter " << c);
        REQUIRE_FALSE(text.paths.empty());
        double left = 9, right = -9, low = 9, high = -9;
        for (const auto& path : text.paths) {
            REQUIRE(path.size() >= 2);
            for (std::size_t i = 0; i < path.size(); ++i) {
                left = std::min(left, path[i].x);
                right = std::max(right, path[i].x);
                low = std::min(low, path[i].y);
                high = std::max(high, path[i].y);
                if (i > 0)
                    CHECK(length(path[i] - path[i - 1]) > 1e-3);
            }
        }
        CHECK(left >= -1e-9);
        CHECK(left < 0.04);
        CHECK(right <= text.width + 1e-9);
        CHECK(right > text.width - 0.04);
        CHECK(high == Approx(1.0).margin(0.011));
        CHECK(high <= 1 + 1e-9);
        CHECK(low == Approx(text.bottom).margin(0.005));
    }
}

TEST_CASE("stroke font: no two letters look alike, upright or upside down")
{
    // A pen is about a seventh of the height; letters must differ by more than half a pen somewhere.
    constexpr double leastDifference = 0.08;
    for (const char a : letters)
        for (const char b : letters) {
            INFO(a << " and " << b);
            if (a < b)
                CHECK(difference(strokeText(std::string(1, a)), strokeText(std::string(1, b))) > leastDifference);
            if (a != b)
                CHECK(difference(turnedHalf(strokeText(std::string(1, a))), strokeText(std::string(1, b))) >
                      leastDifference);
        }
}

TEST_CASE("stroke font: 6 and 9 stand on a bar")
{
    for (const char c : letters) {
        const StrokeText text = strokeText(std::string(1, c));
        const bool barred = c == '6' || c == '9';
        INFO(c);
        CHECK(text.bottom == Approx(barred ? core::strokeBarY : 0.0).margin(1e-12));
        const bool hasBar = std::ranges::any_of(text.paths, [](const auto& path) {
            return path.size() == 2 && path[0].y == Approx(core::strokeBarY) && path[1].y == Approx(core::strokeBarY) &&
                   length(path[1] - path[0]) > 0.4;
        });
        CHECK(hasBar == barred);
    }
}

TEST_CASE("stroke font: letters of a text stand side by side and don't touch")
{
    const StrokeText a = strokeText("A"), b = strokeText("B"), both = strokeText("AB");
    REQUIRE(both.paths.size() == a.paths.size() + b.paths.size());
    CHECK(both.width > a.width + b.width + 0.2);
    for (std::size_t i = 0; i < b.paths.size(); ++i)
        CHECK(both.paths[a.paths.size() + i][0].x == Approx(b.paths[i][0].x + both.width - b.width));
    CHECK(strokeText("").paths.empty());
    CHECK(strokeText("").width == 0);
    CHECK(strokeText(" ").paths.empty());
    CHECK(strokeText(" ").width > 0.2);
}

TEST_CASE("stroke font: small letters are capitals, and what it doesn't know is an empty box")
{
    CHECK(difference(strokeText("k"), strokeText("K")) < 1e-12);
    const StrokeText unknown = strokeText("%");
    REQUIRE(unknown.paths.size() == 1);
    CHECK(unknown.paths[0].front() == unknown.paths[0].back());
    for (const char c : letters)
        CHECK(difference(unknown, strokeText(std::string(1, c))) > 0.08);
    CHECK(strokeText("-").paths.size() == 1);
    CHECK(strokeText(".").paths.size() == 1);
}
