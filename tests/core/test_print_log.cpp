// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/csv_text.h"
#include "core/print_log.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::core;
using namespace quoin::test;

namespace {

PrintedRow row(const char* piece)
{
    return {"2026-11-20", piece, "0.6 standard", "PLA", "big one", 512.25, 11.5, 1.25, 530, 14};
}

Problem refused(PrintedRow r)
{
    const auto log = PrintLog().withRow(std::move(r));
    REQUIRE_FALSE(log.ok());
    CHECK(log.problem().reason == Reason::BadArgument);
    CHECK_FALSE(log.problem().remedy.empty());
    return log.problem();
}

} // namespace

TEST_CASE("print log: kept in a file and read back as it was")
{
    const ScratchFolder folder;
    PrintLog log = *PrintLog().withRow(row("neck 1"));
    log = *log.withRow(row("neck 2, \"upper\""));
    REQUIRE(log.save(folder / "deep/prints.json").ok());
    const auto back = PrintLog::load(folder / "deep/prints.json");
    REQUIRE(back.ok());
    CHECK(back->rows() == log.rows());
    CHECK(PrintLog::load(folder / "nothing.json")->rows().empty());
    CHECK(log.withoutRow(1)->rows().front().piece == "neck 2, \"upper\"");
    CHECK_FALSE(log.withoutRow(0).ok());
    CHECK_FALSE(log.withoutRow(3).ok());
}

TEST_CASE("print log: a damaged file is named with the place, and not written over")
{
    const ScratchFolder folder;
    putContent(folder / "prints.json",
              R"({"kind": "quoin prints", "version": 1, "prints": [{"piece": "a", "model_g": 10, "model_extrusion_h": 1,
                  "model_overhead_h": 0, "actual_g": "much", "actual_h": 1}]})");
    const auto bad = PrintLog::load(folder / "prints.json");
    REQUIRE_FALSE(bad.ok());
    CHECK(bad.problem().place == "/prints/0/actual_g");
    putContent(folder / "prints.json", R"({"kind": "quoin prints", "version": 9, "prints": []})");
    CHECK(PrintLog::load(folder / "prints.json").problem().reason == Reason::VersionTooNew);
    putContent(folder / "prints.json", R"({"kind": "quoin fits", "version": 1, "prints": []})");
    CHECK_FALSE(PrintLog::load(folder / "prints.json").ok());
}

TEST_CASE("print log: rows that can't be are refused in words")
{
    PrintedRow r = row("a");
    r.actualGrams = r.actualHours = 0;
    CHECK(refused(r).what.find("neither") != std::string::npos);
    r = row("a");
    r.actualGrams = 530000; // milligrams
    CHECK(refused(r).what.find("20 times off") != std::string::npos);
    r = row("a");
    r.actualHours = 14 * 60; // minutes
    CHECK(refused(r).what.find("20 times off") != std::string::npos);
    r = row("a");
    r.actualHours = -1;
    refused(r);
    r = row("a");
    r.modelGrams = 0;
    refused(r);
    r = row("a");
    r.date = "20.11.2026";
    refused(r);
    r = row("a\nb");
    refused(r);
}

TEST_CASE("print log: to a spreadsheet and back")
{
    PrintLog log = *PrintLog().withRow(row("wing, left"));
    log = *log.withRow(row("plain"));
    const std::string csv = log.csv();
    CHECK(csv.find(
              "date,piece,recipe,material,machine,model_g,model_extrusion_h,model_overhead_h,actual_g,actual_h\r\n") ==
          0);
    CHECK(csv.find("\"wing, left\"") != std::string::npos);
    CHECK(PrintLog().withCsv(csv)->rows() == log.rows());
    CHECK(log.withCsv(csv)->rows() == log.rows()); // nothing twice
    // Columns in another order, some missing, semicolons, plain line feeds.
    const auto other = PrintLog().withCsv(
        "actual_h;actual_g;piece;model_g;model_overhead_h;model_extrusion_h\n14;;x;512.25;1.25;11.5\n\n");
    REQUIRE(other.ok());
    REQUIRE(other->rows().size() == 1);
    CHECK(other->rows()[0].actualGrams == 0);
    CHECK(other->rows()[0].modelExtrusionHours == 11.5);
}

TEST_CASE("print log: a spreadsheet with a mistake adds nothing and names the line")
{
    const std::string head = "piece,model_g,model_extrusion_h,model_overhead_h,actual_g,actual_h\n";
    const auto place = [&](const std::string& text) {
        const auto log = PrintLog().withCsv(text);
        REQUIRE_FALSE(log.ok());
        CHECK(log.problem().reason == Reason::FileMalformed);
        return log.problem().place;
    };
    CHECK(place(head + "a,10,1,0,11,1\nb,ten,1,0,11,1\n") == "line 3, column model_g");
    CHECK(place(head + "a,10,1,0,900,1\n") == "line 2");
    CHECK(place("piece,model_g\na,1\n") == "line 1, column model_extrusion_h");
    CHECK(place("") == "line 1");
    CHECK(place(head + "\"a,10,1,0,11,1\n") == "line 2");
}

TEST_CASE("csv text: fields as RFC 4180 has them")
{
    const auto lines = csvLines("\xEF\xBB\xBF"
                                "a,\"b \"\"c\"\"\",\r\n\"two\nlines\",x\r\n\r\nlast");
    REQUIRE(lines.ok());
    REQUIRE(lines->size() == 3);
    CHECK((*lines)[0].fields == std::vector<std::string>{"a", "b \"c\"", ""});
    CHECK((*lines)[1].fields == std::vector<std::string>{"two\nlines", "x"});
    CHECK((*lines)[2].fields == std::vector<std::string>{"last"});
    CHECK((*lines)[2].number == 5);
    CHECK(csvField("a\"b") == "\"a\"\"b\"");
    CHECK(csvField("plain") == "plain");
}
