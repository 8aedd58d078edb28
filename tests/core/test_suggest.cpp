// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/piece.h"
#include "core/section_score.h"
#include "core/suggest.h"
#include "mesh/mass.h"
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"

#include "tests/support/plans.h"

#include <catch2/catch.hpp>

#include <numbers>
#include <random>

using namespace quoin;
using namespace quoin::core;
using mesh::Mesh;
using mesh::Transform;
using mesh::Vec3;

namespace {

const std::vector<Bed> bed200{{"", Bed::Shape::Rectangular, 200, 200, 200, 1}};

SuggestOptions tight(bool anyRotation = false)
{
    SuggestOptions options;
    options.fit = {0, anyRotation};
    options.work = 2;
    options.alternatives = 1;
    return options;
}

/// Suggests cuts and checks what is promised: every piece of the plan, cut anew, fits; nothing is lost; the number is
/// right and not below the bound.
Suggestion checked(const Mesh& part, const std::vector<Bed>& beds, const SuggestOptions& options,
                   const CutPlan& start = {})
{
    const Result<Suggestion> found = suggestGrid(part, start, beds, options);
    if (!found)
        FAIL(found.problem().sentence());
    const auto leaves = cutByPlan(part, found->plan);
    REQUIRE(leaves);
    double volume = 0;
    const std::vector<Piece> pieces = piecesOf(*leaves, options.islandsApart);
    for (const Piece& piece : pieces) {
        CHECK(fitOnBeds(piece.mesh, beds, options.fit));
        volume += mesh::volume(piece.mesh);
    }
    CHECK(volume == Approx(mesh::volume(part)).epsilon(1e-9));
    CHECK(static_cast<int>(pieces.size()) == found->pieces);
    CHECK(found->pieces >= found->bound.pieces);
    CHECK_FALSE(found->words.empty());
    return *found;
}

Mesh helix()
{
    std::vector<std::vector<Vec3>> rings;
    for (int i = 0; i <= 720; ++i) {
        const double a = 2 * std::numbers::pi * i / 48.0;
        std::vector<Vec3> ring;
        for (int k = 0; k < 8; ++k) {
            const double b = 2 * std::numbers::pi * k / 8, r = 94 + 4 * std::cos(b);
            ring.push_back({r * std::cos(a), r * std::sin(a), 592.0 * i / 720 + 4 * std::sin(b)});
        }
        rings.push_back(ring);
    }
    const Mesh loft = mesh::loft(rings);
    return mesh::volume(loft) > 0 ? loft
                                  : mesh::transformed(loft, Transform::fromColumns({1, 0, 0}, {0, -1, 0}, {0, 0, 1}));
}

Mesh turnedAbout(const Mesh& m, std::mt19937& random)
{
    std::normal_distribution<double> normal(0, 1);
    const Vec3 axis{normal(random), normal(random), normal(random)};
    return mesh::transformed(m, Transform::translation({700, -300, 90}) * Transform::rotation(axis, normal(random)));
}

} // namespace

TEST_CASE("suggest: a part that fits is left whole", "[suggest]")
{
    const Suggestion s = checked(mesh::box({0, 0, 0}, {190, 100, 50}), bed200, SuggestOptions{});
    CHECK(s.plan.empty());
    CHECK(s.pieces == 1);
    CHECK(s.gridsTried == 0);
}

TEST_CASE("suggest: a cube of two beds a side takes exactly eight, a millionth more takes more", "[suggest]")
{
    const Suggestion s = checked(mesh::box({0, 0, 0}, {400, 400, 400}), bed200, tight());
    CHECK(s.pieces == 8);
    CHECK(s.bound.pieces == 8);
    for (const CutPlan::Node& node : s.plan.nodes)
        CHECK(std::abs(node.plane.offset) == 200);
    CHECK(checked(mesh::box({0, 0, 0}, {400.0004, 400, 400}), bed200, tight()).pieces > 8);
    CHECK(checked(mesh::box({0, 0, 0}, {380, 380, 380}), bed200, SuggestOptions{}).pieces == 8);
}

TEST_CASE("suggest: known counts of boxes, rods and plates", "[suggest]")
{
    // 202: 6 bars of 202 x 101 x 67.3 lie at 45 degrees, where the plain grid takes 8.
    CHECK(checked(mesh::box({0, 0, 0}, {202, 202, 202}), bed200, tight()).pieces <= 6);
    // Rod: 4 lying flat (272.8 each). Of 980: 3 when turned freely (328.8 each).
    CHECK(checked(mesh::box({0, 0, 0}, {1000, 10, 10}), bed200, tight()).pieces == 4);
    CHECK(checked(mesh::box({0, 0, 0}, {980, 10, 10}), bed200, tight(true)).pieces == 3);
    // Plate: halves of 275 x 200 x 5 stand on edge at 45 degrees.
    CHECK(checked(mesh::box({0, 0, 0}, {550, 200, 5}), bed200, tight()).pieces == 2);
}

TEST_CASE("suggest: turning the part changes none of the counts", "[suggest]")
{
    std::mt19937 random(5);
    for (int i = 0; i < 3; ++i) {
        CHECK(checked(turnedAbout(mesh::box({0, 0, 0}, {400, 400, 400}), random), bed200, tight()).pieces == 8);
        CHECK(checked(turnedAbout(mesh::box({0, 0, 0}, {1000, 10, 10}), random), bed200, tight()).pieces == 4);
        CHECK(checked(turnedAbout(mesh::box({0, 0, 0}, {550, 200, 5}), random), bed200, tight()).pieces == 2);
    }
}

TEST_CASE("suggest: never more than the plain grid on hollow, bent and curved shapes", "[suggest]")
{
    const Mesh ell = mesh::prism({{{0, 0}, {280, 0}, {280, 50}, {50, 50}, {50, 280}, {0, 280}}}, 50);
    CHECK(checked(ell, bed200, tight()).pieces <= 3);
    const Mesh tube = mesh::revolved({{147, 0}, {150, 0}, {150, 200}, {147, 200}}, 128);
    CHECK(checked(tube, bed200, tight()).pieces <= 4);
    CHECK(checked(mesh::torus(300, 15, 96, 24), bed200, tight()).pieces <= 12);
    CHECK(checked(helix(), bed200, tight()).pieces == 3);
    // A shell: the inner sphere is turned inside out.
    Mesh inner = mesh::icosphere(188, 4);
    for (mesh::Triangle& t : inner.triangles)
        std::swap(t[1], t[2]);
    CHECK(checked(mesh::joined(mesh::icosphere(190, 4), inner), bed200, tight()).pieces <= 8);
}

TEST_CASE("suggest: beds that are no cubes, round ones, and several", "[suggest]")
{
    const Bed low{"", Bed::Shape::Rectangular, 250, 210, 210, 1}, round{"", Bed::Shape::Round, 250, 250, 300, 1};
    CHECK(checked(mesh::box({0, 0, 0}, {500, 420, 420}), {low}, tight()).pieces == 8);
    CHECK(checked(mesh::box({0, 0, 0}, {400, 150, 600}), {round}, tight()).pieces <= 4); // 200 x 150 x 300 four times
    CHECK(checked(mesh::box({0, 0, 0}, {500, 500, 500}), {low, round, bed200.front()}, tight()).pieces <= 27);
}

TEST_CASE("suggest: the user's own cuts come first and are completed", "[suggest]")
{
    const CutPlan start = test::planOf({mesh::planeThrough({100, 0, 0}, {1, 0.2, 0})});
    const Suggestion s = checked(mesh::box({0, 0, 0}, {500, 150, 150}), bed200, tight(), start);
    REQUIRE_FALSE(s.plan.empty());
    CHECK(s.plan.nodes[0].plane.normal == start.nodes[0].plane.normal);
    CHECK(s.plan.nodes[0].plane.offset == start.nodes[0].plane.offset);
    CHECK(s.pieces >= 3);
    const CutPlan enough = test::planOf({mesh::planeThrough({150, 0, 0}, {1, 0, 0})});
    CHECK(checked(mesh::box({0, 0, 0}, {300, 150, 150}), bed200, tight(), enough).plan.nodes.size() == 1);
}

TEST_CASE("suggest: bodies that a plane can part are parted without a cut through them", "[suggest]")
{
    const Mesh pair =
        mesh::joined(mesh::box({0, 0, 0}, {150, 150, 150}),
                     mesh::transformed(mesh::box({0, 0, 0}, {300, 150, 150}), Transform::translation({200, 0, 0})));
    const Suggestion apart = checked(pair, bed200, tight());
    CHECK(apart.pieces == 3);
    SuggestOptions together = tight();
    together.islandsApart = false;
    CHECK(checked(pair, bed200, together).pieces == 3);
    const Mesh small =
        mesh::joined(mesh::box({0, 0, 0}, {90, 90, 90}),
                     mesh::transformed(mesh::box({0, 0, 0}, {90, 90, 90}), Transform::translation({100, 0, 0})));
    CHECK(checked(small, bed200, together).pieces == 1);
    CHECK(checked(small, bed200, tight()).pieces == 2);
}

TEST_CASE("suggest: a plane moves within its slack to where dowels have room", "[suggest]")
{
    // A bar of 320 whose middle is necked down to 8 x 8 over 40 mm: the even cut at 160 would join through the neck.
    Mesh bar = mesh::revolved({{0, 0}, {30, 0}, {30, 140}, {4, 142}, {4, 178}, {30, 180}, {30, 320}, {0, 320}}, 32);
    const Suggestion s = checked(bar, {{"", Bed::Shape::Rectangular, 60, 60, 230, 1}}, tight());
    REQUIRE(s.pieces == 2);
    const auto section = mesh::sectionByPlane(bar, s.plan.nodes[0].plane);
    REQUIRE(section);
    CHECK(scoreOf(*section).withoutRoom == 0);
    CHECK(scoreOf(*mesh::sectionByPlane(bar, mesh::planeAt({0, 0, 1}, 160))).withoutRoom == 1);
}

TEST_CASE("suggest: the first answer is finished even without time", "[suggest]")
{
    SuggestOptions hurried = tight();
    hurried.seconds = 0;
    CHECK(checked(mesh::box({0, 0, 0}, {450, 300, 220}), bed200, hurried).gridsTried == 1);
}

TEST_CASE("suggest: the same part gives the same plan", "[suggest]")
{
    const Mesh part = mesh::torus(150, 60, 48, 24);
    SuggestOptions options;
    options.work = 3;
    options.alternatives = 1;
    const Suggestion a = checked(part, bed200, options), b = checked(part, bed200, options);
    REQUIRE(a.plan.nodes.size() == b.plan.nodes.size());
    for (std::size_t i = 0; i < a.plan.nodes.size(); ++i)
        CHECK(a.plan.nodes[i].plane.offset == b.plan.nodes[i].plane.offset);
}

TEST_CASE("suggest: what can't be is refused in words", "[suggest]")
{
    const auto reason = [](const Mesh& part, const std::vector<Bed>& beds, const SuggestOptions& options) {
        const Result<Suggestion> found = suggestGrid(part, {}, beds, options);
        REQUIRE_FALSE(found);
        CHECK_FALSE(found.problem().what.empty());
        return found.problem().reason;
    };
    CHECK(reason(Mesh{}, bed200, tight()) == Reason::BadArgument);
    CHECK(reason(mesh::box({0, 0, 0}, {400, 400, 400}), {}, tight()) == Reason::BadArgument);
    SuggestOptions wide;
    wide.fit.marginMm = 100;
    CHECK(reason(mesh::box({0, 0, 0}, {400, 400, 400}), bed200, wide) == Reason::DoesNotFit);
    CHECK(reason(mesh::box({0, 0, 0}, {4000, 4000, 4000}), {{"", Bed::Shape::Rectangular, 12, 12, 12, 1}},
                 SuggestOptions{}) == Reason::DoesNotFit);
}

TEST_CASE("suggest: cancelling stops it", "[suggest]")
{
    Context context;
    context.cancel();
    const Result<Suggestion> found = suggestGrid(mesh::box({0, 0, 0}, {400, 400, 400}), {}, bed200, tight(), context);
    REQUIRE_FALSE(found);
    CHECK(found.problem().reason == Reason::Cancelled);
    // Also in the middle of it.
    Context* inside = nullptr;
    int reports = 0;
    Context later([&](double, std::string_view) {
        if (++reports == 3)
            inside->cancel();
    });
    inside = &later;
    const Result<Suggestion> stopped = suggestGrid(mesh::torus(300, 60, 96, 48), {}, bed200, tight(), later);
    REQUIRE_FALSE(stopped);
    CHECK(stopped.problem().reason == Reason::Cancelled);
}
