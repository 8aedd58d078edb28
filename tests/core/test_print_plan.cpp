// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/print_plan.h"
#include "tests/support/shop.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <set>

using namespace quoin;
using namespace quoin::core;
using test::moment;
using test::request;
using test::slabs;

namespace {

PrintPlan planned(const PlateJob& job, const PlanRequest& r)
{
    const auto plan = planPrinting(job, r);
    if (!plan)
        FAIL(plan.problem().sentence());
    return *plan;
}

/// What must hold of every plan.
void checkSound(const PrintPlan& plan)
{
    std::map<std::size_t, int> times;
    std::set<std::size_t> left;
    for (const PlanLeft& l : plan.left)
        left.insert(l.piece);
    for (std::size_t i = 0; i < plan.plates.size(); ++i) {
        const Plate& p = plan.plates[i];
        CHECK(p.number == static_cast<int>(i) + 1);
        CHECK_FALSE(p.reason.empty());
        const Machine& m = plan.request.machines[p.laidOutFor];
        const NestCheck check = checkNest(placedOutlines(plan.job, p), m.bed);
        CHECK(check.leastEdgeMm >= m.marginMm - 0.002);
        CHECK(check.leastGapMm >= m.gapMm - 0.002);
        for (const PlatePiece& piece : p.pieces) {
            ++times[piece.piece];
            CHECK(plan.job.pieces[piece.piece].material == p.material);
            CHECK(plan.job.pieces[piece.piece].figures.recipe == p.recipe);
        }
    }
    for (std::size_t i = 0; i < plan.job.pieces.size(); ++i)
        CHECK((times[i] == 1 || left.contains(i)));
    CHECK(plan.earliest <= plan.finish);
    CHECK(plan.leastPlates <= plan.plates.size());
    CHECK_FALSE(plan.cautions.empty());
    for (const PlanBar& b : plan.bars) {
        CHECK(b.change >= plan.request.start);
        CHECK(b.change <= b.start);
        CHECK(b.start < b.end);
        CHECK(b.end <= b.ready);
        CHECK(b.ready <= plan.finish);
        CHECK(plan.plates[b.plate].laidOutFor == b.machine);
    }
}

} // namespace

TEST_CASE("print plan: two weeks on two machines")
{
    std::vector<test::Slab> list;
    for (int i = 0; i < 14; ++i)
        list.push_back({12 + i * 0.9, 220, 250});
    for (int i = 0; i < 30; ++i)
        list.push_back({0.4, 30, 60});
    PlateJob job = slabs(list);
    job.pieces[3].testFit = job.pieces[4].testFit = true;
    const PrintPlan plan = planned(job, request());
    checkSound(plan);
    CHECK(plan.left.empty());
    CHECK(plan.keepsDeadline == true);
    REQUIRE(plan.chance);
    CHECK(*plan.chance->kept > 0.3);
    double all = 0;
    for (const PlanChance::Bar& b : plan.chance->days)
        all += b.share;
    CHECK(all == Approx(1));
    // Long ones alone, small ones together; test fits come first on their machines.
    CHECK(plan.plates.size() <= 17);
    std::map<std::size_t, Moment> first;
    for (const PlanBar& b : plan.bars) {
        const bool test = plan.plates[b.plate].urgency == 0;
        const auto [at, isNew] = first.emplace(b.machine, b.start);
        CHECK((!test || isNew || at->second <= b.start));
        if (test)
            CHECK(plan.plates[b.plate].number <= 2);
    }
    CHECK(plan.hours == Approx(plan.use[0].hours + plan.use[1].hours));
    CHECK(plan.grams > 45 * (14 * 17.85 + 12)); // purging comes on top
    CHECK(plan.grams < 45 * (14 * 17.85 + 12) + 17 * 2.5);
    CHECK(plan.use[0].spoolChanges + plan.use[1].spoolChanges >= 9);
    // Planned again: the same, to the letter.
    CHECK(planJson(planned(job, request())) == planJson(plan));
}

TEST_CASE("print plan: of orders that end nearly alike, the one that stands failures")
{
    std::vector<test::Slab> list;
    for (int i = 0; i < 6; ++i)
        list.push_back({30.0 + i, 250, 250});
    for (int i = 0; i < 12; ++i)
        list.push_back({11 + 0.3 * i, 250, 250});
    PlanRequest r = request("2026-12-12 12:00");
    r.simulations = 2000;
    r.help = false;
    const PrintPlan sturdy = planned(slabs(list), r);
    r.sturdy = false;
    const PrintPlan first = planned(slabs(list), r);
    checkSound(sturdy);
    CHECK(sturdy.finish >= first.earliest);
    CHECK(hoursBetween(first.finish, sturdy.finish) <= 0.031 * hoursBetween(r.start, first.finish));
    // Not less likely, give or take what 2000 runs can tell (two standard errors of each).
    CHECK(*sturdy.chance->kept >= *first.chance->kept - 0.04);
}

TEST_CASE("print plan: a date that can't be kept, and what helps")
{
    std::vector<test::Slab> list;
    for (int i = 0; i < 10; ++i)
        list.push_back({14, 250, 250});
    PlanRequest r = request("2026-12-03 12:00");
    const PrintPlan plan = planned(slabs(list), r);
    checkSound(plan);
    CHECK(plan.keepsDeadline == false);
    CHECK(*plan.chance->kept == 0);
    REQUIRE_FALSE(plan.help.empty());
    CHECK(plan.verdict.find("after the deadline") != std::string::npos);
    CHECK(plan.verdict.find(plan.help.front().words) != std::string::npos);
    const auto more =
        std::find_if(plan.help.begin(), plan.help.end(), [](const auto& h) { return h.kind == "machine"; });
    REQUIRE(more != plan.help.end());
    CHECK(more->words == "One more machine like left one"); // two alike machines are one suggestion
    // The gain is what a plan with that machine says.
    r.machines.push_back(test::machine("third"));
    const PrintPlan three = planned(slabs(list), r);
    CHECK(more->finish == three.finish);
    CHECK(more->hoursGained == Approx(hoursBetween(three.finish, plan.finish)));
    for (std::size_t i = 1; i < plan.help.size(); ++i)
        CHECK(plan.help[i].hoursGained <= plan.help[i - 1].hoursGained);
}

TEST_CASE("print plan: other recipes and splitting are offered when they gain")
{
    PlateJob job = slabs({{40, 250, 250}, {5, 100, 100}});
    PieceFigures coarse = job.pieces[0].figures;
    coarse.recipe = "1.0 strong";
    coarse.hours = 15;
    coarse.lowHours = 12;
    coarse.highHours = 18;
    job.pieces[0].others = {coarse};
    const PrintPlan plan = planned(job, request("2026-12-01 12:00"));
    const auto kind = [&](const char* name) {
        return std::find_if(plan.help.begin(), plan.help.end(), [&](const auto& h) { return h.kind == name; });
    };
    REQUIRE(kind("recipe") != plan.help.end());
    CHECK(kind("recipe")->hoursGained > 10);
    CHECK(kind("recipe")->words.find("1.0 strong") != std::string::npos);
    REQUIRE(kind("split") != plan.help.end());
    CHECK(kind("split")->words.find("slab 1 (40.0 h)") != std::string::npos);
    CHECK(kind("nights") == plan.help.end()); // they run at night as it is
}

TEST_CASE("print plan: ticking off, failures, and what is being printed")
{
    const PlateJob job = slabs({{12, 250, 250}, {12, 250, 250}, {12, 250, 250}, {12, 250, 250}});
    PlanRequest r = request();
    const PrintPlan before = planned(job, r);
    CHECK(before.plates.size() == 4);
    auto progress = withReport({}, {"slab/1", PieceState::Printed, moment("2026-12-01 08:00"), "left one", 600, 13.5});
    REQUIRE(progress);
    progress = withReport(*progress, {"slab/2", PieceState::Failed, moment("2026-12-01 08:00"), "right one", {}, {}});
    REQUIRE(progress);
    progress = withReport(*progress, {"slab/3", PieceState::Printing, moment("2026-12-01 09:00"), "left one", {}, 20});
    REQUIRE(progress);
    r.progress = *progress;
    r.start = moment("2026-12-01 10:00");
    const PrintPlan after = planned(job, r);
    checkSound(after);
    CHECK(after.piecesAll == 4);
    CHECK(after.piecesDone == 2);
    CHECK(after.printedGrams == 600);
    CHECK(after.printedHours == 13.5);
    CHECK(after.plates.size() == 2);
    for (const PlanBar& b : after.bars) {
        // The left one is busy until 5 in the morning of the second, and free when somebody comes.
        if (b.machine == 0)
            CHECK(b.change >= moment("2026-12-02 08:00"));
        for (const PlatePiece& p : after.plates[b.plate].pieces)
            if (after.job.pieces[p.piece].id == "slab/2")
                CHECK(after.job.pieces[p.piece].failed == 1);
    }
    // All printed.
    for (const char* id : {"slab/1", "slab/2", "slab/3", "slab/4"}) {
        progress = withReport(r.progress, {id, PieceState::Printed, moment("2026-12-04 08:00"), "", {}, {}});
        r.progress = *progress;
    }
    const PrintPlan done = planned(job, r);
    CHECK(done.plates.empty());
    CHECK(done.verdict == "Everything is printed.");
    CHECK(done.printedGrams == Approx(4 * 12 * 45)); // as estimated where nothing was weighed
    // Reports that can't be.
    CHECK_FALSE(withReport({}, {"x", PieceState::Printed, {}, "", -1, {}}));
    CHECK_FALSE(withReport({}, {"x", PieceState::Printing, {}, "", {}, {}}));
    r.progress = *withReport({}, {"gone/7", PieceState::Printed, {}, "", {}, {}});
    CHECK(planned(job, r).notes.size() == 1);
}

TEST_CASE("print plan: spools, what to buy and by when")
{
    // 4 x 20 h at 45 g/h: 3600 g and purging; two full spools and 500 g are there.
    PlateJob job = slabs({{20, 250, 250}, {20, 250, 250}, {20, 250, 250}, {20, 250, 250}});
    PlanRequest r = request();
    r.stock = {{"PLA", 2, 1000, 500, 25}};
    for (Machine& m : r.machines)
        m.failure.rate = 0;
    const PrintPlan plan = planned(job, r);
    REQUIRE(plan.spools.size() == 1);
    const SpoolNeed& need = plan.spools[0];
    CHECK(need.grams == Approx(3600 + 4 * 2));
    CHECK(need.spareGrams == 0);
    CHECK(need.shortGrams == Approx(3608 - 2500));
    CHECK(need.buySpools == 2);
    CHECK(need.cost == Approx(3.608 * 25));
    REQUIRE(need.shortFrom); // the third plate goes beyond 2500 g
    std::vector<Moment> starts;
    for (const PlanBar& b : plan.bars)
        starts.push_back(b.start);
    std::sort(starts.begin(), starts.end());
    CHECK(*need.shortFrom == starts[2]);
    // Each machine: 900 g, then 98 g are left, so that another spool goes on before the second plate.
    CHECK(plan.use[0].spoolChanges == 1);
    for (const SpoolChange& c : plan.spoolChanges)
        CHECK((c.beforeStart || c.attended));
    r.stock[0].spools = 9;
    CHECK(planned(job, r).spools[0].buySpools == 0);
    CHECK_FALSE(planned(job, r).spools[0].shortFrom);
    job.pieces[0].material = "PETG";
    const PrintPlan two = planned(job, r);
    CHECK(two.spools.size() == 2);
    CHECK_FALSE(two.spools[0].stockKnown); // PETG
    for (const Plate& p : two.plates)
        CHECK(p.pieces.size() == 1);
}

TEST_CASE("print plan: pieces that no machine takes are named, with what to do")
{
    PlateJob job = slabs({{5, 250, 250}, {5, 350, 250}, {5, 100, 100}, {5, 100, 100}, {70, 100, 100}});
    job.pieces[2].heightMm = 500;
    job.pieces[3].figures.nozzleMm = 0.8;
    PlanRequest r = request();
    for (Machine& m : r.machines) {
        m.nozzleMm = 0.4;
        m.calendar.nights = m.calendar.weekends = false;
    }
    const PrintPlan plan = planned(job, r);
    checkSound(plan);
    CHECK(plan.left.size() == 4);
    CHECK(plan.keepsDeadline == false);
    CHECK(*plan.chance->kept == 0);
    std::map<std::size_t, std::string> why;
    for (const PlanLeft& l : plan.left)
        why[l.piece] = l.why;
    CHECK(why[1].find("350.0 x 250.0") != std::string::npos);
    CHECK(why[2].find("500.0 mm high") != std::string::npos);
    CHECK(why[3].find("recipe") != std::string::npos);
    CHECK(why[4].find("70.1 h in one go") != std::string::npos);
    const auto night =
        std::find_if(plan.help.begin(), plan.help.end(), [](const auto& h) { return h.kind == "nights"; });
    REQUIRE(night != plan.help.end()); // from Monday to Thursday
    CHECK(night->piecesGained == 1);
    CHECK(plan.help.front().piecesGained == 1);
    CHECK(gainWords(*night).find("1 more piece can be printed") == 0);
}

TEST_CASE("print plan: requests that can't be planned")
{
    PlateJob job = slabs({{5, 100, 100}});
    PlanRequest r = request();
    CHECK_FALSE(planPrinting({}, r));
    r.machines.clear();
    CHECK_FALSE(planPrinting(job, r));
    r = request();
    r.machines[1].name = "LEFT one";
    CHECK(planPrinting(job, r).problem().what.find("two machines") != std::string::npos);
    r = request("2026-11-30 08:00");
    CHECK_FALSE(planPrinting(job, r));
    r = request();
    r.machines[0].speedFactor = 0;
    CHECK_FALSE(planPrinting(job, r));
    r = request();
    job.pieces[0].figures.hours = 0;
    CHECK_FALSE(planPrinting(job, r));
    job = slabs({{5, 100, 100}, {5, 100, 100}});
    job.pieces[1].id = job.pieces[0].id;
    CHECK_FALSE(planPrinting(job, r));
    Context cancelled;
    cancelled.cancel();
    const auto stopped = planPrinting(slabs({{5, 100, 100}}), r, cancelled);
    REQUIRE_FALSE(stopped);
    CHECK(stopped.problem().reason == Reason::Cancelled);
}
