// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/keep_clear.h"
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"

#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

#include <numeric>
#include <random>
#include <stdexcept>

using namespace quoin;
using namespace quoin::core;
using mesh::Mesh;
using mesh::Plane;
using mesh::Vec3;

namespace {

std::vector<mesh::Index> allOf(const Mesh& m)
{
    std::vector<mesh::Index> all(m.triangles.size());
    std::iota(all.begin(), all.end(), 0u);
    return all;
}

KeepClear marked(const Mesh& m)
{
    return {m, allOf(m)};
}

/// One triangle in z = 0 from x = 10 to 20, up to y = 10.
const Mesh single = test::soup({{10, 0, 0}, {20, 0, 0}, {10, 10, 0}}, {{0, 1, 2}});

/// The triangles of a mesh on some side of a plane, all three corners.
template <class Side>
std::vector<mesh::Index> where(const Mesh& m, Side&& side)
{
    std::vector<mesh::Index> out;
    for (std::size_t t = 0; t < m.triangles.size(); ++t)
        if (side(m.corner(t, 0)) && side(m.corner(t, 1)) && side(m.corner(t, 2)))
            out.push_back(static_cast<mesh::Index>(t));
    return out;
}

} // namespace

TEST_CASE("keep clear: a plane through a triangle passes, one that touches it doesn't", "[keep_clear]")
{
    const KeepClear one = marked(single);
    CHECK(one.crossedBy({{1, 0, 0}, 15}));
    CHECK(one.crossedBy({{1, 0, 0}, 10.001}));
    CHECK_FALSE(one.crossedBy({{1, 0, 0}, 10}));
    CHECK_FALSE(one.crossedBy({{1, 0, 0}, 20}));
    CHECK_FALSE(one.crossedBy({{1, 0, 0}, 9}));
    CHECK_FALSE(one.crossedBy({{0, 0, 1}, 0}));
    CHECK(one.crossedBy(mesh::planeThrough({15, 2, 0}, {1, 2, 3})));
    CHECK_FALSE(KeepClear().crossedBy({{1, 0, 0}, 15}));
    const auto place = one.crossing({{1, 0, 0}, 15});
    REQUIRE(place);
    CHECK(place->x == Approx(15));
    CHECK(place->z == 0);
}

TEST_CASE("keep clear: only what lies in the cell counts", "[keep_clear]")
{
    const KeepClear one = marked(single);
    // The hypotenuse is x + y = 20. Above y = 4 the triangle ends at x = 16.
    const HalfSpace high{{{0, 1, 0}, 4}, true}, low{{{0, 1, 0}, 4}, false};
    CHECK(one.crossedBy({{1, 0, 0}, 15}, {high}));
    CHECK_FALSE(one.crossedBy({{1, 0, 0}, 17}, {high}));
    CHECK(one.crossedBy({{1, 0, 0}, 17}, {low}));
    CHECK_FALSE(one.crossedBy({{1, 0, 0}, 15}, {high, {{{1, 0, 0}, 12}, false}}));
    // The cell's own border touches the triangle along its edge.
    CHECK_FALSE(one.crossedBy({{1, 0, 0}, 15}, {{{{0, 1, 0}, 0}, false}}));
    CHECK_FALSE(one.crossedBy({{1, 0, 0}, 15}, {{{{0, 0, 1}, 5}, true}}));
}

TEST_CASE("keep clear: a cut along an edge within a marked place passes it, along its border it doesn't",
          "[keep_clear]")
{
    // Two squares side by side in z = 0, four triangles, parted by x = 10.
    const Mesh strip = test::soup({{0, 0, 0}, {10, 0, 0}, {20, 0, 0}, {0, 10, 0}, {10, 10, 0}, {20, 10, 0}},
                                  {{0, 1, 4}, {0, 4, 3}, {1, 2, 5}, {1, 5, 4}});
    CHECK(marked(strip).crossedBy({{1, 0, 0}, 10}));
    CHECK(marked(strip).crossedBy({{-1, 0, 0}, -10}));
    const KeepClear left(strip, {0, 1});
    CHECK_FALSE(left.crossedBy({{1, 0, 0}, 10}));
    // The diagonal of the left square.
    CHECK(left.crossedBy(mesh::planeThrough({0, 0, 0}, {1, -1, 0})));
    CHECK_FALSE(KeepClear(strip, {0}).crossedBy(mesh::planeThrough({0, 0, 0}, {1, -1, 0})));
    // Triangles that meet at a corner only may be parted there.
    CHECK_FALSE(KeepClear(strip, {1, 2}).crossedBy({{1, 0, 0}, 10}));
}

TEST_CASE("keep clear: faces in the plane go where the cut puts them", "[keep_clear]")
{
    // A cut level with the top of a box parts nothing: the top belongs below, as its sides do.
    const Mesh box = mesh::box({0, 0, 0}, {10, 10, 10});
    CHECK_FALSE(marked(box).crossedBy({{0, 0, 1}, 10}));
    CHECK_FALSE(marked(box).crossedBy({{0, 0, 1}, 0}));
    // A step (treads z = 10 and 20, riser x = 10): level with its tread, the tread stays below and the riser is above.
    const Mesh step = mesh::transformed(mesh::prism({{{0, 0}, {20, 0}, {20, 10}, {10, 10}, {10, 20}, {0, 20}}}, 30),
                                        mesh::Transform::fromColumns({1, 0, 0}, {0, 0, 1}, {0, -1, 0}));
    const auto tread = where(step, [](Vec3 p) { return p.z == 10; });
    const auto riser = where(step, [](Vec3 p) { return p.x == 10; });
    REQUIRE(tread.size() == 2);
    REQUIRE(riser.size() == 2);
    std::vector<mesh::Index> both = tread;
    both.insert(both.end(), riser.begin(), riser.end());
    CHECK(KeepClear(step, both).crossedBy({{0, 0, 1}, 10}));
    CHECK_FALSE(KeepClear(step, tread).crossedBy({{0, 0, 1}, 10}));
    CHECK_FALSE(KeepClear(step, riser).crossedBy({{0, 0, 1}, 10}));
}

TEST_CASE("keep clear: free offsets are what marked triangles leave", "[keep_clear]")
{
    const Mesh three = test::together({single, test::moved(single, {5, 40, 0}), test::moved(single, {30, 0, 0})});
    const KeepClear all = marked(three);
    const auto free = all.freeOffsets({1, 0, 0}, 0, 100);
    REQUIRE(free.size() == 3);
    CHECK(free[0].from == 0);
    CHECK(free[0].to == Approx(10));
    CHECK(free[1].from == Approx(25));
    CHECK(free[1].to == Approx(40));
    CHECK(free[2].from == Approx(50));
    CHECK(free[2].to == 100);
    // The middle one lies outside the cell.
    const auto near = all.freeOffsets({1, 0, 0}, 12, 45, {{{{0, 1, 0}, 30}, false}});
    REQUIRE(near.size() == 1);
    CHECK(near[0].from == Approx(20));
    CHECK(near[0].to == Approx(40));
    // Along (3, 4, 0) / 5 the first one goes from 6 (its corner at 10, 0) to 14 (10, 10).
    const auto slanted = marked(single).freeOffsets({0.6, 0.8, 0}, 0, 20);
    REQUIRE(slanted.size() == 2);
    CHECK(slanted[0].to == Approx(6));
    CHECK(slanted[1].from == Approx(14));
    CHECK(KeepClear().freeOffsets({1, 0, 0}, 0, 1).size() == 1);
}

TEST_CASE("keep clear: scale, area, patches, and numbers that no triangle has", "[keep_clear]")
{
    const Mesh ball = mesh::icosphere(10, 3);
    const KeepClear half(ball, where(ball, [](Vec3 p) { return p.z >= 0; }), 5);
    CHECK(half.crossedBy({{0, 0, 1}, 49}));
    CHECK_FALSE(half.crossedBy({{0, 0, 1}, -0.1}));
    CHECK(half.patches().size() == 1);
    CHECK(KeepClear(single, {0, 0, 0}, 2).areaMm2() == Approx(200));
    CHECK(KeepClear(single, {0, 0, 0}, 2).size() == 1);
    CHECK(marked(test::together({single, test::moved(single, {30, 0, 0})})).patches().size() == 2);
    CHECK_THROWS_AS(KeepClear(single, {1}), std::out_of_range);
}

TEST_CASE("keep clear: crossing, free offsets and the cut itself agree", "[keep_clear]")
{
    std::mt19937 random(11);
    std::uniform_real_distribution<double> unit(-1, 1);
    const Mesh ring = test::ring(100, 30, 48, 24);
    int passed = 0, clear = 0;
    for (int round = 0; round < 60; ++round) {
        std::vector<mesh::Index> some;
        const Vec3 at{100 * unit(random), 100 * unit(random), 30 * unit(random)};
        for (std::size_t t = 0; t < ring.triangles.size(); ++t)
            if (length(ring.corner(t, 0) - at) < 40)
                some.push_back(static_cast<mesh::Index>(t));
        const KeepClear place(ring, some);
        const Plane border = mesh::planeAt({unit(random), unit(random), unit(random)}, 20 * unit(random));
        const Plane plane = mesh::planeAt({unit(random), unit(random), unit(random)}, 80 * unit(random));
        const std::vector<HalfSpace> cell{{border, round % 2 == 0}};
        const bool crossed = place.crossedBy(plane, cell);
        // By the intervals.
        const auto free = place.freeOffsets(plane.normal, -200, 200, cell);
        CHECK(crossed == std::none_of(free.begin(), free.end(), [&](const OffsetRange& f) {
                  return f.from <= plane.offset && plane.offset <= f.to;
              }));
        // By cutting: triangles of the marked mesh's pieces that end up on both sides, corner by corner.
        const auto halves = mesh::cutByPlane(ring, border);
        REQUIRE(halves);
        bool parted = false;
        for (const mesh::Index t : some) {
            bool above = false, below = false;
            // Points spread over the triangle, in the cell.
            for (int i = 0; i <= 40; ++i)
                for (int k = 0; k + i <= 40; ++k) {
                    const Vec3 p = ring.corner(t, 0) + (i / 40.0) * (ring.corner(t, 1) - ring.corner(t, 0)) +
                                   (k / 40.0) * (ring.corner(t, 2) - ring.corner(t, 0));
                    if ((border.distance(p) > 0) != (round % 2 == 0))
                        continue;
                    (plane.distance(p) > 0 ? above : below) = true;
                }
            parted = parted || (above && below);
        }
        if (parted)
            CHECK(crossed);
        (crossed ? passed : clear) += 1;
    }
    CHECK(passed > 5);
    CHECK(clear > 5);
}
