// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_ways.h"
#include "mesh/primitives.h"

#include "tests/support/plans.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::core;

namespace {

const std::vector<Bed> bed200{{"", Bed::Shape::Rectangular, 200, 200, 200, 1}};

CutWay way(int pieces, double seams, double area)
{
    CutWay w;
    w.suggestion.pieces = w.terms.pieces = pieces;
    w.terms.judged.total.seams = seams;
    w.terms.judged.total.area = area;
    w.terms.weights = {1, 0, 0, 0, 0, 0, 0, 1};
    return w;
}

} // namespace

TEST_CASE("cut ways: pieces come first, then the weighed sum; more pieces only where they are allowed", "[cut_ways]")
{
    const auto order = [](int more, const std::vector<CutWay>& given) {
        std::vector<CutWay> ways = given;
        putInOrder(ways, more);
        std::vector<std::pair<int, double>> out;
        for (const CutWay& w : ways)
            out.emplace_back(w.suggestion.pieces, weighed(w.terms.judged.total, w.terms.weights));
        return out;
    };
    const std::vector<CutWay> ways{way(6, 3, 0), way(8, 0.5, 0), way(6, 1, 1), way(7, 1, 0), way(7, 0.2, 0)};
    using Order = std::vector<std::pair<int, double>>;
    CHECK(order(0, ways) == Order{{6, 2}, {6, 3}, {7, 0.2}, {7, 1}, {8, 0.5}});
    CHECK(order(1, ways) == Order{{7, 0.2}, {7, 1}, {6, 2}, {6, 3}, {8, 0.5}});
    CHECK(order(2, ways) == Order{{7, 0.2}, {8, 0.5}, {7, 1}, {6, 2}, {6, 3}});
    // As good with fewer: those first.
    CHECK(order(1, {way(7, 1, 0), way(6, 1, 0)}) == Order{{6, 1}, {7, 1}});
}

TEST_CASE("cut ways: much the same is what has shifted a little", "[cut_ways]")
{
    const mesh::Box3 part{{0, 0, 0}, {300, 60, 60}};
    const CutPlan middle = test::planOf({{{1, 0, 0}, 150}});
    CHECK(muchTheSame(middle, test::planOf({{{1, 0, 0}, 152}}), part));
    CHECK(muchTheSame(middle, test::planOf({{{-1, 0, 0}, -150}}), part));
    CHECK_FALSE(muchTheSame(middle, test::planOf({{{1, 0, 0}, 165}}), part));
    CHECK_FALSE(muchTheSame(middle, test::planOf({mesh::planeThrough({150, 30, 30}, {1, 0.2, 0})}), part));
    CHECK_FALSE(muchTheSame(middle, test::planOf({{{1, 0, 0}, 100}, {{1, 0, 0}, 200}}), part));
}

TEST_CASE("cut ways: what is found is judged, with its bound, time and seed", "[cut_ways]")
{
    SuggestOptions options;
    options.fit = {0, false};
    options.seed = 3;
    options.seconds = 2;
    int heard = 0;
    options.onBetter = [&](const Suggestion&) { ++heard; };
    const auto found = findCuts(mesh::box({0, 0, 0}, {400, 150, 90}), {}, bed200, options);
    REQUIRE(found);
    CHECK(heard > 0);
    REQUIRE_FALSE(found->ways.empty());
    CHECK(found->ways.size() <= 3);
    const CutWay& best = found->best();
    CHECK(best.suggestion.pieces == 2);
    CHECK(best.suggestion.seed == 3);
    CHECK(best.suggestion.terms.judged);
    CHECK(best.suggestion.terms.cuts.size() == best.suggestion.plan.nodes.size());
    CHECK(best.terms.gap() == 0);
    CHECK(best.suggestion.seconds > 0);
    CHECK(best.suggestion.seconds <= found->seconds);
    const std::string words = wayWords(best);
    CHECK(words.find("2 pieces; no way needs fewer than 2") == 0);
    CHECK(words.find("none has fewer") != std::string::npos);
    CHECK(words.find("seed 3") != std::string::npos);
    for (std::size_t i = 0; i < found->ways.size(); ++i)
        for (std::size_t k = 0; k < i; ++k)
            CHECK_FALSE(muchTheSame(found->ways[i].suggestion.plan, found->ways[k].suggestion.plan,
                                    {{0, 0, 0}, {400, 150, 90}}));
    const auto taken = suggestionTaken(*found, 1);
    REQUIRE(taken);
    CHECK(taken->pieces == 2);
    CHECK(taken->others.size() == found->ways.size() - 1);
    for (const int no : {0, -1, 9}) {
        const auto none = suggestionTaken(*found, no);
        REQUIRE_FALSE(none);
        CHECK(none.problem().reason == Reason::BadArgument);
    }
}

TEST_CASE("cut ways: numbers out of range are refused", "[cut_ways]")
{
    const mesh::Mesh block = mesh::box({0, 0, 0}, {300, 60, 60});
    const auto refused = [&](int more, int alternatives) {
        SuggestOptions options;
        options.morePieces = more;
        options.alternatives = alternatives;
        const auto found = findCuts(block, {}, bed200, options);
        return !found && found.problem().reason == Reason::BadArgument;
    };
    CHECK(refused(-1, 1));
    CHECK(refused(mostMorePieces + 1, 1));
    CHECK(refused(0, 0));
    CHECK(refused(0, mostAlternatives + 1));
}

TEST_CASE("cut ways: stopped, the best so far is judged; before that there is nothing", "[cut_ways]")
{
    const mesh::Mesh ring = mesh::torus(300, 60, 96, 48);
    Context context;
    SuggestOptions options;
    options.fit = {0, false};
    options.seconds = 600;
    options.onBetter = [&](const Suggestion&) { context.cancel(); };
    const auto found = findCuts(ring, {}, bed200, options, context);
    REQUIRE(found);
    CHECK(found->ways.front().suggestion.terms.judged);
    Context none;
    none.cancel();
    const auto nothing = findCuts(ring, {}, bed200, options, none);
    REQUIRE_FALSE(nothing);
    CHECK(nothing.problem().reason == Reason::Cancelled);
}
