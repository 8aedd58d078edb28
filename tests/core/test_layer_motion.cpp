// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/layer_motion.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace quoin;
using namespace quoin::core;

namespace {
constexpr double pi = std::numbers::pi;
}

TEST_CASE("layer motion: a run from rest to rest is the closed form of the trapezoid")
{
    // v/a to speed up and down each over v^2 / 2a, the rest at v: l/v + v/a. Closed form of uniform acceleration.
    const Motion m{100, 1000, 10};
    CHECK(runSeconds(50, 0, 0, m) == Approx(50 / 100.0 + 100 / 1000.0));
    // Too short to get there: 2 sqrt(l / a).
    CHECK(runSeconds(4, 0, 0, m) == Approx(2 * std::sqrt(4 / 1000.0)));
    // Just long enough, both alike.
    CHECK(runSeconds(10, 0, 0, m) == Approx(0.2));
    // From 40 to 60 mm/s: (100 - 40)/a over 4.2 mm, (100 - 60)/a over 3.2 mm, the rest at 100.
    CHECK(runSeconds(20, 40, 60, m) == Approx(0.06 + 0.04 + (20 - 4.2 - 3.2) / 100));
    CHECK(runSeconds(20, 100, 100, m) == Approx(0.2));
    CHECK(runSeconds(0, 0, 0, m) == 0);
}

TEST_CASE("layer motion: a corner is passed with the change of speed that is allowed at once")
{
    const Motion m{100, 1000, 10};
    CHECK(cornerSpeed(0, m) == 100);
    CHECK(cornerSpeed(pi / 2, m) == Approx(10 / std::sqrt(2.0)));
    CHECK(cornerSpeed(pi, m) == Approx(5));
    CHECK(cornerSpeed(0.05, m) == 100);
}

TEST_CASE("layer motion: once around a square is four runs between its corners")
{
    const Motion m{80, 2000, 8};
    const double corner = 8 / std::sqrt(2.0);
    const double three = 2 * runSeconds(50, corner, corner, m);
    // The first corner is left and reached with the step itself.
    CHECK(loopSeconds({{0, 0}, {50, 0}, {50, 50}, {0, 50}}, m) ==
          Approx(three + runSeconds(50, 8, corner, m) + runSeconds(50, corner, 8, m)));
}

TEST_CASE("layer motion: a round of many short sides is not slower than its arc, a zigzag is")
{
    mesh::Loop circle, zigzag;
    for (int i = 0; i < 200; ++i)
        circle.push_back({30 * std::cos(2 * pi * i / 200), 30 * std::sin(2 * pi * i / 200)});
    const Motion m{60, 1500, 8};
    const double around = 400 * 30 * std::sin(pi / 200);
    // All at full speed but for one start and one stop: (v - c)^2 / (a v) more.
    CHECK(loopSeconds(circle, m) == Approx(around / 60 + 52.0 * 52.0 / (1500 * 60)));
    for (int i = 0; i < 100; ++i)
        zigzag.push_back({static_cast<double>(i), static_cast<double>(i % 2)});
    const double sides = 99 * std::sqrt(2.0) + std::hypot(99, 1);
    CHECK(loopSeconds(zigzag, m) > 2 * sides / 60);
}

TEST_CASE("layer motion: slowing down begins more than one side ahead")
{
    // 100 sides of 0.1 mm, then back: the turn of 180 degrees at the end is passed at 4 mm/s, for which braking from
    // 60 needs 1.19 mm, a dozen sides.
    const Motion m{60, 1500, 8};
    mesh::Loop there;
    for (int i = 0; i <= 100; ++i)
        there.push_back({0.1 * i, 0});
    // One way is a run of 10 mm from 8 to 4, the way back one of 10 mm from 4 to 8.
    CHECK(loopSeconds(there, m) == Approx(runSeconds(10, 8, 4, m) + runSeconds(10, 4, 8, m)));
}

TEST_CASE("layer motion: lines over a rectangle and what the patterns lay")
{
    const Motion m{60, 1500, 8};
    // 40 x 25 mm: mean chord pi A / P = pi 1000 / 130 (Cauchy, Santalo).
    const FillFigures skin = fillFigures(1000, 130, 1, 0.5, InfillPattern::Lines, m);
    CHECK(skin.lengthMm == Approx(2000));
    CHECK(skin.runMm == Approx(pi * 1000 / 130));
    const double corner = 8 / std::sqrt(2.0);
    CHECK(skin.seconds == Approx(2000 / skin.runMm * runSeconds(skin.runMm, corner, corner, m)));
    const FillFigures fifth = fillFigures(1000, 130, 0.2, 0.5, InfillPattern::Grid, m);
    CHECK(fifth.lengthMm == Approx(400));
    // A hexagonal net whose walls of 0.5 mm cover 20 %: side 2 * 0.5 / (sqrt(3) * 0.2), a third of them twice.
    const FillFigures comb = fillFigures(1000, 130, 0.2, 0.5, InfillPattern::Honeycomb, m);
    CHECK(comb.lengthMm == Approx(400 * 4 / 3.0));
    CHECK(comb.runMm == Approx(2.886751345948129));
    CHECK(comb.seconds / comb.lengthMm > fifth.seconds / fifth.lengthMm);
    CHECK(fillFigures(0, 10, 1, 0.5, InfillPattern::Lines, m).seconds == 0);
    CHECK(fillFigures(10, 10, 0, 0.5, InfillPattern::Gyroid, m).seconds == 0);
}
