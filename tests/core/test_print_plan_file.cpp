// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/print_plan_file.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"
#include "tests/support/shop.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace quoin;
using namespace quoin::core;
using test::moment;

namespace {

PlanDocument document()
{
    PlanDocument d;
    d.request = test::request();
    for (Machine& m : d.request.machines)
        m.bed.name.clear();
    d.request.testFits = TestFits::FirstAndWait;
    d.request.plates.mostHours = 12.5;
    d.request.sturdy = false;
    d.recipe = "0.8 strong";
    d.first = {"neck/3"};
    d.quantities = {{"leg", 2}};
    d.coupon = "some/where";
    d.plates = {{"neck/1", "neck/2"}, {"neck/3"}};
    d.request.progress =
        *withReport({}, {"neck/1", PieceState::Printed, moment("2026-12-01 10:00"), "left one", 512.5, 11.25});
    d.request.progress =
        *withReport(d.request.progress, {"neck/2", PieceState::Failed, moment("2026-12-01 11:00"), "", {}, {}});
    return d;
}

} // namespace

TEST_CASE("plan file: kept and read back")
{
    const test::ScratchFolder scratch;
    const auto file = scratch / "heron.plan.json";
    REQUIRE(savePlan(document(), file));
    const auto back = loadPlan(file);
    REQUIRE(back);
    const PlanDocument d = document();
    CHECK(back->request.start == d.request.start);
    CHECK(back->request.deadline == d.request.deadline);
    CHECK(back->request.testFits == d.request.testFits);
    CHECK(back->request.plates.mostHours == 12.5);
    CHECK(back->request.progress == d.request.progress);
    CHECK_FALSE(back->request.sturdy);
    CHECK(back->recipe == d.recipe);
    CHECK(back->first == d.first);
    CHECK(back->quantities == d.quantities);
    CHECK(back->coupon == d.coupon);
    CHECK(back->plates == d.plates);
    auto machines = back->request.machines;
    for (Machine& m : machines)
        m.bed.name.clear();
    CHECK(machines == d.request.machines);
    REQUIRE(savePlan(d, file)); // over itself
    // Not over anything else.
    test::putContent(scratch / "other.json", "{}");
    CHECK(savePlan(d, scratch / "other.json").problem().reason == Reason::FileExists);
    CHECK(test::contentOf(scratch / "other.json") == "{}");
}

TEST_CASE("plan file: damaged ones name the place")
{
    const test::ScratchFolder scratch;
    const auto file = scratch / "heron.plan.json";
    REQUIRE(savePlan(document(), file));
    const std::string good = test::contentOf(file);
    const auto placeWith = [&](const std::string& from, const std::string& to) {
        std::string text = good;
        const auto at = text.find(from);
        REQUIRE(at != std::string::npos);
        test::putContent(file, text.replace(at, from.size(), to));
        const auto read = loadPlan(file);
        REQUIRE_FALSE(read);
        return read.problem().place;
    };
    CHECK(placeWith("\"start\": \"2026-11-30 08:00\"", "\"start\": \"soon\"") == "/start");
    CHECK(placeWith("\"state\": \"printed\"", "\"state\": \"lost\"") == "/reports/0/state");
    CHECK(placeWith("\"grams\": 512.5", "\"grams\": -1") == "/reports/0/grams");
    CHECK(placeWith("first and wait", "sometimes") == "/test_fits");
    CHECK(placeWith("\"leg\": 2", "\"leg\": 0") == "/quantities/leg");
    CHECK(placeWith("quoin plan", "quoin design") == "/kind");
    CHECK(placeWith("\"version\": 1", "\"version\": 9") == "/version");
    for (std::size_t n = 0; n + 2 < good.size(); n += 61) {
        test::putContent(file, good.substr(0, n));
        CHECK_FALSE(loadPlan(file));
    }
    CHECK(loadPlan(scratch / "none").problem().reason == Reason::FileMissing);
}

TEST_CASE("plan file: reports of a piece, and of a whole plate shared out")
{
    const PlateJob job = test::slabs({{2, 50, 50}, {6, 50, 50}, {5, 250, 250}});
    PlanDocument d;
    d.plates = {{"slab/1", "slab/2"}, {"slab/3"}};
    const PieceReport said{{}, PieceState::Printed, moment("2026-12-01 10:00"), "left one", 400, 10};
    const auto both = reportsFor(job, d, "Plate 1", said);
    REQUIRE(both);
    REQUIRE(both->size() == 2);
    CHECK((*both)[0].piece == "slab/1");
    CHECK(*(*both)[0].grams == Approx(100)); // 2 h of 8
    CHECK(*(*both)[1].hours == Approx(7.5));
    const auto one = reportsFor(job, d, "slab 3", said);
    REQUIRE(one);
    CHECK(one->size() == 1);
    CHECK(one->front().piece == "slab/3");
    CHECK(*one->front().grams == Approx(400));
    PieceReport now = said;
    now.state = PieceState::Printing;
    CHECK(*reportsFor(job, d, "plate 1", now)->front().hours == 10); // the machine is busy for the whole plate
    CHECK_FALSE(reportsFor(job, d, "plate 3", said));
    CHECK_FALSE(reportsFor(job, {}, "plate 1", said));
    // Two pieces on one plate keep their machine for the hours of both.
    PlanRequest r = test::request();
    for (const char* id : {"slab/1", "slab/2"})
        r.progress = *withReport(r.progress, {id, PieceState::Printing, r.start, "left one", {}, {}});
    const auto plan = planPrinting(job, r);
    REQUIRE(plan);
    REQUIRE(plan->bars.size() == 1);
    CHECK(plan->notes.size() == 1);
    CHECK(plan->notes[0].text.find("8 h 6 min") != std::string::npos); // 8 h and starting up
}

TEST_CASE("plan file: where it lies")
{
    CHECK(planFileOf("some/heron") == "some/heron.plan.json");
    CHECK(planFileOf("some/heron/") == "some/heron.plan.json");
    CHECK(planFileOf("some/heron.quoin.json") == "some/heron.plan.json");
    CHECK(planFileOf("heron") == "heron.plan.json");
}

TEST_CASE("plan files: what goes beside the PDF")
{
    const test::ScratchFolder scratch;
    auto job = test::slabs({{12, 250, 250}, {5, 100, 100}, {5, 100, 100}});
    job.pieces[1].name = "=1+1, \"quoted\" <b>";
    const auto plan = planPrinting(job, test::request());
    REQUIRE(plan);
    test::putContent(scratch / "plate-03.svg", "of an earlier plan");
    test::putContent(scratch / "plan.json", R"({"kind": "quoin print plan"})");
    test::putContent(scratch / "mine.txt", "stays");
    const auto files = writePlanFiles(*plan, "heron", "2026-11-29T08:00:00Z", scratch.path());
    REQUIRE(files);
    REQUIRE(plan->plates.size() == 2);
    for (const char* name :
         {"plan.json", "plan.csv", "pieces.csv", "plan.ics", "chart.svg", "plate-01.svg", "plate-02.svg", "mine.txt"}) {
        INFO(name);
        CHECK(std::filesystem::exists(scratch / name));
    }
    CHECK_FALSE(std::filesystem::exists(scratch / "plate-03.svg"));
    const std::string csv = test::contentOf(scratch / "pieces.csv");
    CHECK(std::count(csv.begin(), csv.end(), '\n') == 4);
    CHECK(csv.find("\"'=1+1, \"\"quoted\"\" <b>\"") != std::string::npos); // RFC 4180, and no formula
    // SVG in mm: 300 mm of plate and 5 either side; text escaped (XML 1.0).
    std::string svg;
    for (const char* name : {"plate-01.svg", "plate-02.svg"})
        svg += test::contentOf(scratch / name);
    CHECK(svg.find("width=\"310mm\"") != std::string::npos);
    CHECK(svg.find("&lt;b&gt;") != std::string::npos);
    CHECK(svg.find("<b>") == std::string::npos);
    const std::string json = test::contentOf(scratch / "plan.json");
    CHECK(nlohmann::json::parse(json)["bars"].size() == 2);
    CHECK_FALSE(nlohmann::json::parse(json)["cautions"].empty());
    CHECK(test::contentOf(scratch / "chart.svg").find("deadline Mon 14 Dec 12:00") != std::string::npos);
}

TEST_CASE("plan files: what somebody else put into the folder is neither written over nor taken away")
{
    const test::ScratchFolder scratch;
    const auto plan = planPrinting(test::slabs({{12, 250, 250}}), test::request());
    REQUIRE(plan);
    const char* stamp = "2026-11-29T08:00:00Z";
    // An export has a pieces.csv of its own.
    test::putContent(scratch / "pieces.csv", "an export's");
    test::putContent(scratch / "plate-09.svg", "a drawing");
    const auto refused = writePlanFiles(*plan, "heron", stamp, scratch.path());
    REQUIRE_FALSE(refused);
    CHECK(refused.problem().reason == Reason::FileExists);
    CHECK(refused.problem().file.find("pieces.csv") != std::string::npos);
    CHECK(test::contentOf(scratch / "pieces.csv") == "an export's");
    CHECK_FALSE(std::filesystem::exists(scratch / "plan.json"));
    // Without tables there is nothing in the way.
    const auto some = writePlanFiles(*plan, "heron", stamp, scratch.path(), {false, true, false});
    REQUIRE(some);
    CHECK(some->names == std::vector<std::string>{"plan.json", "plan.ics"});
    CHECK(std::filesystem::exists(scratch / "plate-09.svg"));
    // What the caller writes counts, too; a plan.json of another kind marks nothing.
    const test::ScratchFolder other;
    test::putContent(other / "plan.pdf", "mine");
    CHECK_FALSE(writePlanFiles(*plan, "heron", stamp, other.path(), {}, {"plan.pdf"}));
    test::putContent(other / "plan.json", R"({"kind": "my plan"})");
    CHECK_FALSE(writePlanFiles(*plan, "heron", stamp, other.path(), {}, {}));
}

TEST_CASE("plan files: recipes of parts are kept")
{
    const test::ScratchFolder scratch;
    PlanDocument told;
    told.request = test::request();
    told.recipes = {{"neck", "0.6 strong"}, {"leg", "1.0 standard"}};
    REQUIRE(savePlan(told, scratch / "a.plan.json"));
    const auto back = loadPlan(scratch / "a.plan.json");
    REQUIRE(back);
    CHECK(back->recipes == told.recipes);
}
