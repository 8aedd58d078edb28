// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"
#include "mesh/write_model.h"
#include "tests/app/command.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cmath>

using namespace quoin;
using namespace quoin::test;
using nlohmann::json;
namespace fs = std::filesystem;

namespace {

/// A box cut into pieces, exported; the design beside it. Made once, copied for each test.
fs::path exportedBox(const ScratchFolder& scratch)
{
    static const ScratchFolder made;
    if (!fs::exists(made / "box")) {
        const auto model = made / "box.stl";
        REQUIRE(mesh::writeStl(model, mesh::box({0, 0, 0}, {20, 8, 6})).ok());
        const Ran r = quoinRan({"split", model.string(), "--scale", "10", "--bed", "150x180x200", "--seconds", "1",
                                "--no-pictures", "--out", (made / "box").string(), "--save",
                                (made / "box-design.quoin.json").string()});
        INFO(r.output << r.error);
        REQUIRE(r.status == 0);
    }
    fs::copy(made.path(), scratch.path(), fs::copy_options::recursive);
    return scratch / "box";
}

json planOf(std::vector<std::string> arguments)
{
    arguments.insert(arguments.begin(), "plan");
    arguments.push_back("--json");
    const Ran r = quoinRan(arguments);
    INFO(r.output << r.error);
    REQUIRE(r.status == 0);
    return json::parse(r.output);
}

} // namespace

TEST_CASE("command line: machines are kept, changed and forgotten")
{
    CHECK(quoinRan({"machines", "set", "big one"}).status == 2); // no bed
    Ran r = quoinRan({"machines", "set", "big one", "--bed", "300x300x400", "--attended", "mon-fri 8-18, sat 9-12",
                      "--nights", "no", "--failures", "0.4/100h", "--speed", "1.2", "--away", "2026-12-24"});
    INFO(r.output << r.error);
    REQUIRE(r.status == 0);
    CHECK(r.output.find("attended mon-fri 8-18, sat 9-12, not at night, runs at weekends") != std::string::npos);
    CHECK(quoinRan({"machines", "set", "second", "--like", "big one", "--failures", "5%"}).status == 0);
    CHECK(quoinRan({"machines", "stock", "PLA", "--spools", "2", "--open", "300", "--price", "24"}).status == 0);
    const json list = json::parse(quoinRan({"machines", "list", "--json"}).output);
    REQUIRE(list["machines"].size() == 2);
    CHECK(list["machines"][1]["speed_factor"] == 1.2);
    CHECK(list["machines"][1]["failures_per"] == "print");
    CHECK(list["machines"][1]["failure_rate"] == 0.05);
    CHECK(list["machines"][0]["away"] == json::array({"2026-12-24"}));
    CHECK(list["stock"][0]["open_g"] == 300);
    for (const std::vector<std::string>& wrong : {std::vector<std::string>{"--attended", "sometimes"},
                                                  {"--nights", "maybe"},
                                                  {"--failures", "often"},
                                                  {"--bed", "small"},
                                                  {"--speed", "0"},
                                                  {"--away", "christmas"}}) {
        std::vector<std::string> all{"machines", "set", "big one"};
        all.insert(all.end(), wrong.begin(), wrong.end());
        CHECK(quoinRan(all).status == 2);
    }
    CHECK(json::parse(quoinRan({"machines", "list", "--json"}).output) == list); // nothing has changed
    CHECK(quoinRan({"machines", "remove", "second"}).status == 0);
    CHECK(quoinRan({"machines", "remove", "second"}).status == 2);
    CHECK(quoinRan({"machines", "remove", "big one"}).status == 0);
    CHECK(quoinRan({"machines", "stock", "PLA", "--spools", "0", "--open", "0", "--price", "0"}).status == 0);
}

TEST_CASE("command line: a plan from an export, ticked off and made again")
{
    const ScratchFolder scratch;
    const fs::path box = exportedBox(scratch);
    CHECK(quoinRan({"plan", box.string()}).status == 2); // no machine, no start
    CHECK(quoinRan({"plan", box.string(), "--machine", "150x180x200"}).error.find("--start") != std::string::npos);
    const auto out = scratch / "plan";
    const json plan = planOf({box.string(), "--machine", "150x180x200", "--machine", "d220x250", "--start",
                              "2026-11-30 08:00", "--deadline", "2026-12-14 12:00", "--out", out.string()});
    CHECK(plan["pieces"].get<int>() >= 3);
    CHECK(plan["cant_print"].empty());
    CHECK(plan["chance"]["kept"].is_number());
    std::string printed;
    for (const json& p : plan["plates"])
        for (const json& piece : p["pieces"])
            printed = printed.empty() ? piece["id"].get<std::string>() : printed;
    for (const char* name :
         {"plan.json", "plan.csv", "pieces.csv", "plan.ics", "plan.pdf", "chart.svg", "plate-01.svg"})
        CHECK(fs::file_size(out / name) > 100);
    CHECK(contentOf(out / "plan.pdf").substr(0, 5) == "%PDF-");
    CHECK(json::parse(contentOf(out / "plan.json")) == plan);
    // What was told is remembered; reports come in.
    CHECK(planOf({box.string()}) == plan);
    const json later = planOf({box.string(), "--start", "2026-12-01 08:00", "--done", printed, "--grams", "210.5",
                               "--hours", "6.5", "--on", "150x180x200"});
    CHECK(later["pieces_done"] == 1);
    CHECK(later["printed_grams"] == 210.5);
    CHECK(later["start"] == "2026-12-01 08:00");
    CHECK(planOf({box.string()})["pieces_done"] == 1);
    CHECK(planOf({box.string(), "--failed", printed})["pieces_done"] == 0);
    CHECK(planOf({box.string(), "--done", "plate 1", "--grams", "100"})["pieces_done"].get<int>() >= 1);
    CHECK(planOf({box.string(), "--failed", printed})["pieces_done"].is_number());
    const fs::path kept = scratch / "box.plan.json";
    const std::string before = contentOf(kept);
    CHECK(json::parse(before)["reports"].size() >= 4);
    for (const std::vector<std::string>& wrong : {std::vector<std::string>{"--done", "nothing"},
                                                  {"--done", printed, "--grams", "-3"},
                                                  {"--printing", printed},
                                                  {"--start", "soon"},
                                                  {"--deadline", "2020-01-01"},
                                                  {"--machine", "nobody's"},
                                                  {"--tests", "later"},
                                                  {"--quantity", "box"},
                                                  {"--quantity", "lid=2"},
                                                  {"--first", "nothing"},
                                                  {"--coupon", "nowhere"}}) {
        std::vector<std::string> all{"plan", box.string()};
        all.insert(all.end(), wrong.begin(), wrong.end());
        INFO(wrong[0] << " " << wrong[1]);
        const Ran r = quoinRan(all);
        CHECK(r.status == 2);
        CHECK_FALSE(r.error.empty());
        CHECK(contentOf(kept) == before);
    }
    CHECK(planOf({box.string(), "--fresh", "--machine", "150x180x200", "--start", "2026-11-30"})["pieces_done"] == 0);
    CHECK(quoinRan({"plan", (scratch / "nowhere").string(), "--machine", "150x180x200", "--start", "2026-11-30"})
              .status == 2);
    putContent(kept, "{");
    CHECK(quoinRan({"plan", box.string()}).error.find("box.plan.json") != std::string::npos);
    CHECK(contentOf(kept) == "{");
}

TEST_CASE("command line: a plan from a design is that of its export")
{
    const ScratchFolder scratch;
    const fs::path box = exportedBox(scratch);
    const std::vector<std::string> how{"--machine", "150x180x200", "--start", "2026-11-30 08:00", "--no-help"};
    const auto planFrom = [&](const fs::path& job) {
        std::vector<std::string> all{job.string()};
        all.insert(all.end(), how.begin(), how.end());
        return planOf(all);
    };
    const json a = planFrom(box), b = planFrom(scratch / "box-design.quoin.json");
    CHECK(a["pieces"] == b["pieces"]);
    CHECK(a["finish"] == b["finish"]);
    CHECK(a["grams"].get<double>() == Approx(b["grams"].get<double>()).epsilon(1e-3));
}

TEST_CASE("command line: the calendar as a reader of others sees it")
{
    // Debian's python3-icalendar (RFC 5545) reads it; its own clock arithmetic checks each event.
    const ScratchFolder scratch;
    const fs::path box = exportedBox(scratch);
    const auto out = scratch / "plan";
    const json plan = planOf({box.string(), "--machine", "150x180x200", "--start", "2026-11-30 08:00", "--deadline",
                              "2026-12-14 12:00", "--out", out.string(), "--no-help"});
    const char* script = R"(
import sys, json, icalendar
c = icalendar.Calendar.from_ical(open(sys.argv[1], 'rb').read())
events = [e for e in c.walk('VEVENT')]
assert len({str(e['UID']) for e in events}) == len(events)
assert not c.errors and all(not e.errors for e in events)
assert all(e['DTSTAMP'].dt.tzinfo is not None and e['DTSTART'].dt.tzinfo is None for e in events)
print(json.dumps([[str(e['SUMMARY']), e['DTSTART'].dt.strftime('%Y-%m-%d %H:%M'),
                   (e['DTEND'].dt - e['DTSTART'].dt).total_seconds() / 3600 if 'DTEND' in e else 0] for e in events]))
)";
    const Ran r = ran("/usr/bin/python3", {"-c", script, (out / "plan.ics").string()});
    INFO(r.error);
    REQUIRE(r.status == 0);
    const json events = json::parse(r.output);
    for (const json& bar : plan["bars"]) {
        bool found = false;
        for (const json& e : events)
            found = found ||
                    (e[0].get<std::string>().find("prints plate " + bar["plate"].dump() + " (") != std::string::npos &&
                     e[1] == bar["start"] && std::abs(e[2].get<double>() - bar["hours"].get<double>()) < 1e-6);
        CHECK(found);
    }
    CHECK(events.size() >= 2 * plan["bars"].size() + 1);
    // The PDF as poppler's reader sees it.
    const Ran pdf = ran("pdftotext", {"-layout", (out / "plan.pdf").string(), "-"});
    INFO(pdf.error);
    REQUIRE(pdf.status == 0);
    CHECK(pdf.output.find("Print plan: box") != std::string::npos);
    CHECK(pdf.output.find("smoke") != std::string::npos);
    CHECK(pdf.output.find("Plate 1 on 150x180x200") != std::string::npos);
}
