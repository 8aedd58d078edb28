// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/nest.h"
#include "core/nest_no_fit.h"
#include "core/nest_outline.h"
#include "mesh/primitives.h"
#include "mesh/region.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>
#include <random>

using namespace quoin;
using namespace quoin::core;
using mesh::Loop;
using mesh::Region;
using mesh::Vec2;

namespace {

Region rectangle(double w, double h)
{
    return {{{0, 0}, {w, 0}, {w, h}, {0, h}}};
}

Bed bedOf(double w, double d)
{
    return {"test", Bed::Shape::Rectangular, w, d, 100, 1};
}

Bed roundBed(double diameter)
{
    return {"test", Bed::Shape::Round, diameter, diameter, 100, 1};
}

std::vector<Region> placedOn(const std::vector<Region>& outlines, const std::vector<NestItem>& items,
                             const NestPlate& plate)
{
    std::vector<Region> out;
    for (const NestPlace& p : plate.places)
        out.push_back(shifted(turned(outlines[items[p.item].outline], p.turn), p.at));
    return out;
}

/// Rectangles of an instance onto a plate of a size, as they are; how many plates that takes.
Nesting nestRectangles(const std::vector<std::pair<int, int>>& sizes, double w, double h, NestTurns turns, long work)
{
    std::vector<Region> outlines;
    std::vector<NestItem> items;
    for (const auto& [a, b] : sizes) {
        items.push_back({outlines.size(), 0, false});
        outlines.push_back(rectangle(a, b));
    }
    NestRules rules;
    rules.marginMm = rules.gapMm = 0;
    rules.turns = turns;
    rules.work = work;
    const auto nesting = nest(outlines, items, bedOf(w, h), rules);
    REQUIRE(nesting);
    REQUIRE(nesting->unplaced.empty());
    std::size_t count = 0;
    for (const NestPlate& plate : nesting->plates) {
        const NestCheck check = checkNest(placedOn(outlines, items, plate), bedOf(w, h));
        CHECK(check.overlapMm2 == 0);
        CHECK(check.leastEdgeMm > -0.0015);
        count += plate.places.size();
    }
    CHECK(count == sizes.size());
    CHECK(nesting->plates.size() >= nesting->leastPlates);
    return *nesting;
}

/// Hopper and Turton, "An empirical investigation of meta-heuristic and heuristic algorithms for a 2D packing problem",
/// EJOR 128, 2001: instance C1P1, strip of width 20, no turning; optimum height 20 (total area 400).
const std::vector<std::pair<int, int>> hopperTurtonC1P1{{2, 12}, {7, 12}, {8, 6}, {3, 6}, {3, 5}, {5, 5},
                                                        {3, 12}, {3, 7},  {5, 7}, {2, 6}, {3, 2}, {4, 2},
                                                        {3, 4},  {4, 4},  {9, 2}, {11, 2}};

} // namespace

TEST_CASE("nest: Hopper and Turton C1P1, the least height reached")
{
    int height = 20;
    while (height < 30 && nestRectangles(hopperTurtonC1P1, 20, height, NestTurns::None, 4'000'000).plates.size() > 1)
        ++height;
    CHECK(height == 20);
}

TEST_CASE("nest: a rectangle of nine squares")
{
    // Moron 1925: 33 x 32 cut into squares, no two alike.
    std::vector<std::pair<int, int>> squares;
    for (const int s : {18, 15, 14, 10, 9, 8, 7, 4, 1})
        squares.emplace_back(s, s);
    CHECK(nestRectangles(squares, 33, 32, NestTurns::None, 2'000'000).plates.size() == 1);
    CHECK(nestRectangles(squares, 33, 31.9, NestTurns::None, 100'000).plates.size() == 2);
}

TEST_CASE("nest: a square of twenty-one squares")
{
    // Duijvestijn 1978: side 112, the least perfect squared square.
    std::vector<std::pair<int, int>> squares;
    for (const int s : {50, 35, 27, 8, 19, 15, 17, 11, 6, 24, 29, 25, 9, 2, 7, 18, 16, 42, 4, 37, 33})
        squares.emplace_back(s, s);
    int side = 112;
    while (side < 140 && nestRectangles(squares, 112, side, NestTurns::None, 400'000).plates.size() > 1)
        ++side;
    // 112 fills it; the search gets within a tenth of that with so little work.
    CHECK(side <= 124);
}

TEST_CASE("nest: no-fit polygons tell overlap from touching, in whole numbers")
{
    const NestShape square = nestShape(rectangle(10, 10), 0, 0, 0);
    const NoFit no = noFit(square, square);
    CHECK(no.overlapsAt({0, 0}));
    CHECK(no.overlapsAt({9999, 9999}));
    CHECK_FALSE(no.overlapsAt({10000, 0})); // they touch
    CHECK_FALSE(no.overlapsAt({0, -10000}));
    // An L: two squares fit into each other's notch; the Minkowski sum as area is closed form: an L of side 20 with a
    // notch of 10, and the square turned over: 30 x 30 less a corner of 10 x 10 that the notch keeps open.
    const Region l{{{0, 0}, {20, 0}, {20, 10}, {10, 10}, {10, 20}, {0, 20}}};
    const NoFit notch = noFit(nestShape(l, 0, 0, 0), square);
    CHECK_FALSE(notch.overlapsAt({10000, 10000}));
    CHECK(notch.overlapsAt({9999, 9999}));
    CHECK(notch.overlapsAt({9999, 10000}));
    double twice = 0;
    for (const NestLoop& loop : notch.outline)
        for (std::size_t i = 0; i < loop.size(); ++i)
            twice += static_cast<double>(cross(loop[i], loop[(i + 1) % loop.size()]));
    CHECK(twice / 2 == Approx((30.0 * 30.0 - 10.0 * 10.0) * 1e6));
}

TEST_CASE("nest: random polygons overlap where an independent clip says so")
{
    // Clipped areas (the polygon library's intersection) against the no-fit polygon's answer.
    std::mt19937_64 random(7);
    const auto some = [&](double most) { return most * static_cast<double>(random() % 1000) / 1000; };
    const auto star = [&] { // not convex
        Region r{{}};
        for (int k = 0; k < 9; ++k) {
            const double a = 2 * std::numbers::pi * k / 9, radius = 10 + some(30);
            r[0].push_back({std::round(radius * std::cos(a)), std::round(radius * std::sin(a))});
        }
        return r;
    };
    int overlapping = 0;
    for (int n = 0; n < 200; ++n) {
        const Region a = star(), b = star();
        const NoFit no = noFit(nestShape(a, 0, 0, 0), nestShape(b, 0, 0, 0));
        const NestPoint at{static_cast<std::int64_t>(some(100)) * 1000 - 50000,
                           static_cast<std::int64_t>(some(100)) * 1000 - 50000};
        const double common = mesh::area(mesh::intersection(a, shifted(b, placeOf(at))));
        INFO(n << ": " << common);
        if (common > 1e-3 || common == 0)
            CHECK(no.overlapsAt(at) == (common > 1e-3));
        overlapping += common > 0 ? 1 : 0;
    }
    CHECK(overlapping > 50);
    CHECK(overlapping < 180);
}

TEST_CASE("nest: shadows of solids")
{
    // A ring lying flat: an annulus, pi (R^2 - r^2) in the limit; area of regular polygons in closed form.
    const Region ring = shadowOf(test::ring(30, 10, 96, 24));
    REQUIRE(ring.size() == 2);
    const double factor = 96 / (2 * std::numbers::pi) * std::sin(2 * std::numbers::pi / 96);
    CHECK(mesh::area(ring) == Approx(factor * std::numbers::pi * (40.0 * 40.0 - 20.0 * 20.0)).epsilon(1e-6));
    // A ball: the silhouette of the octahedron halved five times is nearly a circle.
    const Region ball = shadowOf(test::sphere({5, 6, 7}, 10, 5));
    REQUIRE(ball.size() == 1);
    CHECK(mesh::area(ball) == Approx(100 * std::numbers::pi).epsilon(0.002));
    // Two boxes one over the other in a cross: their union.
    const auto cross =
        test::together({test::cuboid({-30, -5, 0}, {30, 5, 10}), test::cuboid({-5, -20, 10}, {5, 20, 20})});
    CHECK(mesh::area(shadowOf(cross)) == Approx(60 * 10 + 40 * 10 - 100));
    CHECK(shadowOf({}).empty());
    // A triangle of the top is missing: the bottom still covers it all.
    CHECK(mesh::area(shadowOf(test::without(test::cube({0, 0, 0}, 10), {2}))) == Approx(100));
}

TEST_CASE("nest: an outline with fewer corners holds the first")
{
    Region blob{{}};
    for (int k = 0; k < 400; ++k) {
        const double a = 2 * std::numbers::pi * k / 400, r = 50 + 4 * std::sin(7 * a) + std::sin(31 * a);
        blob[0].push_back({r * std::cos(a), r * std::sin(a)});
    }
    const Region few = roundedUp(blob, 0.6);
    CHECK(few[0].size() < 200);
    CHECK(mesh::area(mesh::difference(blob, few)) == 0);
    CHECK(mesh::area(mesh::difference(few, mesh::offset(blob, 0.7))) == 0);
    // What nesting reckons with holds it with half the gap.
    const NestShape shape = nestShape(blob, 0.3, 4, 0.6);
    Region parts;
    for (const NestLoop& loop : shape.parts) {
        Loop l;
        for (const NestPoint p : loop)
            l.push_back(placeOf(p));
        parts = mesh::unionOf(parts, {l});
    }
    double least = 1e9;
    const Region blobTurned = turned(blob, 0.3);
    for (const Vec2 p : blobTurned[0])
        least = std::min(least, mesh::distanceToOutline(parts, p));
    CHECK(least >= 4);
    CHECK(mesh::area(mesh::difference(blobTurned, parts)) == 0);
    CHECK(mesh::area(parts) < mesh::area(mesh::offset(blob, 4.7)) * 1.02);
}

TEST_CASE("nest: pieces of many shapes keep their gap and the margin, on square and round plates")
{
    std::mt19937_64 random(3);
    const auto some = [&](double low, double high) {
        return low + (high - low) * static_cast<double>(random() % 1000) / 1000;
    };
    std::vector<Region> outlines;
    std::vector<NestItem> items;
    for (int n = 0; n < 16; ++n) {
        Region r{{}};
        const int corners = 5 + static_cast<int>(random() % 10);
        for (int k = 0; k < corners; ++k) {
            const double a = 2 * std::numbers::pi * k / corners, radius = some(25, 45);
            r[0].push_back({radius * std::cos(a), radius * std::sin(a)});
        }
        outlines.push_back(std::move(r));
        items.push_back({outlines.size() - 1, 0, n == 4});
    }
    for (const Bed& bed : {bedOf(300, 220), roundBed(280)}) {
        NestRules rules;
        rules.work = 60'000;
        const auto nesting = nest(outlines, items, bed, rules);
        REQUIRE(nesting);
        CHECK(nesting->unplaced.empty());
        std::vector<int> times(items.size(), 0);
        for (const NestPlate& plate : nesting->plates) {
            const auto placed = placedOn(outlines, items, plate);
            const NestCheck check = checkNest(placed, bed);
            CHECK(check.overlapMm2 == 0);
            CHECK(check.leastGapMm >= rules.gapMm);
            CHECK(check.leastEdgeMm >= rules.marginMm - 0.002);
            for (const NestPlace& p : plate.places) {
                ++times[p.item];
                CHECK((p.item != 4 || plate.places.size() == 1));
            }
        }
        CHECK(std::all_of(times.begin(), times.end(), [](int t) { return t == 1; }));
        CHECK(nesting->plates.size() >= nesting->leastPlates);
        CHECK(nesting->plates.size() <= 4);
        const auto again = nest(outlines, items, bed, rules);
        REQUIRE(again);
        CHECK(again->work == nesting->work);
        CHECK(again->plates.back().places.front().at == nesting->plates.back().places.front().at);
    }
}

TEST_CASE("nest: discs on a round plate")
{
    // Seven circles of a third of its radius fit a circle (closed form: one in the middle and six round it, touching).
    Region disc{{}};
    for (int k = 0; k < 48; ++k)
        disc[0].push_back({30 * std::cos(2 * std::numbers::pi * k / 48), 30 * std::sin(2 * std::numbers::pi * k / 48)});
    NestRules rules;
    rules.marginMm = 0;
    rules.gapMm = 0;
    rules.turns = NestTurns::None;
    rules.thinMm = 0.05;
    std::vector<NestItem> items(7, NestItem{});
    CHECK(nest({disc}, items, roundBed(186), rules)->plates.size() <= 2);
    CHECK(nest({disc}, items, roundBed(179), rules)->plates.size() >= 2);
    CHECK(nest({disc}, std::vector<NestItem>(1), roundBed(59), rules)->unplaced.size() == 1);
    CHECK(nest({disc}, std::vector<NestItem>(1), roundBed(60), rules)->plates.size() == 1);
}

TEST_CASE("nest: a piece as large as the plate fits, one larger does not, holes hold others")
{
    NestRules rules;
    rules.marginMm = 5;
    CHECK(nest({rectangle(290, 290)}, {{}}, bedOf(300, 300), rules)->plates.size() == 1);
    CHECK(nest({rectangle(290.01, 290)}, {{}}, bedOf(300, 300), rules)->unplaced.size() == 1);
    CHECK(fitsAlone(rectangle(100, 290), bedOf(300, 110), 5));
    CHECK_FALSE(fitsAlone(rectangle(100, 291), bedOf(300, 110), 5));
    // A bar fits along the diagonal of the drawing only when it is turned along itself first.
    CHECK(fitsAlone(turned(rectangle(280, 20), 0.5), bedOf(300, 40), 5));
    CHECK_FALSE(fitsAlone(turned(rectangle(280, 20), 0.5), bedOf(300, 40), 5, NestTurns::Quarters));
    const Region frame{{{0, 0}, {200, 0}, {200, 200}, {0, 200}}, {{30, 30}, {30, 170}, {170, 170}, {170, 30}}};
    CHECK(nest({frame, rectangle(100, 100)}, {{0, 0, false}, {1, 0, false}}, bedOf(220, 220), rules)->plates.size() ==
          1);
    CHECK(nest({frame, rectangle(125, 125)}, {{0, 0, false}, {1, 0, false}}, bedOf(220, 220), rules)->plates.size() ==
          2);
    CHECK_FALSE(nest({Region{}}, {{}}, bedOf(220, 220), rules));
    // Hours that may not add up.
    rules.mostLoad = 10;
    const auto hours =
        nest({rectangle(20, 20)}, std::vector<NestItem>(5, NestItem{0, 4, false}), bedOf(300, 300), rules);
    CHECK(hours->plates.size() == 3);
    CHECK(hours->leastPlates == 2);
}
