// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/thread.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <numbers>

using namespace quoin;
using namespace quoin::core;
using std::numbers::pi;

namespace {

/// Tables of the standards are printed to 0.001 mm or coarser.
constexpr double tableMm = 0.001;

double degrees(double radians)
{
    return radians * 180 / pi;
}

Thread trapezoidal(double d, double p, int starts = 1)
{
    return {Thread::Profile::Trapezoidal, d, p, starts, false};
}

} // namespace

TEST_CASE("thread: trapezoidal sizes agree with ISO 2904")
{
    // Basic dimensions of ISO 2904 / DIN 103-4. Rows 8 to 24, 42 and 48 as public copies of the tables have them, the
    // others computed by hand from the formulas of clause 5.
    struct Row {
        double d, P, ac, d2, d3, D1, D4, h3;
    };
    constexpr Row rows[] = {{8, 1.5, .15, 7.25, 6.2, 6.5, 8.3, .9}, {10, 2, .25, 9, 7.5, 8, 10.5, 1.25},
                            {12, 3, .25, 10.5, 8.5, 9, 12.5, 1.75}, {16, 4, .25, 14, 11.5, 12, 16.5, 2.25},
                            {20, 4, .25, 18, 15.5, 16, 20.5, 2.25}, {24, 5, .25, 21.5, 18.5, 19, 24.5, 2.75},
                            {30, 6, .5, 27, 23, 24, 31, 3.5},       {36, 6, .5, 33, 29, 30, 37, 3.5},
                            {40, 7, .5, 36.5, 32, 33, 41, 4},       {42, 7, .5, 38.5, 34, 35, 43, 4},
                            {48, 8, .5, 44, 39, 40, 49, 4.5},       {50, 8, .5, 46, 41, 42, 51, 4.5},
                            {60, 9, .5, 55.5, 50, 51, 61, 5},       {80, 10, .5, 75, 69, 70, 81, 5.5},
                            {100, 12, .5, 94, 87, 88, 101, 6.5},    {120, 14, 1, 113, 104, 106, 122, 8}};
    for (const Row& row : rows) {
        INFO("Tr " << row.d << "x" << row.P);
        const auto iso = isoTrapezoidal(row.d, row.P);
        REQUIRE(iso);
        CHECK(iso->ac == Approx(row.ac).margin(tableMm));
        CHECK(iso->d2 == Approx(row.d2).margin(tableMm));
        CHECK(iso->D2 == Approx(row.d2).margin(tableMm));
        CHECK(iso->d3 == Approx(row.d3).margin(tableMm));
        CHECK(iso->D1 == Approx(row.D1).margin(tableMm));
        CHECK(iso->D4 == Approx(row.D4).margin(tableMm));
        CHECK(iso->h3 == Approx(row.h3).margin(tableMm));
        CHECK(iso->H1 == Approx(row.P / 2).margin(tableMm));
        CHECK(iso->R1max == Approx(row.ac / 2).margin(tableMm));
        CHECK(iso->R2max == Approx(row.ac).margin(tableMm));
        const auto t = dimensionsOf(trapezoidal(row.d, row.P));
        REQUIRE(t.ok());
        CHECK(t->majorMm == Approx(row.d).margin(tableMm));
        CHECK(t->pitchDiameterMm == Approx(row.d2).margin(tableMm));
        CHECK(t->internalPitchMm == Approx(row.d2).margin(tableMm));
        CHECK(t->minorMm == Approx(row.d3).margin(tableMm));
        CHECK(t->internalMinorMm == Approx(row.D1).margin(tableMm));
        CHECK(t->internalMajorMm == Approx(row.D4).margin(tableMm));
        CHECK(degrees(t->flankHalfAngle) == Approx(15));
        // ISO 2901: crest flat 0.366 P.
        CHECK(t->crestFlatMm == Approx(0.36603 * row.P).epsilon(1e-4));
    }
    CHECK_FALSE(isoTrapezoidal(40, 6.5));
    CHECK_FALSE(isoTrapezoidal(4, 4));
}

TEST_CASE("thread: lead angles agree with a screw maker's table")
{
    // Published to the minute: Tr 10x2 4 02', 12x3 5 12', 16x4 5 12', 20x4 4 03', 20x8(P4) 8 03' (transdev.co.uk).
    struct Row {
        double d, P;
        int starts;
        double angle;
    };
    constexpr Row rows[] = {{10, 2, 1, 4 + 2 / 60.},
                            {12, 3, 1, 5 + 12 / 60.},
                            {16, 4, 1, 5 + 12 / 60.},
                            {20, 4, 1, 4 + 3 / 60.},
                            {20, 4, 2, 8 + 3 / 60.}};
    for (const Row& row : rows)
        CHECK(degrees(dimensionsOf(trapezoidal(row.d, row.P, row.starts))->leadAngle) ==
              Approx(row.angle).margin(1 / 60.));
    CHECK(trapezoidal(60, 9, 2).leadMm() == 18);
}

TEST_CASE("thread: the pitch plan of ISO 2902")
{
    // Coarse, normal, fine as f-m-s.dk quotes ISO 2902; the row for 20 from the same.
    struct Row {
        double d, coarse, normal, fine;
    };
    constexpr Row rows[] = {{24, 8, 5, 3},  {30, 10, 6, 3}, {36, 10, 6, 3},  {40, 10, 7, 3},
                            {50, 12, 8, 3}, {60, 14, 9, 3}, {80, 16, 10, 4}, {100, 20, 12, 4}};
    for (const Row& row : rows) {
        INFO(row.d);
        const auto& plan = trapezoidalPlan();
        const auto found =
            std::find_if(plan.begin(), plan.end(), [&](const PitchPlanRow& r) { return r.diameterMm == row.d; });
        REQUIRE(found != plan.end());
        CHECK(found->pitchesMm == std::vector{row.coarse, row.normal, row.fine});
        CHECK(found->normalMm == row.normal);
        CHECK(inTrapezoidalPlan(row.d, row.coarse));
        CHECK_FALSE(inTrapezoidalPlan(row.d, 1.5));
    }
    CHECK(inTrapezoidalPlan(20, 4));
    double before = 0;
    for (const PitchPlanRow& row : trapezoidalPlan()) {
        CHECK(row.diameterMm > before);
        before = row.diameterMm;
        CHECK(inTrapezoidalPlan(row.diameterMm, row.normalMm));
        for (const double pitch : row.pitchesMm)
            CHECK(dimensionsOf(trapezoidal(row.diameterMm, pitch)).ok());
    }
    CHECK(trapezoidalThread(63) == trapezoidal(60, 9));
    CHECK(trapezoidalThread(40) == trapezoidal(40, 7));
    CHECK(trapezoidalThread(2) == trapezoidal(8, 1.5));
}

TEST_CASE("thread: metric bolts agree with ISO 724 and ISO 898-1")
{
    // d2, D1 of ISO 724 to 0.001; stress areas as printed in ISO 898-1 (three figures).
    struct Row {
        double d, P, d2, D1, d3, As;
    };
    constexpr Row rows[] = {{3, .5, 2.675, 2.459, 2.387, 5.03},      {4, .7, 3.545, 3.242, 3.141, 8.78},
                            {5, .8, 4.480, 4.134, 4.019, 14.2},      {6, 1, 5.350, 4.917, 4.773, 20.1},
                            {8, 1.25, 7.188, 6.647, 6.466, 36.6},    {10, 1.5, 9.026, 8.376, 8.160, 58.0},
                            {12, 1.75, 10.863, 10.106, 9.853, 84.3}, {16, 2, 14.701, 13.835, 13.546, 157},
                            {20, 2.5, 18.376, 17.294, 16.933, 245},  {24, 3, 22.051, 20.752, 20.319, 353},
                            {30, 3.5, 27.727, 26.211, 25.706, 561},  {36, 4, 33.402, 31.670, 31.093, 817}};
    for (const Row& row : rows) {
        INFO("M" << row.d);
        const auto m = metricThread(row.d);
        REQUIRE(m);
        CHECK(m->P == row.P);
        CHECK(m->d2 == Approx(row.d2).margin(tableMm));
        CHECK(m->D1 == Approx(row.D1).margin(tableMm));
        CHECK(m->d3 == Approx(row.d3).margin(tableMm));
        CHECK(m->stressAreaMm2 == Approx(row.As).epsilon(0.005));
        // The other form of the area, As = pi/4 (d - 0.938194 P)^2 (ISO 898-1).
        CHECK(m->stressAreaMm2 == Approx(pi / 4 * std::pow(row.d - 0.938194 * row.P, 2)).epsilon(1e-6));
    }
    CHECK_FALSE(metricThread(7));
    for (const double d : metricDiametersMm())
        CHECK(metricThread(d));
}

TEST_CASE("thread: the printable profile adds up")
{
    const auto t = dimensionsOf({Thread::Profile::Printable, 40, 6, 1, false});
    REQUIRE(t.ok());
    CHECK(degrees(t->flankHalfAngle) == Approx(45));
    CHECK(t->engagedHeightMm == Approx(1.8));
    CHECK(t->pitchDiameterMm == Approx(38.2));
    CHECK(t->internalMinorMm == Approx(36.4));
    CHECK(t->minorMm == Approx(36.04));
    CHECK(t->internalMajorMm == Approx(40.36));
    // Crest, two flanks at 45 degrees and root make one pitch.
    CHECK(t->crestFlatMm + 2 * t->threadHeightMm + t->rootFlatMm == Approx(6));
    CHECK(t->crestFlatMm + t->engagedHeightMm == Approx(t->toothAtPitchMm));
    // The fillet stays within the root clearance, or the other thread's crest would ride on it.
    CHECK(t->rootRadiusMm * (1 - std::cos(pi / 4)) < t->rootClearanceMm);
    // Both fillets of a root find room on its flat.
    CHECK(2 * t->rootRadiusMm * std::tan(pi / 8) < t->rootFlatMm);
}

TEST_CASE("thread: printable sizes make threads")
{
    for (const PrintableSize& size : printableSizes()) {
        INFO(size.diameterMm);
        CHECK(size.pitchMm >= 3);
        CHECK(size.pitchMm <= std::max(3.0, size.diameterMm / 4));
        CHECK(dimensionsOf(printableThread(size.diameterMm)).ok());
    }
    CHECK(printableSizes().front().diameterMm == 8);
    CHECK(printableSizes().back().diameterMm == 200);
    CHECK(printableThread(40) == Thread{Thread::Profile::Printable, 40, 6, 1, false});
    CHECK(printableThread(47).pitchMm == 6);
    CHECK(printableThread(47).diameterMm == 47);
    CHECK(printableThread(500).pitchMm == 24);
}

TEST_CASE("thread: designations are read and written")
{
    const auto reads = [](const char* text, const Thread& want) {
        INFO(text);
        const auto got = threadFrom(text);
        REQUIRE(got.ok());
        CHECK(*got == want);
        CHECK(*threadFrom(designation(*got)) == want);
    };
    const Thread tr60{Thread::Profile::Trapezoidal, 60, 9, 2, true};
    reads("Tr 40x7", trapezoidal(40, 7));
    reads("Tr40X7", trapezoidal(40, 7));
    reads("  tr 40 \xC3\x97 7 ", trapezoidal(40, 7));
    reads("Tr 60x18(P9)LH", tr60);
    reads("Tr 60 x 18 (P9) LH", tr60);
    reads("Tr 60x18(P9)-LH", tr60);
    reads("Tr 8x1.5", trapezoidal(8, 1.5));
    reads("Tr 8x1,5", trapezoidal(8, 1.5));
    reads("Tr 8x3(P1.5)", trapezoidal(8, 1.5, 2));
    reads("Printable 40x6", {Thread::Profile::Printable, 40, 6, 1, false});
    reads("printable 36.5x12(P6)lh", {Thread::Profile::Printable, 36.5, 6, 2, true});
    CHECK(designation(tr60) == "Tr 60x18(P9)LH");
    CHECK(designation(trapezoidal(8, 1.5)) == "Tr 8x1.5");
}

TEST_CASE("thread: nonsense is refused with words")
{
    for (const char* text : {"",
                             "Tr",
                             "M10x1.5",
                             "Tr x7",
                             "Tr 40",
                             "Tr 40x",
                             "Tr 40x7 RH",
                             "Tr 40x7x2",
                             "Tr 60x18(9)",
                             "Tr 60x18(P9",
                             "Tr 60x20(P9)",
                             "Tr 60x18(P0)",
                             "Tr 60x18(P-9)",
                             "Tr 60x0(P9)",
                             "Tr -40x7",
                             "Tr 40x-7",
                             "Tr nanx7",
                             "Tr 40xinf",
                             "Tr 1e400x7",
                             "Tr 40x6.5",
                             "Tr 12x9",
                             "Tr 100x60(P12)",
                             "Printable 40x35",
                             "Printable 0x0",
                             "Printable 10x12(P3)LHLH",
                             "Tr 20x40(P10)",
                             "Printable 40x1e300(P6)"}) {
        INFO(text);
        const auto got = threadFrom(text);
        REQUIRE_FALSE(got.ok());
        CHECK(got.problem().reason == Reason::BadArgument);
        CHECK(got.problem().what.size() > 10);
        CHECK(got.problem().remedy.size() > 5);
    }
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_FALSE(dimensionsOf({Thread::Profile::Printable, nan, 6, 1, false}).ok());
    CHECK_FALSE(dimensionsOf({Thread::Profile::Printable, 40, nan, 1, false}).ok());
    CHECK_FALSE(dimensionsOf({Thread::Profile::Printable, 40, 6, 0, false}).ok());
    CHECK_FALSE(dimensionsOf({Thread::Profile::Printable, 40, 6, 5, false}).ok());
    // Four starts of 3 mm climb 39 degrees at a core of 4.7 mm.
    CHECK_FALSE(dimensionsOf({Thread::Profile::Printable, 6.7, 3, 4, false}).ok());
}

TEST_CASE("thread: a face that seats early turns the joint")
{
    // 0.1 mm on a lead of 4 mm: a fortieth of a turn, 9 degrees.
    CHECK(degrees(seatedAngleError(0.1, 4)) == Approx(9));
    CHECK(degrees(seatedAngleError(-0.1, 8)) == Approx(-4.5));
}
