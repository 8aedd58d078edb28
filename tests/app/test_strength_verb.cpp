// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/design_file.h"
#include "mesh/primitives.h"
#include "mesh/write_model.h"
#include "tests/app/command.h"
#include "tests/support/designs.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <filesystem>

using namespace quoin;
using namespace quoin::test;
using nlohmann::json;

namespace {

std::string savedBox(const ScratchFolder& folder)
{
    core::MeshKeeper keeper;
    const auto file = folder / "box.quoin.json";
    REQUIRE(core::saveDesign(smallDesign(), file, keeper).ok());
    return file.string();
}

} // namespace

TEST_CASE("command line: strength of a saved design, in words and for programs")
{
    const ScratchFolder scratch;
    const std::string design = savedBox(scratch);
    const Ran words = quoinRan({"strength", design, "--held", "1", "--all"});
    INFO(words.output << words.error);
    REQUIRE(words.status == 0);
    CHECK(words.output.find("Seam A") != std::string::npos);
    CHECK(words.output.find("dowel sheared off") != std::string::npos);
    CHECK(words.output.find("someone licensed") != std::string::npos);

    const Ran programs = quoinRan({"strength", design, "--held", "1", "--dynamic", "3", "--glue", "0", "--load",
                                   "0,0,-7N@0,0,0", "--gravity", "-1,0,0", "--json"});
    INFO(programs.output << programs.error);
    REQUIRE(programs.status == 0);
    const json j = json::parse(programs.output);
    REQUIRE(j["parts"].size() == 1);
    CHECK(j["parts"][0]["load"]["dynamic_factor"] == 3.0);
    CHECK(j["parts"][0]["load"]["gravity"][0] == -1.0);
    CHECK(j["parts"][0]["load"]["extra_forces"][0]["force_n"][2] == -7.0);
    CHECK(j["parts"][0]["faces"].size() == 1);
    CHECK(j["parts"][0]["caution"].get<std::string>().find("estimates") != std::string::npos);
}

TEST_CASE("command line: strength says what is wrong with its words")
{
    const ScratchFolder scratch;
    const std::string design = savedBox(scratch);
    const std::vector<std::vector<std::string>> bad{{"--held", "9"},
                                                    {"--load", "1,2,3"},
                                                    {"--load", "1,2@0,0,1"},
                                                    {"--load", "1,2,3kg@0,0,1"},
                                                    {"--load", "1,2,3@0,0,1 hand"},
                                                    {"--load", "none@0,0,0"},
                                                    {"--gravity", "0,0"},
                                                    {"--gravity", "0,0,0"},
                                                    {"--fill", "2"},
                                                    {"--bolts", "7.7"},
                                                    {"--dynamic", "nan"}};
    for (const auto& words : bad) {
        std::vector<std::string> all{"strength", design};
        all.insert(all.end(), words.begin(), words.end());
        const Ran r = quoinRan(all);
        INFO(words[0] << " " << words[1] << ": " << r.output << r.error);
        CHECK(r.status == 2);
        CHECK_FALSE(r.error.empty());
    }
    CHECK(quoinRan({"strength", (scratch / "none.quoin.json").string()}).status == 2);
}

TEST_CASE("command line: strength keeps a load in the design, and goes by it")
{
    const ScratchFolder scratch;
    const std::string design = savedBox(scratch), other = (scratch / "other.quoin.json").string();
    const Ran kept = quoinRan({"strength", design, "--held", "1", "--dynamic", "3", "--load", "0,0,-0.05kN@1,2.5,3 cm",
                               "--load", "-1 kgf,0N,2lbf @ 12mm, 1 inch, 0", "--save", other});
    INFO(kept.output << kept.error);
    REQUIRE(kept.status == 0);
    core::MeshKeeper keeper;
    const auto opened = core::openDesign(other, keeper);
    REQUIRE(opened.ok());
    const core::LoadCase& load = opened->design.parts[0].load;
    CHECK(load.held == std::vector{1});
    CHECK(load.dynamicFactor == 3);
    REQUIRE(load.extra.size() == 2);
    CHECK(load.extra[0].forceN == mesh::Vec3{0, 0, -50});
    CHECK(load.extra[0].at == mesh::Vec3{10, 25, 30});
    CHECK(load.extra[1].forceN.x == Approx(-9.80665)); // standard gravity
    CHECK(load.extra[1].forceN.z == Approx(8.896443)); // 2 lbf (NIST SP 811, appendix B.8: 4.448222 N)
    CHECK(load.extra[1].at.y == Approx(25.4));

    const json again = json::parse(quoinRan({"strength", other, "--json"}).output)["parts"][0];
    CHECK(again["load"]["dynamic_factor"] == 3.0);
    CHECK(again["load"]["extra_forces"].size() == 2);
    const json bare = json::parse(quoinRan({"strength", other, "--load", "none", "--held", "0", "--json"}).output);
    CHECK(bare["parts"][0]["load"]["extra_forces"].empty());
    CHECK(bare["parts"][0]["load"]["held"].empty());
    CHECK(bare["parts"][0]["load"]["dynamic_factor"] == 3.0);
}

// Glue of 2 MPa; 100 N on an arm of 200 mm and its own weight twice: 2.27 (tests/core/test_proof_strength.cpp).
TEST_CASE("command line: split takes a load, warns of a low seam and keeps the load with the design")
{
    const ScratchFolder scratch;
    const auto model = scratch / "arm.stl", out = scratch / "out";
    REQUIRE(mesh::writeStl(model, mesh::box({-50, 0, 0}, {200, 40, 60})).ok());
    const std::vector<std::string> command{"split",      model.string(), "--plane",    "1,0,0@0",
                                           "--joint",    "none",         "--no-marks", "--no-pictures",
                                           "--out",      out.string(),   "--save",     (scratch / "arm").string(),
                                           "--material", "PLA"};
    const auto with = [&](std::vector<std::string> more) {
        more.insert(more.begin(), command.begin(), command.end());
        return quoinRan(more);
    };
    Ran r = with({"--held", "5"});
    CHECK(r.status == 2);
    CHECK(r.error.find("no piece 5") != std::string::npos);
    CHECK_FALSE(std::filesystem::exists(out));
    r = with({"--held", "1", "--load", "0,0,-100N@200,20,30"}); // the wall piece is the one below
    INFO(r.output << r.error);
    REQUIRE(r.status == 0);
    CHECK(r.output.find("0.60 kg hang on it") != std::string::npos);
    CHECK(r.output.find("warning: The weakest seam: Seam A") != std::string::npos);
    CHECK(r.output.find("safety 2.27, below 3") != std::string::npos);
    CHECK(r.output.find("someone licensed") < r.output.find("The weakest seam"));
    CHECK(std::filesystem::exists(out / "strength.json"));
    core::MeshKeeper keeper;
    const auto opened = core::openDesign(scratch / "arm.quoin.json", keeper);
    REQUIRE(opened.ok());
    CHECK(opened->design.parts[0].load.extra[0].at == mesh::Vec3{200, 20, 30});

    r = quoinRan({"prove", out.string()});
    CHECK(r.status == 0);
    CHECK(r.output.find("safety 2.27, below 3") != std::string::npos);
    const Ran summary = quoinRan({"export", (scratch / "arm.quoin.json").string(), "--out", (scratch / "two").string(),
                                  "--no-pictures", "--json"});
    INFO(summary.output << summary.error);
    const json part = json::parse(summary.output)["parts"][0];
    CHECK(part["strength"]["warnings"].size() == 1);
    CHECK(part["strength"]["safety"].get<double>() == Approx(2.27).epsilon(0.005));
}
