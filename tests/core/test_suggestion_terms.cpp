// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/suggestion_terms.h"
#include "mesh/primitives.h"

#include "tests/support/plans.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::core;

namespace {

const std::vector<Bed> bed200{{"", Bed::Shape::Rectangular, 200, 200, 200, 1}};
const LowerBound two{2, "volume: 1.35 beds"};

SuggestionTerms terms(const mesh::Mesh& part, const CutPlan& plan)
{
    const auto found = termsOf(part, plan, bed200, {0, false}, true, two);
    if (!found)
        FAIL(found.problem().sentence());
    return *found;
}

const Term& term(const std::vector<Term>& lines, std::string_view key)
{
    const auto found = std::find_if(lines.begin(), lines.end(), [&](const Term& t) { return t.key == key; });
    REQUIRE(found != lines.end());
    return *found;
}

} // namespace

TEST_CASE("suggestion terms: a bar cut in three", "[suggestion_terms]")
{
    // 300 x 60 x 60 cut at 100 and 290: 360, 684 and 36 cm3; two faces of 36 cm2.
    const auto t = terms(mesh::box({0, 0, 0}, {300, 60, 60}), test::planOf({{{1, 0, 0}, 100}, {{1, 0, 0}, 290}}));
    CHECK(t.pieces == 3);
    CHECK(t.seams == 2);
    CHECK(t.cutAreaCm2 == Approx(72));
    CHECK(t.seamsWithoutRoom == 0);
    CHECK(t.largestCm3 == Approx(684));
    CHECK(t.smallestCm3 == Approx(36));
    CHECK(t.smallestShare == Approx(0.1));
    CHECK(t.longestMm == Approx(190));
    CHECK(t.standFlat == 3);
    CHECK(t.tooLarge == 0);
    CHECK(t.largestOverhangMm == 0);
    CHECK(t.bound.pieces == 2);
}

TEST_CASE("suggestion terms: faces too small for dowels, pieces too large", "[suggestion_terms]")
{
    // 12 x 12 mm: a dowel of 6 and walls of 2.4 leave 1.2 x 1.2 mm for the axes, and they ask for 15 mm apart.
    const auto thin = terms(mesh::box({0, 0, 0}, {300, 12, 12}), test::planOf({{{1, 0, 0}, 150}}));
    CHECK(thin.seamsWithoutRoom == 1);
    // A piece of 250 x 150 x 150 on 200 x 200 x 200 sticks out by 50 at least lying square to the bed.
    const auto large = terms(mesh::box({0, 0, 0}, {400, 150, 150}), test::planOf({{{1, 0, 0}, 150}}));
    CHECK(large.tooLarge == 1);
    CHECK(large.largestOverhangMm > 10);
    CHECK(large.largestOverhangMm <= 50.001);
    const auto lines = termLines(large);
    CHECK(term(lines, "too_large").words == "1");
    CHECK(term(lines, "overhang_mm").words.find(" mm") != std::string::npos);
    CHECK(term(termLines(thin), "overhang_mm").words == "none");
}

TEST_CASE("suggestion terms: which is better is said by number, and only where the words differ", "[suggestion_terms]")
{
    const mesh::Mesh bar = mesh::box({0, 0, 0}, {300, 60, 60});
    const auto even = termLines(terms(bar, test::planOf({{{1, 0, 0}, 150}})));
    const auto three = termLines(terms(bar, test::planOf({{{1, 0, 0}, 100}, {{1, 0, 0}, 290}})));
    REQUIRE(even.size() == three.size());
    for (std::size_t i = 0; i < even.size(); ++i) {
        CHECK(even[i].key == three[i].key);
        CHECK_FALSE(even[i].help.empty());
        CHECK(verdictOn(even[i], even[i]) == Verdict::Same);
    }
    CHECK(verdictOn(term(even, "pieces"), term(three, "pieces")) == Verdict::Better);
    CHECK(verdictOn(term(three, "pieces"), term(even, "pieces")) == Verdict::Worse);
    CHECK(verdictOn(term(even, "smallest_share"), term(three, "smallest_share")) == Verdict::Better);
    CHECK(verdictOn(term(even, "largest_cm3"), term(three, "largest_cm3")) == Verdict::Different);
    CHECK(term(even, "cut_area_cm2").words == "36 cm2");
    Term close = term(even, "cut_area_cm2");
    close.value += 0.01;
    CHECK(verdictOn(close, term(even, "cut_area_cm2")) == Verdict::Same);
}

TEST_CASE("suggestion terms: no beds, and cancelling", "[suggestion_terms]")
{
    const mesh::Mesh bar = mesh::box({0, 0, 0}, {300, 60, 60});
    const auto none = termsOf(bar, {}, {}, {}, true, two);
    REQUIRE_FALSE(none);
    CHECK(none.problem().reason == Reason::BadArgument);
    Context context;
    context.cancel();
    const auto cancelled = termsOf(bar, {}, bed200, {}, true, two, context);
    REQUIRE_FALSE(cancelled);
    CHECK(cancelled.problem().reason == Reason::Cancelled);
}
