// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fit_table.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

#include <limits>

using namespace quoin;
using namespace quoin::core;
using namespace quoin::test;
using Origin = FoundFit::Origin;

namespace {

FitRow row(const char* material, const char* machine, FitProcess process, double tightMm)
{
    return {material,    machine, process, tightMm + 0.3, tightMm + 0.2, tightMm + 0.1, tightMm, "measured on a part",
            "2026-11-25"};
}

FitTable tableOf(std::initializer_list<FitRow> rows)
{
    FitTable table;
    for (const FitRow& r : rows)
        table = *table.withRow(r);
    return table;
}

} // namespace

TEST_CASE("fit table: what is shipped is common practice, tight to wide, for every material and process")
{
    for (const FitRow& r : shippedFits()) {
        INFO(r.material << " " << processName(r.process));
        CHECK(checkFitRow(r).ok());
        CHECK(r.source == "common practice, no source");
        // Press 0.10-0.15, sliding 0.2-0.3, loose 0.3-0.5 mm per side; printed threads 0.2-0.5 (common practice, no
        // source).
        if (r.process == FitProcess::Thread) {
            CHECK(r.pressMm >= 0.2);
            CHECK(r.freeMm <= 0.5);
        } else {
            CHECK((r.pressMm >= 0.10 && r.pressMm <= 0.15));
            CHECK((r.slidingMm >= 0.2 && r.slidingMm <= 0.3));
            CHECK((r.freeMm >= 0.3 && r.freeMm <= 0.5));
        }
    }
    CHECK(shippedFits().size() == 4 * (shippedMaterials().size() + 1));
    const FitTable table;
    for (const Material& m : shippedMaterials()) {
        CHECK(clearanceFor(table, m.name, "", FitProcess::Dowel, Fit::Sliding) == m.slidingMm);
        CHECK(clearanceFor(table, m.name, "", FitProcess::Thread, Fit::Sliding) > m.slidingMm);
    }
    CHECK(table.lookup("pla", "any printer", FitProcess::Key).origin == Origin::Shipped);
    const FoundFit unknown = table.lookup("unobtainium", "", FitProcess::Key);
    CHECK(unknown.origin == Origin::ShippedAnyMaterial);
    CHECK(unknown.row.snugMm == 0.20); // the widest of the shipped
    CHECK(unknown.words() ==
          "shipped row for printed key in printed pocket, any material (common practice, no source)");
}

TEST_CASE("fit table: own rows come first, the most specific of all")
{
    const FitTable table = tableOf({row("", "", FitProcess::Dowel, 0.11), row("PLA", "", FitProcess::Dowel, 0.12),
                                    row("PLA", "big one", FitProcess::Dowel, 0.13)});
    const auto found = [&](const char* material, const char* machine, FitProcess process = FitProcess::Dowel) {
        return table.lookup(material, machine, process);
    };
    CHECK(found("PLA", "big one").origin == Origin::OwnMachine);
    CHECK(found("pla", "Big One").row.pressMm == 0.13);
    CHECK(found("PLA", "small one").origin == Origin::OwnMaterial);
    CHECK(found("PLA", "").row.pressMm == 0.12);
    CHECK(found("PETG", "big one").origin == Origin::OwnProcess);
    CHECK(found("", "").row.pressMm == 0.11);
    CHECK(found("PLA", "big one", FitProcess::Thread).origin == Origin::Shipped);
    CHECK(clearanceFor(table, "PLA", "big one", FitProcess::Dowel, Fit::Free) == Approx(0.43));
    CHECK(found("PLA", "big one").words() ==
          "your own row for printed dowel in printed bore, PLA on big one (measured on a part)");
}

TEST_CASE("fit table: a row for the same things takes the place of the old one, and can be taken away")
{
    const FitTable one = tableOf({row("PLA", "big one", FitProcess::Thread, 0.2)});
    const FitTable other = *one.withRow(row("pla", "BIG ONE", FitProcess::Thread, 0.25));
    REQUIRE(other.own().size() == 1);
    CHECK(other.own()[0].pressMm == 0.25);
    CHECK(one.own()[0].pressMm == 0.2); // a value: the old one is as it was
    CHECK(other.withoutRow("PLA", "big one", FitProcess::Thread)->own().empty());
    const auto none = other.withoutRow("PLA", "", FitProcess::Thread);
    REQUIRE_FALSE(none.ok());
    CHECK(none.problem().sentence().find("printed thread, PLA") != std::string::npos);
}

TEST_CASE("fit table: rows that can't be")
{
    const auto refusal = [](FitRow r) {
        const auto result = FitTable{}.withRow(std::move(r));
        REQUIRE_FALSE(result.ok());
        CHECK(result.problem().reason == Reason::BadArgument);
        return result.problem().what;
    };
    FitRow r = row("PLA", "", FitProcess::Dowel, 0.1);
    r.snugMm = 0.35;
    CHECK(refusal(r).find("tight to wide") != std::string::npos);
    r = row("PLA", "", FitProcess::Dowel, 0.1);
    r.freeMm = std::numeric_limits<double>::quiet_NaN();
    CHECK(refusal(r).find("free clearance") != std::string::npos);
    CHECK(refusal(row("PLA", "", FitProcess::Dowel, -0.6)).find("press clearance") != std::string::npos);
    CHECK(refusal(row("PLA", "", FitProcess::Dowel, 4.9)).find("free clearance") != std::string::npos);
    CHECK(refusal(row("", "big one", FitProcess::Dowel, 0.1)).find("needs its material") != std::string::npos);
    CHECK(refusal(row("PLA ", "", FitProcess::Dowel, 0.1)).find("blank") != std::string::npos);
    CHECK(refusal(row("PLA", "big\none", FitProcess::Dowel, 0.1)).find("machine") != std::string::npos);
    CHECK(FitTable{}.withRow(row("PLA", "", FitProcess::Dowel, -0.1)).ok()); // an interference is a press fit
    CHECK_FALSE(processFromText("glue").ok());
    CHECK(*processFromText("Rod") == FitProcess::Rod);
    CHECK(*processFromText("printed key in printed pocket") == FitProcess::Key);
}

TEST_CASE("fit table: saved and read back")
{
    const ScratchFolder scratch;
    const auto file = scratch.path() / "new" / "fits.json";
    CHECK(FitTable::load(file)->own().empty()); // not there yet
    const FitTable table = tableOf({row("PLA", "big one", FitProcess::Thread, 0.2), row("", "", FitProcess::Rod, -0.05),
                                    row("caf\xE9 \xFF", "", FitProcess::Key, 0.1)});
    REQUIRE(table.save(file).ok());
    const auto again = FitTable::load(file);
    REQUIRE(again.ok());
    CHECK(again->own() == table.own());
    REQUIRE(FitTable{}.save(file).ok());
    CHECK(FitTable::load(file)->own().empty());
    putContent(scratch / "plain", "x");
    CHECK(table.save(scratch.path() / "plain" / "fits.json").problem().reason == Reason::FileUnwritable);
}

TEST_CASE("fit table: a damaged file is refused with its place")
{
    const ScratchFolder scratch;
    const auto file = scratch / "fits.json";
    REQUIRE(tableOf({row("PLA", "", FitProcess::Key, 0.1), row("PLA", "", FitProcess::Rod, 0.1)}).save(file).ok());
    const std::string good = contentOf(file);
    const auto problem = [&](const std::string& from, const std::string& to) {
        std::string text = good;
        REQUIRE(text.find(from) != std::string::npos);
        text.replace(text.rfind(from), from.size(), to);
        putContent(file, text);
        const auto table = FitTable::load(file);
        REQUIRE_FALSE(table.ok());
        CHECK(table.problem().file == file.string());
        CHECK(contentOf(file) == text);
        return table.problem();
    };
    CHECK(problem("\"snug_mm\": 0.2", "\"snug_mm\": \"0.2\"").place == "/rows/1/snug_mm");
    CHECK(problem("\"snug_mm\": 0.2", "\"snug_mm\": 0.9").place == "/rows/1");
    CHECK(problem("\"rod\"", "\"wheel\"").place == "/rows/1/process");
    CHECK(problem("\"rod\"", "\"key\"").what.find("earlier row") != std::string::npos);
    CHECK(problem("\"process\"", "\"proces\"").what.find("\"process\" is missing") != std::string::npos);
    CHECK(problem("quoin fits", "quoin beds").place == "/kind");
    CHECK(problem("\"version\": 1", "\"version\": 2").reason == Reason::VersionTooNew);
    CHECK(problem("]", "").reason == Reason::FileMalformed);
    putContent(file, "");
    CHECK_FALSE(FitTable::load(file).ok());
}

TEST_CASE("fit table: a bore for a bought rod clears its largest, and says how loose the smallest sits")
{
    const FitTable table = tableOf({{"PLA", "", FitProcess::Rod, 0.40, 0.25, 0.15, 0.10, "", ""}});
    // ISO 286: h11 at 10 mm is 0/-90 um, h6 0/-9 um; k6 at 20 mm +15/+2 um. Per side: half.
    auto bore = rodBore(table, "PLA", "", Fit::Snug, "h11", 10);
    REQUIRE(bore.ok());
    CHECK(bore->clearanceMm == Approx(0.15));
    CHECK(bore->leastMm == Approx(0.15));
    CHECK(bore->mostMm == Approx(0.195));
    CHECK(bore->loosest == Fit::Snug);
    bore = rodBore(table, "PLA", "", Fit::Press, "h11", 25); // 0/-130 um: the smallest is snug only
    CHECK(bore->mostMm == Approx(0.165));
    CHECK(bore->loosest == Fit::Snug);
    bore = rodBore(table, "PLA", "", Fit::Press, "h6", 10);
    CHECK(bore->mostMm == Approx(0.1045));
    CHECK(bore->loosest == Fit::Press);
    bore = rodBore(table, "PLA", "", Fit::Sliding, "k6", 20);
    CHECK(bore->clearanceMm == Approx(0.2575));
    CHECK(bore->mostMm == Approx(0.2565));
    bore = rodBore(table, "PLA", "", Fit::Free, "", 900); // wood, as measured
    CHECK(bore->clearanceMm == 0.40);
    CHECK(bore->mostMm == 0.40);
    CHECK_FALSE(rodBore(table, "PLA", "", Fit::Free, "H7", 10).ok());
    CHECK_FALSE(rodBore(table, "PLA", "", Fit::Free, "h6", 900).ok());
}
