// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/hardware.h"

#include "core/iso286.h"
#include "core/thread.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace quoin::core;

namespace {

constexpr double allSizes[]{3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24};

} // namespace

TEST_CASE("hardware: hexagon nuts agree with the tolerances that make them")
{
    for (const double d : allSizes) {
        CAPTURE(d);
        const HexagonNut nut = hexagonNut(d).value();
        // Product grades A and B, ISO 4759-1 (from memory): e min = 1.13 s min.
        CHECK(nut.e == Approx(1.13 * nut.sMin).margin(0.011));
        // Grade A, to M16: s has h13 (from memory); the tolerance itself by ISO 286-1.
        if (d <= 16)
            CHECK(nut.s - nut.sMin == Approx(isoToleranceMm(13, nut.s).value()).margin(0.0051));
        CHECK(nut.m < d);
        CHECK(nut.m > 0.79 * d);
    }
    // A public table citing ISO 4032 (trojansf.co.uk/standards/iso-4032).
    CHECK(hexagonNut(5)->m == 4.7);
    CHECK(hexagonNut(8)->m == 6.8);
    CHECK(hexagonNut(12)->m == 10.8);
    CHECK(hexagonNut(16)->s == 24);
    CHECK(hexagonNut(20)->e == 32.95);
    CHECK(hexagonNut(22)->s == 34);
    CHECK_FALSE(hexagonNut(7).has_value());
}

TEST_CASE("hardware: socket head cap screws follow the rules of their series")
{
    for (const double d : boltDiametersMm()) {
        CAPTURE(d);
        const SocketHeadScrew screw = socketHeadScrew(d).value();
        CHECK(screw.k == d); // ISO 4762: k max = d
        CHECK(screw.b == 2 * d + 12);
        CHECK(screw.dkKnurled > screw.dk);
        CHECK(screw.dk >= 1.5 * d);
        CHECK(screw.dkKnurled < plainWasher(d)->d2);
        CHECK(std::count(screwLengthsMm().begin(), screwLengthsMm().end(), screw.shortestMm) == 1);
        CHECK(std::count(screwLengthsMm().begin(), screwLengthsMm().end(), screw.longestMm) == 1);
        CHECK(metricThread(d).has_value());
    }
    // A public table citing ISO 4762 (geartoolkit.com/standard/iso/iso-4762): dk max with knurl, s, b.
    CHECK(socketHeadScrew(3)->dkKnurled == 5.68);
    CHECK(socketHeadScrew(8)->dkKnurled == 13.27);
    CHECK(socketHeadScrew(24)->dkKnurled == 36.39);
    CHECK(socketHeadScrew(10)->s == 8);
    CHECK(socketHeadScrew(20)->s == 17);
    CHECK_FALSE(socketHeadScrew(18).has_value());
    CHECK_FALSE(socketHeadScrew(22).has_value());
    CHECK(std::is_sorted(screwLengthsMm().begin(), screwLengthsMm().end()));
}

TEST_CASE("hardware: threads of short screws reach to three pitches under the head, of long ones they have length b")
{
    const SocketHeadScrew m8 = socketHeadScrew(8).value();
    CHECK(m8.threadFromMm(25, 1.25) == 3.75);
    CHECK(m8.threadFromMm(80, 1.25) == 80 - 28);
}

TEST_CASE("hardware: clearance holes and washers belong together")
{
    for (const double d : allSizes) {
        CAPTURE(d);
        const ClearanceHole hole = clearanceHole(d).value();
        CHECK(hole.fine > d);
        CHECK(hole.medium > hole.fine);
        CHECK(hole.coarse > hole.medium);
        // ISO 7089: the hole of a washer of grade A is the fine series of ISO 273 (from memory).
        const PlainWasher washer = plainWasher(d).value();
        CHECK(washer.d1 == hole.fine);
        CHECK(washer.d2 > hole.coarse);
        CHECK(washer.d2 > hexagonNut(d)->s);
    }
    // A public table citing ISO 273 (engineeringhardware.com).
    CHECK(clearanceHole(6)->medium == 6.6);
    CHECK(clearanceHole(8)->medium == 9);
    CHECK(clearanceHole(10)->medium == 11);
    CHECK(clearanceHole(16)->coarse == 18.5);
}

TEST_CASE("hardware: inserts have a wall round their thread")
{
    for (const double d : {3.0, 4.0, 5.0, 6.0, 8.0, 10.0}) {
        CHECK(heatSetInsert(d)->boreMm > d + 0.9);
        CHECK(heatSetInsert(d)->lengthMm > d);
    }
    CHECK_FALSE(heatSetInsert(12).has_value());
}
