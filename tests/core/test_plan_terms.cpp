// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_judge.h"
#include "core/plan_terms.h"
#include "core/suggestion_terms.h"
#include "mesh/primitives.h"

#include "tests/support/plans.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::core;

namespace {

const std::vector<Bed> bed200{{"", Bed::Shape::Rectangular, 200, 200, 200, 1}};

SuggestionTerms terms(const mesh::Mesh& part, const CutPlan& plan)
{
    const CutJudge judge(part, bed200, 0);
    const auto found = termsOf(part, plan, bed200, {0, false}, true, {2, "volume: 1.35 beds"}, {}, &judge);
    if (!found)
        FAIL(found.problem().sentence());
    return *found;
}

} // namespace

TEST_CASE("plan terms: by cut they add up to the total", "[plan_terms]")
{
    // 300 x 60 x 60 across x at 100 and 290: 360, 684 and 36 cm3.
    const auto t = terms(mesh::box({0, 0, 0}, {300, 60, 60}), test::planOf({{{1, 0, 0}, 100}, {{1, 0, 0}, 290}}));
    REQUIRE(t.judged.judged);
    REQUIRE(t.judged.cuts.size() >= 2);
    CutTerms sum;
    for (const CutTerms& cut : t.judged.cuts)
        sum += cut;
    for (const CutTermKind& kind : cutTermKinds())
        CHECK(sum.*kind.value == Approx(t.judged.total.*kind.value));
    // Two faces of 3600 mm2 on a side of 40000; the seam runs 240 mm of 800 twice round, in view but
    // below, where it is seen by two thirds.
    CHECK(t.judged.total.area == Approx(2 * 3600.0 / 40000));
    CHECK(t.judged.total.seams == Approx(2 * 220.0 / 800).margin(0.02));
    // Hoover: mean 360: (0 + 324 + 324) / 2 / 1080. The piece of 360 was made by the first cut, the others by the last.
    CHECK(t.judged.total.balance == Approx(0.3));
    CHECK(t.judged.cuts[0].balance == Approx(0).margin(1e-9));
    CHECK(t.judged.total.support == 0);
    CHECK(t.judged.cuts[0].strength > 0);
}

TEST_CASE("plan terms: a deeper cut is judged on its own cell", "[plan_terms]")
{
    CutPlan plan;
    plan.nodes.push_back({{{0, 0, 1}, 100}, 1, -1});
    plan.nodes.push_back({{{1, 0, 0}, 100}, -1, -1});
    const auto t = terms(mesh::box({0, 0, 0}, {200, 200, 200}), plan);
    REQUIRE(t.judged.cuts.size() == 2);
    CHECK(t.judged.cuts[0].area == Approx(1));
    CHECK(t.judged.cuts[1].area == Approx(0.5));
    // Of the second seam's 600 mm the 200 along the first cut are inside the whole; 200 are below.
    CHECK(t.judged.cuts[1].seams == Approx((200 + 200 * 2 / 3.0) / 800).margin(0.02));
}

TEST_CASE("plan terms: an uncut part has no cuts, but may want support", "[plan_terms]")
{
    const auto t = terms(mesh::icosphere(50, 3), {});
    CHECK(t.judged.judged);
    CHECK(t.judged.cuts.empty());
    CHECK(t.judged.total.support > 0);
    CHECK(t.judged.total.area == 0);
}

TEST_CASE("plan terms: as a table, and among the terms of a suggestion", "[plan_terms]")
{
    CutWeights weights;
    weights.area = 3;
    auto t = terms(mesh::box({0, 0, 0}, {300, 60, 60}), test::planOf({{{1, 0, 0}, 150}}));
    const TermTable table = termTable(t.judged, weights);
    REQUIRE(table.rows.size() == 3);
    REQUIRE(table.columns.size() == cutTermKinds().size() + 1);
    CHECK(table.rows[0].name == "cut 1");
    CHECK(table.rows[0].node == 0);
    CHECK(table.rows[1].name == "all cuts");
    CHECK(table.rows[2].name == "weight");
    CHECK(table.rows[2].node == -1);
    double sum = 0;
    for (std::size_t i = 0; i < cutTermKinds().size(); ++i)
        sum += table.rows[1].values[i] * table.rows[2].values[i];
    CHECK(table.rows[1].values.back() == Approx(sum));
    t.weights = weights;
    const auto lines = termLines(t);
    const auto line = [&](const std::string& key) {
        const auto found = std::find_if(lines.begin(), lines.end(), [&](const Term& l) { return l.key == key; });
        REQUIRE(found != lines.end());
        return *found;
    };
    CHECK(line("judged_weighed").value == Approx(sum));
    CHECK(line("judged_area").words == "0.09");
    CHECK(line("gap").words == "none");
    SuggestionTerms unknown;
    const auto bare = termLines(unknown);
    REQUIRE(bare.size() == lines.size());
    for (std::size_t i = 0; i < bare.size(); ++i) {
        CHECK(bare[i].key == lines[i].key);
        if (bare[i].words == "not reckoned")
            CHECK(verdictOn(bare[i], lines[i]) == Verdict::Same);
    }
}
