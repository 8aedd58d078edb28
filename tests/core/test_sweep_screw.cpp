// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/sweep.h"
#include "tests/support/screwed_boxes.h"

#include <catch2/catch.hpp>

#include <chrono>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec3;

namespace {

/// Lower box with a bore, upper box with the stud that goes into it; the way off is up.
struct Pair {
    mesh::Mesh below, above;
    mesh::Sweep turn, pull;
    double travelMm;
};

Pair pairOf(const char* name, double lengthMm, double clearanceMm, double chordMm)
{
    const test::ScrewedBoxes made = test::screwedBoxes(name, lengthMm, clearanceMm, chordMm);
    const double lead = (made.shape.thread.leftHand ? -1 : 1) * made.shape.thread.leadMm();
    return {made.below, made.above, {made.at, {0, 0, 1}, lead}, {{0, 0, 0}, {0, 0, 1}, 0}, lengthMm};
}

/// More than rounding opens at once.
constexpr double fromMm = 2 * mesh::sweepPullMm;

} // namespace

TEST_CASE("sweep: a screw turns out freely, both hands, all starts, both profiles")
{
    for (const char* name :
         {"Printable 40x6", "Printable 40x6LH", "Printable 30x10(P5)", "Tr 40x7", "Tr 60x18(P9)LH"}) {
        INFO(name);
        const Pair p = pairOf(name, 48, 0.3, 0.05);
        const mesh::SweptBody above(p.above, p.turn), below(p.below, p.turn);
        CHECK_FALSE(mesh::firstContact(above, below, fromMm, p.travelMm));
        const double gap = mesh::leastGapBeside(above, below, fromMm, p.travelMm, 5);
        CHECK(gap > 0.1);
        CHECK(gap < 0.5);
    }
}

TEST_CASE("sweep: a screw can't be pulled, nor turned the wrong way or with another lead")
{
    const Pair p = pairOf("Printable 40x6", 48, 0.3, 0.05);
    const mesh::SweptBody above(p.above, p.pull), below(p.below, p.pull);
    const auto pulled = mesh::firstContact(above, below, fromMm, 1e4);
    REQUIRE(pulled);
    // Flanks at 45 degrees, 0.3 mm apart square to them: they meet after 0.3 sqrt 2, less the pitch's own play.
    CHECK(pulled->wayMm > 0.3);
    CHECK(pulled->wayMm < 0.7);
    mesh::Sweep wrong = p.turn;
    wrong.leadMm = -wrong.leadMm;
    CHECK(mesh::firstContact({p.above, wrong}, {p.below, wrong}, fromMm, p.travelMm));
    wrong.leadMm = 1.2 * p.turn.leadMm;
    CHECK(mesh::firstContact({p.above, wrong}, {p.below, wrong}, fromMm, p.travelMm));
}

TEST_CASE("sweep: two hundred thousand triangles with a screw in seconds")
{
    const Pair p = pairOf("Printable 60x6", 60, 0.3, 0.004);
    REQUIRE(p.above.triangles.size() + p.below.triangles.size() > 200'000);
    const auto start = std::chrono::steady_clock::now();
    const mesh::SweptBody above(p.above, p.turn), below(p.below, p.turn);
    CHECK_FALSE(mesh::firstContact(above, below, fromMm, p.travelMm));
    const double gap = mesh::leastGapBeside(above, below, fromMm, p.travelMm, 5);
    const std::chrono::duration<double> seconds = std::chrono::steady_clock::now() - start;
    // The thread's own promise is 0.3 mm; what is told is at least seven tenths of what there is, less the facets'
    // part.
    CHECK(gap > 0.15);
    CHECK(gap < 0.35);
    // What is blocked all along the thread is told as quickly.
    mesh::Sweep wrong = p.turn;
    wrong.leadMm = -wrong.leadMm;
    const auto again = std::chrono::steady_clock::now();
    CHECK(mesh::firstContact({p.above, wrong}, {p.below, wrong}, fromMm, p.travelMm));
    CHECK(mesh::firstContact({p.above, p.pull}, {p.below, p.pull}, fromMm, 1e4));
    const std::chrono::duration<double> blocked = std::chrono::steady_clock::now() - again;
    CHECK(blocked.count() < 20);
    CHECK(seconds.count() < 10); // one second on two cores at leisure
}
