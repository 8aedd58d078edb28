// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
//
// Joints made by the command line, measured and moved by an independent geometry kernel (npm manifold-3d) from the
// exported files alone: clearance, no overlap at rest and on the way out (eight turns of a thread), and an overlap on
// another way.
#include "mesh/primitives.h"
#include "mesh/write_model.h"
#include "tests/app/command.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <fstream>
#include <set>

using namespace quoin;
using namespace quoin::test;
using nlohmann::json;

namespace {

void requireDone(const std::vector<std::string>& arguments)
{
    const Ran r = quoinRan(arguments);
    INFO(r.output << r.error);
    REQUIRE(r.status == 0);
}

Ran checkedByManifold(const std::filesystem::path& folder, const std::string& only = {})
{
    return ran("node", {std::string(QUOIN_TEST_SOURCE_DIR) + "/app/check_joints.mjs",
                        reference("manifold-3d/manifold.js").string(), folder.string(), only});
}

/// A box in six pieces with a joint of each kind.
void exportJointed(const ScratchFolder& scratch, const std::filesystem::path& out)
{
    const std::string model = (scratch / "post.stl").string(), design = (scratch / "post.quoin.json").string();
    REQUIRE(mesh::writeStl(model, mesh::box({0, 0, 0}, {90, 80, 300})).ok());
    requireDone({"split", model, "--plane", "0.1,0.05,1@60", "--plane", "0,0,1@150", "--plane", "0,0,1@190", "--plane",
                 "0,0,1@230", "--plane", "0,0,1@265", "--save", design, "--no-pictures"});
    const std::vector<std::vector<std::string>> joints{
        {"A", "screw", "--thread", "Tr 40x7LH", "--depth", "56mm", "--angle", "50"},
        {"B", "stud", "--thread", "Printable 30x10(P5)", "--depth", "15mm", "--at=-20,30"},
        {"C", "key", "--section", "cross", "--diameter", "24mm", "--depth", "14mm", "--taper", "0.5mm", "--at=-40,60"},
        {"D", "key", "--section", "D", "--integral", "--carrier", "above", "--diameter", "24mm", "--depth", "15mm",
         "--at=-20,30"},
        {"D", "dowel", "--keyed", "--diameter", "10mm", "--depth", "15mm", "--at=-60,65"},
        {"E", "dovetail", "--angle", "65", "--diameter", "24mm", "--length", "36mm"}};
    for (const auto& joint : joints) {
        std::vector<std::string> arguments{"joints", design, "--face", joint[0], "--place"};
        arguments.insert(arguments.end(), joint.begin() + 1, joint.end());
        requireDone(arguments);
    }
    requireDone({"export", design, "--out", out.string(), "--no-pictures"});
}

} // namespace

TEST_CASE("joints against manifold-3d: clearances, and eight turns of a screw and of a stud")
{
    const ScratchFolder scratch;
    const auto out = scratch / "post";
    exportJointed(scratch, out);
    const Ran check = checkedByManifold(out);
    INFO(check.output << check.error);
    REQUIRE(check.status == 0);
    std::set<std::string> seen;
    const json summary = json::parse(check.output);
    for (const json& r : summary["joints"]) {
        seen.insert(r["kind"]);
        // The facets keep to their own side of the true surfaces, so little is given away.
        CHECK(r["gap_mm"].get<double>() < r["clearance_mm"].get<double>() + 0.03);
    }
    CHECK(seen == std::set<std::string>{"dovetail", "dowel", "key", "screw", "stud"});

    // The check can fail: with another lead, and with more clearance than there is.
    const auto spoilt = [&](const std::string& key, double value) {
        json project = json::parse(std::ifstream(out / "project.quoin.json"));
        json& screw = project["layout"]["joints"][0];
        REQUIRE(screw["kind"] == "screw");
        (key == "pitch_mm" ? screw["thread"] : screw)[key] = value;
        std::ofstream(out / "project.quoin.json") << project;
        return checkedByManifold(out, "A1").status;
    };
    CHECK(spoilt("pitch_mm", 6.8) == 1);
    CHECK(spoilt("pitch_mm", 7) == 0);
    CHECK(spoilt("clearance_mm", 0.38) == 1);
}

TEST_CASE("joints against manifold-3d: draw bolts made from the standards' numbers go in and have their seats")
{
    for (const std::string hold : {"nut from the far side", "nut from the side", "heat-set insert"}) {
        CAPTURE(hold);
        const ScratchFolder scratch;
        const auto out = scratch / "post";
        const std::string model = (scratch / "post.stl").string(), design = (scratch / "post.quoin.json").string();
        REQUIRE(mesh::writeStl(model, mesh::box({0, 0, 0}, {90, 80, 120})).ok());
        requireDone({"split", model, "--plane", "0.1,0.05,1@60", "--save", design, "--no-pictures"});
        std::vector<std::string> place{"joints",     design, "--face",    "A",    "--place", "draw-bolt",
                                       "--diameter", "8mm",  "--hold",    hold,   "--grip",  "22mm",
                                       "--angle",    "25",   "--carrier", "above"};
        if (hold != "heat-set insert")
            place.insert(place.end(), {"--depth", "20mm"});
        requireDone(place);
        requireDone({"export", design, "--out", out.string(), "--no-pictures"});
        const Ran check = checkedByManifold(out);
        INFO(check.output << check.error);
        CHECK(check.status == 0);
        // The check can fail: with a seat that is said to lie elsewhere, and with a nut turned in its pocket.
        json project = json::parse(std::ifstream(out / "project.quoin.json"));
        json& bolt = project["layout"]["joints"][0];
        bolt["grip_mm"] = 21;
        std::ofstream(out / "project.quoin.json") << project;
        CHECK(checkedByManifold(out).status == 1);
        bolt["grip_mm"] = 22;
        bolt["angle_rad"] = bolt["angle_rad"].get<double>() + 0.5;
        std::ofstream(out / "project.quoin.json") << project;
        CHECK(checkedByManifold(out).status == (hold == "heat-set insert" ? 0 : 1));
    }
}

TEST_CASE("joints against manifold-3d: a screw with its clocking key, chosen, and a witness line beside them")
{
    const ScratchFolder scratch;
    const auto out = scratch / "post";
    const std::string model = (scratch / "post.stl").string();
    REQUIRE(mesh::writeStl(model, mesh::box({0, 0, 0}, {110, 100, 200})).ok());
    requireDone({"split", model, "--plane", "0.1,0.05,1@100", "--joint", "screw+key", "--witness", "--out",
                 out.string(), "--no-pictures"});
    const Ran check = checkedByManifold(out);
    INFO(check.output << check.error);
    REQUIRE(check.status == 0);
    std::multiset<std::string> seen;
    const json summary = json::parse(check.output);
    for (const json& r : summary["joints"])
        seen.insert(r["kind"]);
    CHECK(seen == std::multiset<std::string>{"clocking key", "clocking key", "screw"});
    CHECK(json::parse(std::ifstream(out / "project.quoin.json"))["layout"]["witnesses"].size() == 1);
}
