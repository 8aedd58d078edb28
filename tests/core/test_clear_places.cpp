// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/clear_places.h"

#include <catch2/catch.hpp>

#include <limits>
#include <random>

using namespace quoin::core;

TEST_CASE("clear places: nothing in the way gives the even division", "[clear_places]")
{
    const auto places = clearPlaces(0, 400, 4, 100, {{0, 400}});
    REQUIRE(places);
    REQUIRE(places->size() == 3);
    for (int i = 0; i < 3; ++i)
        CHECK((*places)[static_cast<std::size_t>(i)].at == Approx(100 * (i + 1)));
}

TEST_CASE("clear places: a cut moves to the nearer side of what is blocked, and stands off it", "[clear_places]")
{
    // Cells of 120 at most; 190 to 215 is blocked around the middle of 400.
    const auto places = clearPlaces(0, 400, 4, 120, {{0, 190}, {215, 400}});
    REQUIRE(places);
    REQUIRE(places->size() == 3);
    CHECK((*places)[1].at == Approx(188));
    // Within 2 mm there is no room to stand off by more than a quarter.
    const auto tight = clearPlaces(0, 200, 2, 120, {{95, 96}});
    REQUIRE(tight);
    REQUIRE(tight->size() == 1);
    CHECK((*tight)[0].at == Approx(95.75));
}

TEST_CASE("clear places: more cells where the blocked ranges ask for them, none where they are too long",
          "[clear_places]")
{
    // 90 to 130 blocked: with cells of 100, two cells can't do (the cut must be at 100 exactly), three can.
    const auto three = clearPlaces(0, 200, 2, 100, {{0, 90}, {130, 200}});
    REQUIRE(three);
    CHECK(three->size() == 2);
    CHECK_FALSE(clearPlaces(0, 400, 4, 100, {{0, 90}, {200, 400}}));
    CHECK_FALSE(clearPlaces(0, 400, 4, 100, {}));
    CHECK(clearPlaces(0, 80, 1, 100, {})->empty());
}

TEST_CASE("clear places: every cell is short enough and every cut free, whatever is blocked", "[clear_places]")
{
    std::mt19937 random(3);
    std::uniform_real_distribution<double> unit(0, 1);
    int found = 0, none = 0;
    for (int round = 0; round < 400; ++round) {
        std::vector<OffsetRange> free;
        for (double x = 40 * unit(random); x < 500;) {
            const double end = std::min(500.0, x + 60 * unit(random));
            free.push_back({x, end});
            x = end + 110 * unit(random);
        }
        const double longest = 90 + 60 * unit(random);
        const int cells = 2 + static_cast<int>(5 * unit(random));
        const auto places = clearPlaces(0, 500, cells, longest, free);
        // By walking as far as one can each time: possible or not, and the fewest cuts.
        double reach = 0;
        int fewest = 0;
        bool possible = true;
        while (possible && reach + longest < 500) {
            double next = reach;
            for (const OffsetRange& f : free)
                if (f.from <= reach + longest)
                    next = std::max(next, std::min(f.to, reach + longest));
            possible = next > reach;
            reach = next;
            ++fewest;
        }
        REQUIRE(places.has_value() == possible);
        (possible ? found : none) += 1;
        if (!possible)
            continue;
        CHECK(static_cast<int>(places->size()) >= fewest);
        CHECK(static_cast<int>(places->size()) <= std::max(fewest, cells - 1));
        double before = 0;
        for (const ClearPlace& p : *places) {
            CHECK(isFree(p.at, free));
            CHECK(p.at > before);
            CHECK(p.at - before <= longest * (1 + 1e-8));
            CHECK(p.low <= p.at + 1e-6);
            CHECK(p.high >= p.at - 1e-6);
            before = p.at;
        }
        CHECK(500 - before <= longest * (1 + 1e-8));
    }
    CHECK(found > 50);
    CHECK(none > 30);
}

TEST_CASE("clear places: the longest blocked stretch", "[clear_places]")
{
    const OffsetRange blocked = longestBlocked(0, 100, {{10, 20}, {60, 70}});
    CHECK(blocked.from == 20);
    CHECK(blocked.to == 60);
    CHECK(longestBlocked(0, 100, {}).to == 100);
    CHECK(nearestFree(50, {0, 100}, {{10, 20}, {60, 70}}) == Approx(62));
    CHECK_FALSE(nearestFree(50, {30, 55}, {{10, 20}, {60, 70}}));
}
