// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/app/command.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cstdlib>

using namespace quoin::test;
using nlohmann::json;
namespace fs = std::filesystem;

namespace {

/// The row in force for PLA on a machine, and whether it is an own one.
json inForce(const std::string& machine, std::size_t process)
{
    const Ran r = quoinRan({"fits", "list", "--material", "PLA", "--machine", machine, "--json"});
    REQUIRE(r.status == 0);
    const json rows = json::parse(r.output);
    REQUIRE(rows.size() == 4);
    return rows[process];
}

} // namespace

TEST_CASE("command line: a coupon is made, its answers become the fit in force, and are forgotten again")
{
    const ScratchFolder scratch;
    const std::string folder = (scratch / "coupon").string();
    const std::vector<std::string> make{"coupon", folder,   "--material", "PLA", "--machine", "big one",
                                        "--from", "0.1 mm", "--to",       "0.4", "--step",    "0.1"};
    Ran r = quoinRan(make);
    INFO(r.output << r.error);
    REQUIRE(r.status == 0);
    CHECK(r.output.find("Steps 1 to 4") != std::string::npos);
    for (const char* file :
         {"plate.stl", "dowel.stl", "square-key.stl", "d-key.stl", "thread-plate.stl", "threaded-stud.stl"})
        CHECK(quoinRan({"check", (fs::path(folder) / file).string()}).status == 0);
    CHECK(quoinRan(make).status == 2); // not over the first
    CHECK(inForce("big one", 1)["own"] == false);

    r = quoinRan({"fits", "set", "--coupon", folder, "--process", "key", "--slid", "3", "--snug", "2"});
    INFO(r.output << r.error);
    REQUIRE(r.status == 0);
    CHECK(r.output.find("sliding 0.300, snug 0.200, press 0.100") != std::string::npos);
    const json row = inForce("Big One", 1);
    CHECK(row["own"] == true);
    CHECK(row["sliding_mm"] == 0.3);
    CHECK(row["source"].get<std::string>().find("step 3 slid, step 2 was snug") != std::string::npos);
    CHECK(inForce("another", 1)["own"] == false);
    CHECK(quoinRan({"fits"}).output.find("yours: coupon of") != std::string::npos);

    r = quoinRan({"fits", "set", "--coupon", folder, "--process", "key", "--slid", "2", "--snug", "3"});
    CHECK(r.status == 2);
    CHECK(r.error.find("a higher number is wider") != std::string::npos);
    CHECK(inForce("big one", 1) == row);

    CHECK(quoinRan({"fits", "remove", "--material", "PLA", "--machine", "big one", "--process", "key"}).status == 0);
    CHECK(inForce("big one", 1)["own"] == false);
    CHECK(quoinRan({"fits", "remove", "--material", "PLA", "--machine", "big one", "--process", "key"}).status == 2);
}

TEST_CASE("command line: a fit set by its lengths, and ways not to")
{
    const std::vector<std::string> set{"fits", "set", "--process", "thread", "--material", "PETG"};
    const auto with = [&](std::vector<std::string> more) {
        more.insert(more.begin(), set.begin(), set.end());
        return quoinRan(more);
    };
    CHECK(with({"--mm", "0.5,0.3,0.2,-0.05", "--source", "our own test"}).status == 0);
    CHECK(quoinRan({"fits"}).output.find("yours: our own test") != std::string::npos);
    CHECK(with({}).status == 2);
    CHECK(with({"--mm", "0.5,0.3,0.2"}).status == 2);
    CHECK(with({"--mm", "0.2,0.3,0.4,0.5"}).error.find("tight to wide") != std::string::npos);
    CHECK(with({"--mm", "0.5,0.3,far,0.1"}).status == 2);
    CHECK(with({"--slid", "3"}).status == 2);
    CHECK(with({"--coupon", "nowhere", "--slid", "3", "--snug", "2"}).error.find("nowhere") != std::string::npos);
    CHECK(quoinRan({"fits", "set", "--process", "glue", "--mm", "0.5,0.3,0.2,0.1"}).status == 2);
    CHECK(quoinRan({"fits", "set", "--process", "rod", "--machine", "m", "--mm", "0.5,0.3,0.2,0.1"}).status == 2);
    CHECK(quoinRan({"fits", "remove", "--material", "PETG", "--process", "thread"}).status == 0);
}

TEST_CASE("command line: a damaged table of fits is said, and never written over")
{
    quoinRan({"fits"}); // sets the configuration folder
    const fs::path file = fs::path(std::getenv("XDG_CONFIG_HOME")) / "quoin" / "fits.json";
    fs::create_directories(file.parent_path());
    const std::string damaged = "{\"kind\": \"quoin fits\", \"version\": 1, \"rows\": [{}]}";
    putContent(file, damaged);
    for (const auto& verb :
         {std::vector<std::string>{"fits"}, {"fits", "set", "--process", "rod", "--mm", "0.5,0.3,0.2,0.1"}}) {
        const Ran r = quoinRan(verb);
        CHECK(r.status == 2);
        CHECK(r.error.find("fits.json") != std::string::npos);
        CHECK(r.error.find("/rows/0") != std::string::npos);
    }
    CHECK(contentOf(file) == damaged);
    fs::remove(file);
}

TEST_CASE("command line: a coupon that can't be")
{
    const ScratchFolder scratch;
    const std::string folder = (scratch / "coupon").string();
    CHECK(quoinRan({"coupon"}).status == 2);
    CHECK(quoinRan({"coupon", folder, "--step", "0"}).status == 2);
    CHECK(quoinRan({"coupon", folder, "--step", "wide"}).status == 2);
    CHECK(quoinRan({"coupon", folder, "--thread", "Tr 20x4.7"}).status == 2);
    const Ran r = quoinRan({"coupon", folder, "--bed", "60x60x60"});
    CHECK(r.status == 2);
    CHECK(r.error.find("larger bed") != std::string::npos);
    CHECK_FALSE(fs::exists(folder));
}
