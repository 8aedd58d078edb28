// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_normals.h"
#include "core/cut_sweep.h"
#include "core/limb_cuts.h"
#include "core/piece_estimate.h"
#include "core/search_proxy.h"
#include "mesh/hull.h"
#include "mesh/primitives.h"

#include <catch2/catch.hpp>

#include <numbers>

using namespace quoin;
using namespace quoin::core;
using mesh::Mesh;
using mesh::Vec3;

namespace {

const std::vector<Bed> bed200{{"", Bed::Shape::Rectangular, 200, 200, 200, 1}};
constexpr double pi = std::numbers::pi;

CutSketch sketch(const Mesh& m)
{
    return sketchOf(m, mesh::convexHull(m.points).points);
}

} // namespace

TEST_CASE("sweep: sections of a torus, across and along", "[cut_search]")
{
    const double R = 100, r = 20;
    const Mesh ring = mesh::torus(R, r, 192, 48);
    const CutSketch s = sketch(ring);
    // Level: between two circles, R +- sqrt(r2 - z2).
    const CutSweep level(s, {0, 0, 1}, 15);
    for (const SweepLevel& l : level.levels()) {
        const double w = std::sqrt(r * r - l.at * l.at);
        CHECK(l.areaMm2 == Approx(pi * ((R + w) * (R + w) - (R - w) * (R - w))).epsilon(0.03));
        CHECK(l.outlineMm == Approx(2 * pi * 2 * R).epsilon(0.02));
        CHECK(l.below == 1);
        CHECK(l.above == 1);
    }
    // Across: a plane off the middle by more than R - r leaves one arc; nearer both sides are still one, since the
    // ring hangs together on each.
    const CutSweep across(s, {1, 0, 0}, 31);
    CHECK(across.near(0).areaMm2 == Approx(2 * pi * r * r).epsilon(0.03));
    CHECK(across.near(0).below == 1);
    const Mesh two = mesh::joined(ring, mesh::transformed(ring, mesh::Transform::translation({300, 0, 0})));
    const CutSketch s2 = sketch(two);
    const CutSweep both(s2, {0, 1, 0}, 9);
    CHECK(both.near(0).below == 2);
    CHECK(both.near(0).above == 2);
}

TEST_CASE("sweep: parts come and join as the plane rises", "[cut_search]")
{
    // A U: two legs of 100, a foot of 30.
    const Mesh u = mesh::prism({{{0, 0}, {90, 0}, {90, 100}, {60, 100}, {60, 30}, {30, 30}, {30, 100}, {0, 100}}}, 20);
    const CutSketch s = sketch(u);
    const CutSweep up(s, {0, 1, 0}, 8);
    for (const SweepLevel& l : up.levels()) {
        CHECK(l.below == 1);
        CHECK(l.above == (l.at > 30 ? 2 : 1));
        CHECK(l.areaMm2 == Approx(l.at > 30 ? 2 * 30 * 20 : 90 * 20));
    }
    const CutSweep down(s, {0, -1, 0}, 8);
    for (const SweepLevel& l : down.levels())
        CHECK(l.below == (l.at < -30 ? 2 : 1));
}

TEST_CASE("sweep: how far a plane may go", "[cut_search]")
{
    const Mesh bar = mesh::box({0, 0, 0}, {900, 50, 50});
    const CutSketch s = sketch(bar);
    const QuickFit fit(bed200, {0, false});
    const CutSweep along(s, {1, 0, 0}, 9);
    // Lying on a side turned by 45 degrees: (L + 50) / sqrt 2 = 200, L = 232.8; nothing stands there by itself, so
    // only on the cut face, unless there is a side to lie on.
    CHECK(farthestFit(along, false, fit, {}) == Approx(200).margin(1.4));
    const std::vector<Vec3> side{{0, 0, -1}};
    CHECK(farthestFit(along, false, fit, side) == Approx(200 * std::sqrt(2.0) - 50).margin(1.4));
    CHECK(farthestFit(along, true, fit, side) == Approx(900 - (200 * std::sqrt(2.0) - 50)).margin(1.4));
    // Any rotation (core/free_turn): more.
    CHECK(farthestFit(along, false, QuickFit(bed200, {0, true}), side) > 240);
}

TEST_CASE("estimate: boxes and a frame of bars", "[cut_search]")
{
    const PieceEstimator estimator(bed200, {0, false});
    const std::vector<GridFrame> axes{{{Vec3{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, ""}};
    const auto of = [&](const Mesh& m) {
        const CutSketch s = sketch(m);
        mesh::Buffer<Vec3> points = s.outline;
        points.insert(points.end(), s.few.begin(), s.few.end());
        points.insert(points.end(), s.inside.begin(), s.inside.end());
        return estimator.pieces(axes, points);
    };
    CHECK(of(mesh::box({0, 0, 0}, {400, 400, 400})) == 8);
    CHECK(of(mesh::box({0, 0, 0}, {190, 190, 190})) == 1);
    CHECK(of(mesh::box({0, 0, 0}, {600, 150, 150})) == 3);
    // A rod: 272.8 lying aslant (200 sqrt 2 - 10); the table rounds lengths up, so 4 or 5.
    CHECK(of(mesh::box({0, 0, 0}, {1000, 10, 10})) <= 5);
    // Corners of a square of bars: the middle cell of nine is empty.
    const Mesh frame = mesh::prism(
        {{{0, 0}, {600, 0}, {600, 600}, {0, 600}}, {{150, 150}, {150, 450}, {450, 450}, {450, 150}}}, 150, 4);
    CHECK(of(frame) <= 8);
}

TEST_CASE("normals: even directions, the part's own first", "[cut_search]")
{
    CHECK(evenDirections(8).size() == 129);
    for (const Vec3 d : evenDirections(8))
        CHECK(length(d) == Approx(1));
    const Mesh wedge = mesh::prism({{{0, 0}, {200, 0}, {0, 100}}}, 50);
    const std::vector<GridFrame> axes{{{Vec3{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, ""}};
    const auto normals = cutNormals(wedge, axes, {{0, 1, 1}});
    const auto has = [&](Vec3 d, double most) {
        return std::any_of(normals.begin(), normals.end(), [&](const CutNormal& n) {
            return std::abs(dot(n.direction, normalized(d))) > 1 - 1e-9 && n.dislike <= most;
        });
    };
    CHECK(has({1, 2, 0}, 0)); // its sloping face
    CHECK(has({0, 1, 1}, 0)); // the user's
    const Vec3 slope = normalized(Vec3{1, 2, 0});
    CHECK(has(slope + Vec3{1, 0, 0}, 0.5)); // a mitre
    for (std::size_t i = 0; i < normals.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
            CHECK(std::abs(dot(normals[i].direction, normals[j].direction)) < 1 - 1e-9);
}

TEST_CASE("limbs: straight cuts of a bent tube are radial", "[cut_search]")
{
    const double R = 300, r = 15;
    const Mesh ring = mesh::torus(R, r, 192, 24);
    const LimbCuts limbs(ring);
    const auto cuts = limbs.spread(80, 1, 400);
    REQUIRE(cuts.size() > 20);
    for (const LimbCut& c : cuts) {
        const Vec3 m = c.middle;
        // Its middle on the centre circle, its normal along it, its outline the tube's.
        CHECK(std::hypot(m.x, m.y) == Approx(R).margin(0.5));
        CHECK(std::abs(m.z) < 0.5);
        CHECK(std::abs(dot(c.plane.normal, normalized(Vec3{-m.y, m.x, 0}))) > 0.999);
        CHECK(c.aroundMm == Approx(2 * pi * r).epsilon(0.02));
        const auto next = limbs.beside(c, 30);
        REQUIRE(next);
        CHECK(std::abs(dot(next->plane.normal, normalized(Vec3{-next->middle.y, next->middle.x, 0}))) > 0.999);
        CHECK(dot(next->middle - m, c.plane.normal) > 20);
    }
    // A ball is straight only round its middle, and that is longer than is asked for.
    const Mesh ball = mesh::icosphere(50, 3);
    CHECK(LimbCuts(ball).spread(60, 1, 0.95 * 2 * pi * 50).empty());
}

TEST_CASE("proxy: its error is found, and beds shrink by it", "[cut_search]")
{
    const Mesh ball = mesh::icosphere(100, 5);
    const SearchProxy same = searchProxy(ball, 100'000);
    CHECK(same.errorMm == 0);
    const SearchProxy few = searchProxy(ball, 500);
    CHECK(few.mesh.triangles.size() <= 500);
    CHECK(few.errorMm > 0.05);
    CHECK(few.errorMm < 3);
    const auto beds = shrunkBeds(bed200, 0.5);
    CHECK(beds[0].widthMm == 199);
    CHECK(beds[0].depthMm == 199);
    CHECK(beds[0].heightMm == 199);
}
