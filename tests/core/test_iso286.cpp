// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/iso286.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <string>
#include <vector>

using namespace quoin;
using namespace quoin::core;

namespace {

int micrometres(double mm)
{
    return static_cast<int>(std::lround(mm * 1000));
}

std::vector<int> limitsOf(const char* toleranceClass, double sizeMm)
{
    const auto limits = isoLimits(toleranceClass, sizeMm);
    REQUIRE(limits.ok());
    return {micrometres(limits->upperMm), micrometres(limits->lowerMm)};
}

std::vector<int> fitOf(const char* fit, double sizeMm)
{
    const auto f = isoFit(fit, sizeMm);
    REQUIRE(f.ok());
    return {micrometres(f->leastClearanceMm), micrometres(f->mostClearanceMm)};
}

} // namespace

TEST_CASE("ISO 286: the standard tolerances of the table")
{
    // ISO 286-1 table 1, public copies; um. Not its formula: i = 0.45 D^(1/3) + 0.001 D is up to 8 % off below 18 mm.
    const std::vector<std::pair<double, std::vector<int>>> table{
        {4, {5, 8, 12, 18, 30, 48, 75, 120, 180, 300}},         {8, {6, 9, 15, 22, 36, 58, 90, 150, 220, 360}},
        {15, {8, 11, 18, 27, 43, 70, 110, 180, 270, 430}},      {25, {9, 13, 21, 33, 52, 84, 130, 210, 330, 520}},
        {40, {11, 16, 25, 39, 62, 100, 160, 250, 390, 620}},    {60, {13, 19, 30, 46, 74, 120, 190, 300, 460, 740}},
        {100, {15, 22, 35, 54, 87, 140, 220, 350, 540, 870}},   {150, {18, 25, 40, 63, 100, 160, 250, 400, 630, 1000}},
        {200, {20, 29, 46, 72, 115, 185, 290, 460, 720, 1150}}, {300, {23, 32, 52, 81, 130, 210, 320, 520, 810, 1300}},
        {350, {25, 36, 57, 89, 140, 230, 360, 570, 890, 1400}}, {450, {27, 40, 63, 97, 155, 250, 400, 630, 970, 1550}},
    };
    for (const auto& [size, row] : table)
        for (std::size_t i = 0; i < row.size(); ++i) {
            INFO("size " << size << ", IT" << 5 + i);
            CHECK(micrometres(*isoToleranceMm(5 + static_cast<int>(i), size)) == row[i]);
        }
}

TEST_CASE("ISO 286: the formula of the standard is near the table from 18 mm up")
{
    // ISO 286-1 annex, from memory: IT5 to IT14 = 7, 10, 16, 25, 40, 64, 100, 160, 250, 400 i; the table's rounding
    // stays within 2.8 % (reckoned from the table).
    const std::vector<double> factors{7, 10, 16, 25, 40, 64, 100, 160, 250, 400};
    const std::vector<double> edges{18, 30, 50, 80, 120, 180, 250, 315, 400, 500};
    for (std::size_t r = 0; r + 1 < edges.size(); ++r) {
        const double d = std::sqrt(edges[r] * edges[r + 1]);
        const double i = 0.45 * std::cbrt(d) + 0.001 * d;
        for (std::size_t g = 0; g < factors.size(); ++g)
            CHECK(*isoToleranceMm(5 + static_cast<int>(g), d) * 1000 == Approx(factors[g] * i).epsilon(0.03));
    }
}

TEST_CASE("ISO 286: a range is over its lower edge, up to and including its upper")
{
    CHECK(micrometres(*isoToleranceMm(7, 10)) == 15);
    CHECK(micrometres(*isoToleranceMm(7, 10.001)) == 18);
    CHECK(micrometres(*isoToleranceMm(7, 18)) == 18);
    CHECK(micrometres(*isoToleranceMm(7, 50)) == 25);
    CHECK(micrometres(*isoToleranceMm(7, 50.001)) == 30);
    CHECK(micrometres(*isoToleranceMm(7, 3.001)) == 12);
    CHECK(micrometres(*isoToleranceMm(7, 3)) == 10); // from memory
    // IT14 at 10 mm 0.36 mm, at 100 mm 0.87 mm (public copies).
    CHECK(*isoToleranceMm(14, 10) == Approx(0.36));
    CHECK(*isoToleranceMm(14, 100) == Approx(0.87));
}

TEST_CASE("ISO 286: limits of holes and shafts")
{
    // ES/EI and es/ei in um: public tables of ISO 286-2 (g and k at 180-500, p at 3-180, k6 at 10-50), others from
    // memory.
    struct Row {
        double size;
        std::vector<int> h7, h11, g6, k6, p6;
    };
    const std::vector<Row> rows{
        {5, {12, 0}, {75, 0}, {-4, -12}, {9, 1}, {20, 12}},
        {10, {15, 0}, {90, 0}, {-5, -14}, {10, 1}, {24, 15}},
        {16, {18, 0}, {110, 0}, {-6, -17}, {12, 1}, {29, 18}},
        {20, {21, 0}, {130, 0}, {-7, -20}, {15, 2}, {35, 22}},
        {50, {25, 0}, {160, 0}, {-9, -25}, {18, 2}, {42, 26}},
        {80, {30, 0}, {190, 0}, {-10, -29}, {21, 2}, {51, 32}},
        {120, {35, 0}, {220, 0}, {-12, -34}, {25, 3}, {59, 37}},
        {180, {40, 0}, {250, 0}, {-14, -39}, {28, 3}, {68, 43}},
        {250, {46, 0}, {290, 0}, {-15, -44}, {33, 4}, {79, 50}},
        {315, {52, 0}, {320, 0}, {-17, -49}, {36, 4}, {88, 56}},
        {400, {57, 0}, {360, 0}, {-18, -54}, {40, 4}, {98, 62}},
        {500, {63, 0}, {400, 0}, {-20, -60}, {45, 5}, {108, 68}},
    };
    for (const Row& r : rows) {
        INFO("size " << r.size);
        CHECK(limitsOf("H7", r.size) == r.h7);
        CHECK(limitsOf("H11", r.size) == r.h11);
        CHECK(limitsOf("g6", r.size) == r.g6);
        CHECK(limitsOf("k6", r.size) == r.k6);
        CHECK(limitsOf("p6", r.size) == r.p6);
    }
    CHECK(limitsOf("h9", 12) == std::vector<int>{0, -43});
    CHECK(limitsOf("JS9", 12)[0] == 22); // 21.5
    CHECK(limitsOf("js14", 12) == std::vector<int>{215, -215});
    // From memory (workshop tables): F8 and f7, E9, D10 at 25 mm.
    CHECK(limitsOf("F8", 25) == std::vector<int>{53, 20});
    CHECK(limitsOf("f7", 25) == std::vector<int>{-20, -41});
    CHECK(limitsOf("D10", 25) == std::vector<int>{149, 65});
    CHECK(limitsOf("n6", 25) == std::vector<int>{28, 15});
    CHECK(limitsOf("m6", 25) == std::vector<int>{21, 8});
}

TEST_CASE("ISO 286: the published worked fits at 50 mm")
{
    // rulesofthumb.info: H7 50.000-50.025, g6 49.975-49.991, clearance 9 to 50 um; p6 interference 1 to 42 um.
    CHECK(fitOf("H7/g6", 50) == std::vector<int>{9, 50});
    CHECK(fitOf("H7/p6", 50) == std::vector<int>{-42, -1});
    CHECK(fitOf("H7/k6", 50) == std::vector<int>{-18, 23});
    CHECK(fitOf("H11/h11", 50) == std::vector<int>{0, 320});
    CHECK(fitOf("H7/g6", 5) == std::vector<int>{4, 24});
    CHECK(fitOf("H7/g6", 450) == std::vector<int>{20, 123});
    const auto f = isoFit("H7/g6", 50);
    CHECK(50 + f->hole.upperMm == Approx(50.025));
    CHECK(50 + f->shaft.lowerMm == Approx(49.975));
    CHECK(50 + f->shaft.upperMm == Approx(49.991));
}

TEST_CASE("ISO 286: what is not in the tables is refused")
{
    for (const char* wrong :
         {"", "H", "7", "H4", "H15", "Hg7", "jS7", "X7", "P7", "K7", "h7.5", "h-7", "H7 ", "k8", "m9"}) {
        INFO(wrong);
        REQUIRE_FALSE(isoLimits(wrong, 20).ok());
        CHECK(isoLimits(wrong, 20).problem().reason == Reason::BadArgument);
        CHECK_FALSE(isoLimits(wrong, 20).problem().remedy.empty());
    }
    for (const double size : {0.0, -5.0, 0.9, 500.1, std::nan(""), std::numeric_limits<double>::infinity()})
        CHECK_FALSE(isoLimits("H7", size).ok());
    for (const char* wrong : {"H7", "g6/H7", "H7/", "/g6", "H7/H7", "H7/g6/h6", "h7/g6"}) {
        INFO(wrong);
        CHECK_FALSE(isoFit(wrong, 20).ok());
    }
    CHECK(isoLimits("H7", 500).ok());
    CHECK(isoLimits("p9", 20).ok());
}
