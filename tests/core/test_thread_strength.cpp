// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/thread_strength.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace quoin::core;
using std::numbers::pi;

namespace {

/// Trapezoidal, basic sizes by ISO 2904: d2 = d - P/2, D1 = d - P, d3 = d - P - 2 ac.
ThreadPair trapezoidal(double d, double pitch, double ac)
{
    return {d, d - pitch / 2, d - pitch - 2 * ac, d - pitch, d - pitch / 2, pitch, pitch, 15 * pi / 180};
}

/// Metric, basic sizes by ISO 724.
ThreadPair metric(double d, double pitch)
{
    const double h = std::sqrt(3.0) / 2 * pitch;
    return {d, d - 0.75 * h, d - 1.226869 * pitch, d - 1.25 * h, d - 0.75 * h, pitch, pitch, 30 * pi / 180};
}

} // namespace

// Limits of M10-6g: public page citing ISO 965-1; of M10-6H: from memory. The formula is that of Machinery's Handbook.
TEST_CASE("thread shear: M10 6H/6g over 10 mm")
{
    // Least screw in the largest nut, each formula with the limits that it asks for.
    const ThreadPair limits{9.732, 8.862, 8.160, 8.676, 9.206, 1.5, 1.5, pi / 6};
    CHECK(screwShearAreaMm2(limits, 10) == Approx(155.796).epsilon(1e-5));
    CHECK(nutShearAreaMm2(limits, 10) == Approx(214.769).epsilon(1e-5));
}

// Basic profile: 3/4 pi D1 LE and 7/8 pi d LE (ISO 68-1: the teeth are 3/4 and 7/8 of the pitch thick there).
TEST_CASE("thread shear: M10 of basic profile")
{
    CHECK(screwShearAreaMm2(metric(10, 1.5), 10) == Approx(197.360).epsilon(1e-5));
    CHECK(nutShearAreaMm2(metric(10, 1.5), 10) == Approx(274.889).epsilon(1e-5));
}

TEST_CASE("thread shear: trapezoidal threads by the same formula")
{
    const double size[][5] = {{20, 4, .25, 31.867, 39.834}, {40, 7, .5, 65.726, 79.668}, {60, 9, .5, 101.576, 119.501}};
    for (const auto& s : size) {
        const ThreadPair t = trapezoidal(s[0], s[1], s[2]);
        CHECK(screwShearAreaMm2(t, 1) == Approx(s[3]).epsilon(2e-5));
        CHECK(nutShearAreaMm2(t, 1) == Approx(s[4]).epsilon(2e-5));
        CHECK(screwShearAreaMm2(t, 1) == Approx(0.633975 * pi * t.nutBoreMm).epsilon(1e-6));
    }
    const StrengthCheck strip = screwStripped(trapezoidal(20, 4, .25), 20, 1000, 15.69);
    CHECK(strip.demand == Approx(1.5690).epsilon(1e-4));
    CHECK(strip.safety == Approx(10).epsilon(1e-3));
    CHECK(nutStripped(trapezoidal(20, 4, .25), 20, 1000, 10).demand == Approx(1000 / 20 / 39.834).epsilon(1e-4));
}

TEST_CASE("thread shear: clearance takes from the teeth until none is left")
{
    ThreadPair t = trapezoidal(20, 4, .25);
    t.flankHalfAngle = pi / 4; // the printable profile
    const double snug = screwShearAreaMm2(t, 10);
    CHECK(snug == Approx(pi * 16 * 10)); // 45 degrees: as thick as the pitch at D1 = d2 - P/2
    t.nutBoreMm += 0.6;
    t.nutPitchDiameterMm += 0.6;
    CHECK(screwShearAreaMm2(t, 10) == Approx(pi * 16.6 * 10 * (2 + 1.4) / 4));
    CHECK(nutShearAreaMm2(t, 10) == Approx(pi * 20 * 10 * (2 + 1.4) / 4));
    t.nutPitchDiameterMm = 23; // slack past the flanks: nothing of the nut meets the screw
    CHECK(nutShearAreaMm2(t, 10) == 0);
    t.nutBoreMm = 15; // teeth can't be thicker than the pitch
    CHECK(screwShearAreaMm2(t, 10) == Approx(pi * 15 * 10));
    t.nutBoreMm = 20.5;
    CHECK(screwShearAreaMm2(t, 10) == 0);
    CHECK(screwStripped(t, 10, 100, 20).safety == Approx(0).margin(1e-9));
    CHECK(screwStripped(t, 10, 0, 20).safety > 1e300);
}

// Torques and friction limit derived from the formula; efficiency 0.41 and 0.26: screw maker's table, transdev.co.uk,
// which leaves the flank angle out.
TEST_CASE("screw: torque, efficiency and self-locking of Tr 20x4")
{
    ThreadPair t = trapezoidal(20, 4, .25);
    CHECK(tighteningTorqueNmm(t, 1000, 0.2) == Approx(2537.28).epsilon(1e-5));
    CHECK(looseningTorqueNmm(t, 1000, 0.2) == Approx(1209.17).epsilon(1e-5));
    CHECK(threadEfficiency(t, 0.1) == Approx(0.4029).epsilon(2e-4));
    CHECK(threadEfficiency(t, 0.2) == Approx(0.2509).epsilon(2e-4));
    CHECK(selfLockingFriction(t) == Approx(0.06833).epsilon(1e-4));
    CHECK(looseningTorqueNmm(t, 1000, selfLockingFriction(t)) == Approx(0).margin(1e-6));
    t.flankHalfAngle = 0;
    CHECK(threadEfficiency(t, 0.1) == Approx(0.4114).epsilon(2e-4));
    CHECK(threadEfficiency(t, 0.2) == Approx(0.2576).epsilon(2e-4));
    // Two starts: lead angle 8 degrees 3 minutes (same table); frictionless efficiency is 1.
    t.leadMm = 8;
    CHECK(std::atan(selfLockingFriction(t)) * 180 / pi == Approx(8 + 3 / 60.0).margin(0.01));
    CHECK(threadEfficiency(t, 0) == Approx(1));
}

TEST_CASE("screw: core area, stress area and the core while it is tightened")
{
    const ThreadPair t = trapezoidal(20, 4, .25);
    CHECK(corePulled(t, 1000, 35).demand == Approx(1000 / 188.69).epsilon(1e-4)); // A3 of ISO 2904's d3
    CHECK(stressAreaMm2(t.pitchDiameterMm, t.coreMm) == Approx(220.35).epsilon(1e-4));
    const double metricAreas[][3] = {{5, .8, 14.2}, {8, 1.25, 36.6}, {12, 1.75, 84.3}, {24, 3, 353}}; // ISO 898-1
    for (const auto& m : metricAreas) {
        const ThreadPair bolt = metric(m[0], m[1]);
        CHECK(stressAreaMm2(bolt.pitchDiameterMm, bolt.coreMm) == Approx(m[2]).epsilon(0.004));
    }
    // By hand: 5.2997 MPa pull, T = 2537.28 N mm gives 3.4701 MPa; sqrt(5.2997^2 + 3 * 3.4701^2) = 8.0132.
    CHECK(coreTightened(t, 1000, 0.2, 35).demand == Approx(8.0132).epsilon(2e-4));
}

TEST_CASE("screw: sizes that make no thread are told")
{
    ThreadPair t = trapezoidal(20, 4, .25);
    CHECK(t.valid());
    t.coreMm = 19;
    CHECK_FALSE(t.valid());
    CHECK_FALSE(ThreadPair{}.valid());
}
