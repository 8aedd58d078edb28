// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/coarse_budget.h"

#include <catch2/catch.hpp>

namespace quoin::ui {

TEST_CASE("coarse budget: grows while pictures are quick, up to the scene")
{
    CoarseBudget budget;
    for (int i = 0; i < 20; ++i)
        budget.learn(5, false, false, 1'000'000);
    CHECK(budget.triangles() >= 1'000'000);
    CHECK(budget.triangles() < 1'500'001);
    // Small scenes don't make it grow.
    CoarseBudget small;
    small.learn(5, true, false, 1000);
    CHECK(small.triangles() == CoarseBudget::first);
}

TEST_CASE("coarse budget: slow pictures shrink it, full ones too")
{
    for (const bool full : {false, true}) {
        CoarseBudget budget;
        for (int i = 0; i < 20; ++i)
            budget.learn(5, false, false, 1'000'000);
        for (int i = 0; i < 6; ++i)
            budget.learn(150, full, false, 1'000'000);
        CHECK(budget.triangles() < CoarseBudget::first);
    }
}

TEST_CASE("coarse budget: never under the least, and in proportion to the time")
{
    CoarseBudget budget;
    for (int i = 0; i < 50; ++i)
        budget.learn(1000, false, false, 1'000'000);
    CHECK(budget.triangles() == CoarseBudget::least);
    CoarseBudget twice;
    twice.learn(2 * CoarseBudget::slowMs, false, false, 1'000'000);
    CHECK(twice.triangles() == CoarseBudget::first / 2);
}

TEST_CASE("coarse budget: smooth only where there is time for it, and not after a slow smooth picture")
{
    CoarseBudget budget;
    budget.learn(4, true, false, 1000);
    CHECK(budget.smooth());
    budget.learn(50, true, true, 1000);
    CHECK_FALSE(budget.smooth());
    CHECK(budget.triangles() == CoarseBudget::first); // the smoothing was to blame
    budget.learn(14, true, false, 1000);
    CHECK_FALSE(budget.smooth()); // four times as many pixels would be slow
}

} // namespace quoin::ui
