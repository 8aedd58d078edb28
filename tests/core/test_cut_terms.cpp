// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_judge.h"
#include "core/cut_terms.h"
#include "mesh/mass.h"
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace quoin;
using namespace quoin::core;
using mesh::Mesh;
using mesh::Plane;
using mesh::Transform;
using mesh::Vec3;

namespace {

const std::vector<Bed> bed200{{"", Bed::Shape::Rectangular, 200, 200, 200, 1}};

CutTerms judged(const CutJudge& judge, const Mesh& cell, const Plane& plane)
{
    const auto section = mesh::sectionByPlane(cell, plane);
    REQUIRE(section);
    return judge.ofFace(cell, plane, *section);
}

/// A round block with a round hole from above.
Mesh pot(double holeMm, double deepMm)
{
    return mesh::revolved({{0, 0}, {100, 0}, {100, 200}, {holeMm, 200}, {holeMm, 200 - deepMm}, {0, 200 - deepMm}}, 96);
}

} // namespace

TEST_CASE("cut terms: weights as people type them", "[cut_terms]")
{
    const CutWeights standard;
    const auto some = weightsFromText("seams=2, area = 0", standard);
    REQUIRE(some);
    CHECK(some->seams == 2);
    CHECK(some->area == 0);
    CHECK(some->room == standard.room);
    CHECK(*weightsFromText(weightsText(*some), {}) == *some);
    CHECK(*weightsFromText("", *some) == *some);
    for (const char* bad : {"seams", "seams=", "seams=x", "seams=-1", "seams=nan", "seams=1,seams=2", "colour=1",
                            "seams=1001", "seams=1 2", "=1", "seams=1,,area=2"}) {
        INFO(bad);
        const auto refused = weightsFromText(bad, standard);
        REQUIRE_FALSE(refused);
        CHECK(refused.problem().reason == Reason::BadArgument);
        CHECK(refused.problem().remedy.find("slivers") != std::string::npos);
    }
}

TEST_CASE("cut terms: preferences by name, each weighing its own matter most", "[cut_terms]")
{
    for (const CutPreference p : cutPreferences()) {
        CHECK(*preferenceFromText(preferenceName(p)) == p);
        CHECK(std::string(preferenceHelp(p)).size() > 10);
    }
    CHECK(*preferenceFromText("Hidden-Seams") == CutPreference::HiddenSeams);
    CHECK(preferenceFromText("prettiest").problem().remedy.find("least support") != std::string::npos);
    const CutWeights few = weightsFor(CutPreference::FewestPieces);
    CHECK(weightsFor(CutPreference::HiddenSeams).seams > 2 * few.seams);
    CHECK(weightsFor(CutPreference::Strongest).strength > 2 * few.strength);
    CHECK(weightsFor(CutPreference::LeastSupport).support > 2 * few.support);
    CutTerms terms;
    terms.seams = 2;
    terms.area = 1;
    CHECK(weighed(terms, few) == Approx(2 * few.seams + few.area));
    CutTerms sum = terms;
    sum += terms;
    CHECK(sum.seams == 4);
    CHECK(sum.area == 2);
}

TEST_CASE("seam view: the bottom of a round hole sees the cone of its mouth", "[cut_terms]")
{
    // From the middle of the bottom, in a hole of radius r and depth h, the mouth fills (1 - cos a) / 2 of the sphere,
    // tan a = r / h; a wall sees half of it. Solid angle of a cone: 2 pi (1 - cos a).
    for (const double deep : {40.0, 80.0, 160.0}) {
        const SeamView view(pot(60, deep), {0, 0, 0});
        const double a = std::atan(60 / deep);
        CHECK(view.seen({0, 0, 200 - deep}, {0, 0, 1}) == Approx(1 - std::cos(a)).margin(0.05));
    }
    const SeamView view(mesh::icosphere(100, 4), {0, 0, 1});
    CHECK(view.seen({100, 0, 0}, {1, 0, 0}) == Approx(1).margin(0.05));
    CHECK(view.seen({0, 0, 100}, {0, 0, 1}) == 1);
    // From below the weight is 1 + cos of the angle to straight up, one half on average, against 3/4 for all.
    CHECK(view.seen({0, 0, -100}, {0, 0, -1}) == Approx(2.0 / 3).margin(0.06));
    CHECK(view.seen({0, 0, 0}, {1, 0, 0}) == 0);
    // So finely meshed that it is drawn more coarsely: the same to a hair.
    const SeamView fine(mesh::icosphere(100, 7), {0, 0, 1});
    for (int i = 0; i < 12; ++i) {
        const double a = 0.5 * i, z = std::cos(0.26 * i);
        const Vec3 n{std::sqrt(1 - z * z) * std::cos(a), std::sqrt(1 - z * z) * std::sin(a), z};
        CHECK(fine.seen(100 * n, n) == Approx(view.seen(100 * n, n)).margin(0.08));
        CHECK(fine.seen(92 * n, n) == 0);
    }
    CHECK(view.seen({90, 0, 0}, {1, 0, 0}) == 0);
}

TEST_CASE("cut terms: a seam counts by its length, and not where nobody sees it", "[cut_terms]")
{
    const Mesh block = mesh::box({0, 0, 0}, {100, 100, 400});
    const CutJudge judge(block, bed200, 0);
    const CutTerms level = judged(judge, block, mesh::planeAt({0, 0, 1}, 200));
    CHECK(level.seams == Approx(400.0 / 800).margin(0.03));
    CHECK(level.area == Approx(0.25));
    CHECK(level.slivers < 0.02); // corners where an opened outline is round
    CHECK(level.room == 0);
    // In a hollow the same seam runs round inside as well, unseen.
    Mesh hollow = mesh::box({-50, -50, 0}, {50, 50, 400});
    Mesh hole = mesh::box({-30, -30, 20}, {30, 30, 380});
    for (mesh::Triangle& t : hole.triangles)
        std::swap(t[1], t[2]);
    hollow = mesh::joined(hollow, hole);
    const CutJudge other(hollow, bed200, 0);
    CHECK(judged(other, hollow, mesh::planeAt({0, 0, 1}, 200)).seams == Approx(400.0 / 800).margin(0.03));
    // Half of a block that is cut already: the seam along the first cut is inside the whole, and hidden.
    const auto halves = mesh::cutByPlane(block, mesh::planeAt({1, 0, 0}, 50));
    REQUIRE(halves);
    CHECK(judged(judge, halves->below, mesh::planeAt({0, 0, 1}, 200)).seams == Approx(200.0 / 800).margin(0.02));
    // Lying, a bar's seam is seen above and at the sides, and two thirds as well from below (as above).
    const Mesh bar = mesh::box({0, 0, 0}, {400, 100, 100});
    CHECK(judged(CutJudge(bar, bed200, 0), bar, mesh::planeAt({1, 0, 0}, 200)).seams ==
          Approx((300 + 100 * 2 / 3.0) / 800).margin(0.02));
}

TEST_CASE("cut terms: feather edges and thin places are slivers", "[cut_terms]")
{
    const Mesh block = mesh::box({0, 0, 0}, {100, 100, 400});
    const CutJudge judge(block, bed200, 0);
    const double straight = judged(judge, block, mesh::planeAt({0, 0, 1}, 200)).slivers;
    const double oblique = judged(judge, block, mesh::planeThrough({50, 50, 200}, {1, 0, 0.35})).slivers;
    CHECK(judged(judge, block, mesh::planeThrough({50, 50, 200}, {1, 0, 1})).slivers == Approx(straight).margin(0.02));
    CHECK(oblique > straight + 0.1);
    // A plate of 2 mm is cut off: thin all over. (1 - 2 / 6) of the face over 6 mm is the outline's length and more.
    CHECK(judged(judge, block, mesh::planeAt({0, 0, 1}, 398)).slivers == 1);
    CHECK(judged(judge, block, mesh::planeAt({0, 0, 1}, 393)).slivers == Approx(straight).margin(1e-6));
    // A fin of 8 mm takes no bore with its walls of 10.8 mm.
    const Mesh fin = mesh::box({0, 0, 0}, {8, 100, 400});
    CHECK(judged(CutJudge(fin, bed200, 0), fin, mesh::planeAt({0, 0, 1}, 200)).slivers == 1);
}

TEST_CASE("cut terms: strain at the root of a bar is that of a cantilever", "[cut_terms]")
{
    // A bar of 400 x 40 x 40 along x with a foot at its end. At x = 0: M = w L2 / 2, W = b h2 / 6; PLA, twice its
    // weight.
    Mesh bar = mesh::box({-60, -20, -20}, {400, 20, 20});
    for (Vec3& p : bar.points)
        if (p.x < 0 && p.z < 0)
            p.z = -40;
    JudgeOptions options;
    options.load.safetyLimit = 3;
    const CutJudge judge(bar, bed200, 0, options);
    const double strain =
        judged(judge, mesh::box({0, -20, -20}, {400, 20, 20}), mesh::planeAt({1, 0, 0}, 0.001)).strength;
    CHECK(strain > 0.05);
    // Half as far out: a quarter of the moment, half of the square root.
    const Mesh rest = mesh::box({0, -20, -20}, {400, 20, 20});
    CHECK(judged(judge, rest, mesh::planeAt({1, 0, 0}, 200)).strength == Approx(strain / 2).epsilon(0.001));
    options.load.dynamicFactor = 8;
    CHECK(judged(CutJudge(bar, bed200, 0, options), rest, mesh::planeAt({1, 0, 0}, 200)).strength ==
          Approx(strain).epsilon(0.001));
}

TEST_CASE("cut terms: room for joints, on the face and in depth", "[cut_terms]")
{
    const Mesh block = mesh::box({0, 0, 0}, {60, 60, 300});
    JudgeOptions options;
    const CutJudge judge(block, bed200, 0, options);
    CHECK(judged(judge, block, mesh::planeAt({0, 0, 1}, 150)).room == 0);
    // Two diameters and a wall are 14.4 mm deep: 7.2 mm from the end half of that.
    CHECK(judged(judge, block, mesh::planeAt({0, 0, 1}, 292.8)).room == Approx(0.5));
    const Mesh thin = mesh::box({0, 0, 0}, {5.4, 100, 300});
    CHECK(judged(CutJudge(thin, bed200, 0), thin, mesh::planeAt({0, 0, 1}, 150)).room == Approx(0.75).margin(0.02));
    options.joints.wanted = false;
    CHECK(judged(CutJudge(thin, bed200, 0, options), thin, mesh::planeAt({0, 0, 1}, 150)).room == 0);
}

TEST_CASE("cut terms: volumes and centres of the two sides are those of the cut pieces", "[cut_terms]")
{
    const Mesh ring = mesh::transformed(mesh::torus(150, 60, 48, 24), Transform::translation({900, 20, -400}));
    for (const Plane& plane : {mesh::planeThrough({920, 0, -390}, {0.3, 1, 0.2}),
                               mesh::planeThrough({900, 20, -400}, {0, 0, 1}), mesh::planeAt({0, 0, 1}, 5000)}) {
        const auto halves = mesh::cutByPlane(ring, plane);
        REQUIRE(halves);
        const CutSides sides = CutJudge::sidesOf(ring, plane);
        const auto below = mesh::massProperties(halves->below), above = mesh::massProperties(halves->above);
        CHECK(sides.volumeBelowMm3 == Approx(below.volume).margin(1e-3));
        CHECK(sides.volumeAboveMm3 == Approx(above.volume).margin(1e-3));
        if (above.volume > 1)
            CHECK(length(sides.centroidAbove - above.centroid) < 1e-6);
        CHECK(length(sides.centroidBelow - below.centroid) < 1e-6);
    }
}

TEST_CASE("cut terms: support for overhangs, none on a flat foot", "[cut_terms]")
{
    const CutJudge judge(mesh::box({0, 0, 0}, {10, 10, 10}), bed200, 0);
    const Mesh cone = mesh::frustum(100, 20, 60, 64);
    CHECK(judge.support(cone, {0, 0, -1}) == 0);
    // Upside down all of the slope hangs over at 53 degrees from the vertical: a ring from 20 to 100 mm.
    CHECK(judge.support(cone, {0, 0, 1}) == Approx(std::numbers::pi * (100 * 100 - 20 * 20) / 40000).epsilon(0.01));
    CHECK(judge.leastSupport(cone, {{0, 0, 1}, {0, 0, -1}}) == 0);
    // At 39 degrees it prints by itself.
    CHECK(judge.support(mesh::frustum(100, 20, 100, 64), {0, 0, 1}) == 0);
    // A ball stands on nothing flat.
    CHECK(judge.support(mesh::icosphere(50, 4), {0, 0, -1}) > 0.5);
}

TEST_CASE("cut terms: balance is the share of material to be shifted", "[cut_terms]")
{
    // Hoover index of 360, 684 and 36 over 1080: mean 360, (0 + 324 + 324) / 2 / 1080 = 0.3.
    double sum = 0;
    for (const double v : {360.0, 684.0, 36.0})
        sum += CutJudge::balance(v, 1080, 3);
    CHECK(sum == Approx(0.3));
    CHECK(CutJudge::balance(1, 0, 0) == 0);
}

TEST_CASE("cut terms: cuts of a mirrored part want counterparts", "[cut_terms]")
{
    const Mesh block = mesh::box({0, 0, 0}, {300, 100, 50});
    const CutJudge judge(block, bed200, 0);
    CHECK(judge.mirrors().size() == 3);
    const Plane middle = mesh::planeAt({1, 0, 0}, 150), left = mesh::planeAt({1, 0, 0}, 100),
                right = mesh::planeAt({-1, 0, 0}, -200);
    CHECK(judge.symmetry(middle, {middle}) == Approx(0).margin(1e-9));
    // Other mirror planes leave a plane across x where it is.
    CHECK(judge.symmetry(left, {left}) == Approx(0).margin(1e-9));
    const Plane slanted = mesh::planeThrough({100, 50, 25}, {1, 0.4, 0.3});
    CHECK(judge.symmetry(slanted, {slanted}) > 0.3);
    CHECK(judge.symmetry(left, {left, right}) == Approx(0).margin(1e-9));
    const Mesh wedge = mesh::prism({{{0, 0}, {300, 0}, {0, 120}}}, 70);
    CHECK(CutJudge(wedge, bed200, 0).mirrors().size() == 1);
    // Only y is mirrored: planes across x and z are free to be anywhere.
    const Mesh lopsided = mesh::prism({{{0, 0}, {300, 0}, {40, 120}}}, 70);
    const CutJudge one(lopsided, bed200, 0);
    REQUIRE(one.mirrors().size() == 1);
    const Plane low = mesh::planeAt({0, 0, 1}, 20), high = mesh::planeAt({0, 0, 1}, 50);
    CHECK(one.symmetry(low, {low}) == Approx(30.0 / 200));
    CHECK(one.symmetry(low, {low, high}) == Approx(0).margin(1e-9));
}
