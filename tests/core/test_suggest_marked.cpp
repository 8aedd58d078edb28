// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/marks_in_the_way.h"
#include "core/piece.h"
#include "core/suggest.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"

#include "tests/support/plans.h"

#include <catch2/catch.hpp>

#include <map>
#include <random>

using namespace quoin;
using namespace quoin::core;
using mesh::Mesh;
using mesh::Vec3;

namespace {

const std::vector<Bed> bed200{{"", Bed::Shape::Rectangular, 200, 200, 200, 1}};

template <class Which>
std::shared_ptr<const KeepClear> marks(const Mesh& m, Which&& which)
{
    std::vector<mesh::Index> some;
    for (std::size_t t = 0; t < m.triangles.size(); ++t)
        if (which((m.corner(t, 0) + m.corner(t, 1) + m.corner(t, 2)) / 3))
            some.push_back(static_cast<mesh::Index>(t));
    return std::make_shared<KeepClear>(m, some);
}

SuggestOptions with(std::shared_ptr<const KeepClear> marked)
{
    SuggestOptions options;
    options.fit = {0, false};
    options.seconds = 60;
    options.work = 2;
    options.alternatives = 1;
    options.keepClear = std::move(marked);
    return options;
}

/// What is promised, checked by cutting anew: pieces fit, nothing is lost; each marked triangle of the part is found
/// whole, with its own area, on one piece.
void check(const Mesh& part, const Suggestion& s, const SuggestOptions& options, const std::vector<Bed>& beds)
{
    const auto leaves = cutByPlan(part, s.plan);
    REQUIRE(leaves);
    double volume = 0;
    const auto pieces = piecesOf(*leaves);
    for (const Piece& piece : pieces) {
        CHECK(fitOnBeds(piece.mesh, beds, options.fit));
        volume += mesh::volume(piece.mesh);
    }
    CHECK(volume == Approx(mesh::volume(part)).epsilon(1e-9));
    CHECK(static_cast<int>(pieces.size()) == s.pieces);
    CHECK_FALSE(passesMarked(s.plan, *options.keepClear));
    // Independent of that test: corners of marked places by walking down the plan, all of one place in one leaf.
    for (const auto& patch : options.keepClear->patches()) {
        Vec3 middle{0, 0, 0};
        for (const Vec3 p : patch)
            middle = middle + p / static_cast<double>(patch.size());
        for (int node = s.plan.empty() ? -1 : 0; node >= 0;) {
            const CutPlan::Node& n = s.plan.nodes[static_cast<std::size_t>(node)];
            double low = 1e300, high = -1e300;
            for (const Vec3 p : patch) {
                low = std::min(low, n.plane.distance(p));
                high = std::max(high, n.plane.distance(p));
            }
            CHECK((low > -1e-3 || high < 1e-3));
            node = high < 1e-3 ? n.below : n.above;
        }
    }
}

Suggestion checked(const Mesh& part, const SuggestOptions& options, const std::vector<Bed>& beds = bed200)
{
    const auto found = suggestGrid(part, {}, beds, options);
    if (!found)
        FAIL(found.problem().sentence());
    check(part, *found, options, beds);
    return *found;
}

/// A bar along x of square section, its skin in rings of triangles every 10 mm.
Mesh ringedBar(double lengthMm, double sideMm)
{
    std::vector<std::vector<Vec3>> rings;
    const double s = sideMm / 2;
    for (int i = 0; i <= static_cast<int>(lengthMm / 10); ++i)
        rings.push_back({{10.0 * i, -s, -s}, {10.0 * i, s, -s}, {10.0 * i, s, s}, {10.0 * i, -s, s}});
    return mesh::loft(rings);
}

} // namespace

TEST_CASE("suggest with marks: no marks change nothing", "[suggest][keep_clear]")
{
    const Mesh part = mesh::torus(150, 60, 48, 24);
    const auto plain = suggestGrid(part, {}, bed200, with(nullptr));
    const auto empty = suggestGrid(part, {}, bed200, with(std::make_shared<KeepClear>()));
    REQUIRE(plain);
    REQUIRE(empty);
    REQUIRE(plain->plan.nodes.size() == empty->plan.nodes.size());
    for (std::size_t i = 0; i < plain->plan.nodes.size(); ++i)
        CHECK(plain->plan.nodes[i].plane.offset == empty->plan.nodes[i].plane.offset);
}

TEST_CASE("suggest with marks: a plane moves within its slack", "[suggest][keep_clear]")
{
    // 360 in two of 180; the middle ring (170 to 190) is marked: 160 to 170 or 190 to 200 are left.
    const Mesh bar = ringedBar(360, 40);
    REQUIRE(mesh::volume(bar) == Approx(360 * 40 * 40));
    const Suggestion s = checked(bar, with(marks(bar, [](Vec3 p) { return std::abs(p.x - 180) < 10; })));
    CHECK(s.pieces == 2);
}

TEST_CASE("suggest with marks: better faces are left alone where they are marked", "[suggest][keep_clear]")
{
    // Necked down in the middle: without marks the plane moves off the neck (140 to 180) to where dowels have room. All
    // that it may reach there, 112 to 208, is marked.
    const Mesh bar = mesh::revolved(
        {{0, 0}, {30, 0}, {30, 100}, {30, 140}, {4, 142}, {4, 178}, {30, 180}, {30, 220}, {30, 320}, {0, 320}}, 32);
    const std::vector<Bed> bed{{"", Bed::Shape::Rectangular, 60, 60, 230, 1}};
    const auto free = checked(bar, with(marks(bar, [](Vec3) { return false; })), bed);
    REQUIRE(free.plan.nodes.size() == 1);
    CHECK(std::abs(std::abs(free.plan.nodes[0].plane.offset) - 160) > 20);
    const auto marked = checked(
        bar, with(marks(bar, [](Vec3 p) { return std::abs(p.z - 120) < 19 || std::abs(p.z - 200) < 19; })), bed);
    REQUIRE(marked.plan.nodes.size() == 1);
    CHECK(std::abs(std::abs(marked.plan.nodes[0].plane.offset) - 160) <= 20);
}

TEST_CASE("suggest with marks: more cells when the slack isn't enough", "[suggest][keep_clear]")
{
    // A cut of 360 in two lies between 160 and 200 (a little more lying aslant): all of that is marked.
    const Mesh bar = ringedBar(360, 120);
    CHECK(checked(bar, with(marks(bar, [](Vec3) { return false; }))).pieces == 2);
    const Suggestion s = checked(bar, with(marks(bar, [](Vec3 p) { return p.x > 110 && p.x < 250; })));
    CHECK(s.pieces == 3);
}

TEST_CASE("suggest with marks: a box whose middle can't be cut across", "[suggest][keep_clear]")
{
    // Strips along all of one face, so that one axis is blocked at every offset but between the strips.
    const Mesh slab =
        mesh::prism({{{0, 0}, {95, 0}, {96, 1}, {104, 1}, {105, 0}, {200, 0}, {300, 0}, {300, 380}, {0, 380}}}, 100);
    const auto grooves = marks(slab, [](Vec3 p) { return p.y < 0.9; });
    REQUIRE_FALSE(grooves->empty());
    checked(slab, with(grooves));
}

TEST_CASE("suggest with marks: random places on several shapes are never cut", "[suggest][keep_clear]")
{
    const std::map<std::string, Mesh> shapes{
        {"ball", mesh::icosphere(190, 4)},
        {"ring", mesh::torus(230, 50, 96, 32)},
        {"bar", ringedBar(700, 90)},
        {"tube", mesh::revolved({{120, 0}, {150, 0}, {150, 390}, {120, 390}}, 96)}};
    std::mt19937 random(8);
    int found = 0;
    for (const auto& [name, part] : shapes)
        for (int round = 0; round < 2; ++round) {
            CAPTURE(name, round);
            std::vector<Vec3> centres;
            for (int i = 0; i < 6; ++i)
                centres.push_back(part.points[random() % part.points.size()]);
            SuggestOptions options = with(marks(part, [&](Vec3 p) {
                return std::any_of(centres.begin(), centres.end(), [&](Vec3 c) { return length(p - c) < 35; });
            }));
            options.seconds = 0.5;
            REQUIRE_FALSE(options.keepClear->empty());
            const auto s = suggestGrid(part, {}, bed200, options);
            if (!s) {
                UNSCOPED_INFO(s.problem().sentence());
                CHECK(s.problem().reason == Reason::DoesNotFit);
                continue;
            }
            ++found;
            check(part, *s, options, bed200);
        }
    CHECK(found >= 7);
}

TEST_CASE("suggest with marks: what stands in the way is said", "[suggest][keep_clear]")
{
    const Mesh bar = ringedBar(700, 90);
    const auto reasonOf = [&](const SuggestOptions& options, const CutPlan& start) {
        const auto found = suggestGrid(bar, start, bed200, options);
        REQUIRE_FALSE(found);
        CHECK(found.problem().what.find("marked place") + found.problem().what.find("passes") != 0);
        CHECK_FALSE(found.problem().remedy.empty());
        CHECK_FALSE(found.problem().place.empty());
        return found.problem();
    };
    // A ring that is itself longer than the diagonal of a bed (346 mm).
    const Problem large = reasonOf(with(marks(bar, [](Vec3 p) { return p.x > 100 && p.x < 500; })), {});
    CHECK(large.reason == Reason::DoesNotFit);
    CHECK(large.what.find("larger than any piece") != std::string::npos);
    // One that is too long to lie on a bed, and blocks every cut across it.
    const Problem blocked = reasonOf(with(marks(bar, [](Vec3 p) { return p.x > 100 && p.x < 400; })), {});
    CHECK(blocked.reason == Reason::DoesNotFit);
    CHECK(blocked.what.find("stand in the way") != std::string::npos);
    // A cut of the user's own.
    const Problem own =
        reasonOf(with(marks(bar, [](Vec3 p) { return p.x > 300 && p.x < 330; })), test::planOf({{{1, 0, 0}, 315}}));
    CHECK(own.reason == Reason::BadArgument);
}

TEST_CASE("suggest with marks: own cuts part what is marked on their sides", "[suggest][keep_clear]")
{
    const Mesh bar = ringedBar(700, 90);
    const SuggestOptions options =
        with(marks(bar, [](Vec3 p) { return (p.x > 260 && p.x < 300) || (p.x > 300 && p.x < 340 && p.z > 40); }));
    // Both lie against x = 300 and share edges there: one place.
    CHECK_FALSE(suggestGrid(bar, test::planOf({{{1, 0, 0}, 300}}), bed200, options));
    const CutPlan start = test::planOf({{{1, 0, 0}, 350}});
    const auto s = suggestGrid(bar, start, bed200, options);
    REQUIRE(s);
    check(bar, *s, options, bed200);
    CHECK(s->plan.nodes[0].plane.offset == 350);
}

TEST_CASE("suggest: each better answer is told, complete, on the same thread", "[suggest]")
{
    const Mesh part = mesh::box({0, 0, 0}, {202, 202, 202});
    SuggestOptions options = with(std::make_shared<KeepClear>());
    std::vector<Suggestion> told;
    options.onBetter = [&](const Suggestion& s) { told.push_back(s); };
    const auto found = suggestGrid(part, {}, bed200, options);
    REQUIRE(found);
    REQUIRE_FALSE(told.empty());
    for (std::size_t i = 0; i < told.size(); ++i) {
        check(part, told[i], options, bed200);
        if (i > 0)
            CHECK(told[i].pieces <= told[i - 1].pieces);
    }
    CHECK(told.back().pieces == found->pieces);
    REQUIRE(told.back().plan.nodes.size() == found->plan.nodes.size());
    CHECK(told.back().words == found->words);
}

TEST_CASE("suggest: the best so far is known when it is cancelled", "[suggest]")
{
    Context context;
    SuggestOptions options = with(nullptr);
    std::optional<Suggestion> best;
    options.onBetter = [&](const Suggestion& s) {
        best = s;
        context.cancel();
    };
    const Mesh ring = mesh::torus(300, 60, 96, 48);
    // With the user's own cut, so that two meshes are searched: the first answer is of both.
    const auto found = suggestGrid(ring, test::planOf({{{1, 0, 0}, 10}}), bed200, options, context);
    REQUIRE_FALSE(found);
    CHECK(found.problem().reason == Reason::Cancelled);
    REQUIRE(best);
    options.keepClear = std::make_shared<KeepClear>();
    check(ring, *best, options, bed200);
}
