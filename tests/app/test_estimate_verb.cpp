// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"
#include "mesh/write_model.h"
#include "tests/app/command.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace quoin;
using namespace quoin::test;
using nlohmann::json;
namespace fs = std::filesystem;

namespace {

json estimated(const std::vector<std::string>& words)
{
    std::vector<std::string> all{"estimate"};
    all.insert(all.end(), words.begin(), words.end());
    all.push_back("--json");
    const Ran r = quoinRan(all);
    INFO(r.output << r.error);
    REQUIRE(r.status == 0);
    return json::parse(r.output);
}

} // namespace

TEST_CASE("command line: recipes are listed, kept, changed and forgotten; nonsense is refused")
{
    Ran r = quoinRan({"recipes"});
    CHECK(r.status == 0);
    CHECK(r.output.find("1.0 strong") != std::string::npos);
    r = quoinRan({"recipes", "set", "river", "--like", "0.8 strong", "infill_percent=12", "walls=3"});
    INFO(r.output << r.error);
    REQUIRE(r.status == 0);
    const json shown = json::parse(quoinRan({"recipes", "show", "RIVER", "--json"}).output);
    CHECK(shown["infill_percent"] == 12.0);
    CHECK(shown["walls"] == 3);
    CHECK(shown["nozzle_mm"] == 0.8);
    REQUIRE(quoinRan({"recipes", "set", "river", "walls=5"}).status == 0);
    CHECK(json::parse(quoinRan({"recipes", "show", "river", "--json"}).output)["infill_percent"] == 12.0);
    r = quoinRan({"recipes", "set", "river", "layer_mm=0.9"});
    CHECK(r.status == 2);
    CHECK(r.error.find("20 to 80 %") != std::string::npos);
    CHECK(quoinRan({"recipes", "set", "new one", "walls=5"}).status == 2);
    CHECK(quoinRan({"recipes", "set", "river", "walls"}).status == 2);
    REQUIRE(quoinRan({"recipes", "remove", "river"}).status == 0);
    CHECK(quoinRan({"recipes", "show", "river"}).status == 2);
    CHECK(quoinRan({"recipes", "remove", "0.6 standard"}).status == 2);
}

TEST_CASE("command line: materials with their sources, and the maker's own price")
{
    Ran r = quoinRan({"materials"});
    CHECK(r.status == 0);
    CHECK(r.output.find("softens at 55 to 65 degrees C (additive.tools)") != std::string::npos);
    REQUIRE(quoinRan({"materials", "set", "petg", "--price", "17.5", "--spool", "2300"}).status == 0);
    const json all = json::parse(quoinRan({"materials", "list", "--json"}).output);
    CHECK(all[1]["price_per_kg"] == 17.5);
    CHECK(all[1]["own"] == true);
    CHECK(all[0]["own"] == false);
    CHECK(quoinRan({"materials", "set", "petg"}).status == 2);
    CHECK(quoinRan({"materials", "set", "petg", "--density", "0"}).status == 2);
    CHECK(quoinRan({"materials", "remove", "petg"}).status == 0);
}

TEST_CASE("command line: a model, a design and an export are estimated, the export as its estimate.json says")
{
    const ScratchFolder scratch;
    const auto model = (scratch / "box.stl").string(), design = (scratch / "box.quoin.json").string(),
               out = (scratch / "out").string();
    REQUIRE(mesh::writeStl(model, mesh::box({0, 0, 0}, {20, 8, 6})).ok());
    const json small = estimated({model, "--recipe", "0.8 strong"});
    CHECK(small["pieces"].size() == 1);
    CHECK(small["recipe"] == "0.8 strong");
    // No more than solid: 960 mm3 at 1.24 g/cm3.
    CHECK(small["totals"]["mass_g"].get<double>() < 0.96 * 1.24 * 1.02);
    Ran r = quoinRan({"split", model, "--scale", "10", "--bed", "150x150x150", "--no-pictures", "--save", design,
                      "--out", out, "--recipe", "0.8 strong"});
    INFO(r.output << r.error);
    REQUIRE(r.status == 0);
    CHECK(r.output.find("printing: ") != std::string::npos);
    const json written = json::parse(contentOf(fs::path(out) / "estimate.json"));
    const json ofExport = estimated({out, "--recipe", "0.8 strong"});
    const json ofDesign = estimated({design, "--recipe", "0.8 strong"});
    CHECK(written["kind"] == "quoin estimate");
    CHECK(written["pieces"].size() >= 3); // two pieces and what joins them
    for (const json& other : {ofExport, ofDesign})
        for (const char* key : {"mass_g", "time_h", "energy_kwh"})
            CHECK(other["totals"][key].get<double>() == Approx(written["totals"][key].get<double>()));
    // A thousand times as heavy when solid, hollow less.
    for (const json& row : ofDesign["scaling"]["parts"][0]["rows"])
        if (row["id"] == "mass")
            CHECK(row["times"].get<double>() == Approx(1000));
    const json list = json::parse(contentOf(fs::path(out) / "pieces.json"));
    CHECK(list["pieces"][0]["printed_mass_g"] == written["pieces"][0]["mass_g"]);
    const std::string csv = contentOf(fs::path(out) / "pieces.csv");
    CHECK(csv.find("printed_mass_g,print_time_h,print_cost") != std::string::npos);
    r = quoinRan({"estimate", out, "--csv"});
    CHECK(r.status == 0);
    CHECK(r.output.find("part,number,kind") == 0);
    r = quoinRan({"estimate", design, "--shares", "--scaling"});
    CHECK(r.output.find("hinge") != std::string::npos);
    CHECK(r.output.find("Estimates for planning") != std::string::npos);
    CHECK(quoinRan({"estimate", out, "--recipe", "0.5 wild"}).status == 2);
    CHECK(quoinRan({"estimate", (scratch / "nothing").string()}).status == 2);
    CHECK(quoinRan({"estimate", scratch.path().string(), "--part", "other"}).status == 2);
}

TEST_CASE("command line: prints that are written down correct the estimates")
{
    const ScratchFolder scratch;
    const auto model = (scratch / "block.stl").string();
    const auto csv = scratch / "prints.csv";
    REQUIRE(mesh::writeStl(model, mesh::box({0, 0, 0}, {60, 60, 40})).ok());
    const json before = estimated({model, "--machine", "big one"});
    const double grams = before["totals"]["mass_g"], hours = before["totals"]["time_h"];
    for (int i = 0; i < 6; ++i) {
        const Ran r =
            quoinRan({"log", "add", model, "--machine", "big one", "--date", "2026-11-2" + std::to_string(i), "--grams",
                      std::to_string(1.1 * grams), "--hours", std::to_string(1.3 * (hours + 0.117))});
        INFO(r.output << r.error);
        REQUIRE(r.status == 0);
    }
    const json after = estimated({model, "--machine", "big one"});
    CHECK(after["totals"]["mass_g"].get<double>() == Approx(1.1 * grams).epsilon(0.01));
    CHECK(after["totals"]["time_h"].get<double>() == Approx(1.3 * hours).epsilon(0.04));
    CHECK(after["calibration"].get<std::string>().find("6 prints") != std::string::npos);
    const json report = json::parse(quoinRan({"log", "report", "--machine", "big one", "--json"}).output);
    CHECK(report["grams"]["prints"] == 6);
    CHECK(report["factors"]["mass"].get<double>() == Approx(1.1).epsilon(0.01));
    const std::string kept = quoinRan({"log", "list", "--csv"}).output;
    putContent(csv, kept);
    for (int i = 0; i < 6; ++i)
        REQUIRE(quoinRan({"log", "remove", "1"}).status == 0);
    CHECK(quoinRan({"log", "remove", "1"}).status == 2);
    REQUIRE(quoinRan({"log", "import", csv.string()}).status == 0);
    CHECK(quoinRan({"log", "list", "--csv"}).output == kept);
    CHECK(quoinRan({"log", "add", model}).status == 2); // neither weighed nor timed
    CHECK(quoinRan({"log", "add", model, "--grams", "900000"}).status == 2);
    for (int i = 0; i < 6; ++i)
        REQUIRE(quoinRan({"log", "remove", "1"}).status == 0);
}
