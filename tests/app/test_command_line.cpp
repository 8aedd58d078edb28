// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"
#include "mesh/write_model.h"
#include "tests/app/command.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <fstream>

using namespace quoin;
using namespace quoin::test;
using nlohmann::json;

namespace {

json jsonIn(const std::filesystem::path& file)
{
    std::ifstream in(file);
    return json::parse(in);
}

std::string saved(const ScratchFolder& folder, const std::string& name, const mesh::Mesh& m)
{
    const auto file = folder / name;
    REQUIRE(mesh::writeStl(file, m).ok());
    return file.string();
}

/// The export seen by foreign eyes: check_export.mjs reads the files with npm manifold-3d.
void requireForeignCheck(const std::filesystem::path& folder)
{
    const Ran check = ran("node", {std::string(QUOIN_TEST_SOURCE_DIR) + "/app/check_export.mjs",
                                   reference("manifold-3d/manifold.js").string(), folder.string()});
    INFO(check.output << check.error);
    REQUIRE(check.status == 0);
}

} // namespace

TEST_CASE("command line: help and no verb")
{
    CHECK(quoinRan({"--help"}).status == 0);
    CHECK(quoinRan({}).status == 0);
    CHECK(quoinRan({"carve"}).status == 2);
    CHECK(quoinRan({"split"}).status == 2);
}

TEST_CASE("command line: split a box by a plane, read back by others, prove again")
{
    const ScratchFolder scratch;
    const std::string model = saved(scratch, "Test Box.stl", mesh::box({0, 0, 0}, {20, 8, 6}));
    const auto out = scratch / "out";
    const Ran r = quoinRan({"split", model, "--scale", "10", "--plane", "1,0,0@100", "--out", out.string()});
    INFO(r.output << r.error);
    REQUIRE(r.status == 0);
    for (const char* name :
         {"pieces/01-test-box.stl", "pieces/02-test-box.stl", "pieces.3mf", "pieces.csv", "pieces.json", "proof.json",
          "proof.html", "assembled.png", "exploded.png", "part.ply", "project.quoin.json"})
        CHECK(std::filesystem::file_size(out / name) > 0);
    requireForeignCheck(out);
    const json list = jsonIn(out / "pieces.json");
    CHECK(list["unit"] == "mm");
    REQUIRE(list["pieces"].size() == 3);
    for (const json& p : list["pieces"]) {
        for (const char* key : {"number", "kind", "file", "count", "volume_mm3", "extents_mm", "bed", "neighbours",
                                "assembled_from_print"})
            CHECK(p.contains(key));
        CHECK(p["assembled_from_print"].size() == 16);
        CHECK(p["extents_mm"].size() == 3);
    }
    CHECK(list["pieces"][2]["kind"] == "dowel");
    CHECK(list["pieces"][2]["count"] == 2);
    // A scale of 10: a thousand times the volume, less the joints.
    const double pieces = list["pieces"][0]["volume_mm3"].get<double>() + list["pieces"][1]["volume_mm3"].get<double>();
    CHECK(pieces < 960000);
    CHECK(pieces > 0.97 * 960000);
    CHECK(quoinRan({"prove", out.string()}).status == 0);
}

TEST_CASE("command line: a bed makes the cuts, every piece fits it")
{
    const ScratchFolder scratch;
    const std::string model = saved(scratch, "ring.stl", mesh::torus(60, 20, 64, 32));
    const auto out = scratch / "out";
    const Ran r =
        quoinRan({"split", model, "--width", "500mm", "--bed", "300x300x400", "--seconds", "2", "--out", out.string(),
                  "--json"});
    INFO(r.output << r.error);
    REQUIRE(r.status == 0);
    const json summary = json::parse(r.output);
    CHECK(summary["proved"] == true);
    CHECK(summary["pieces"].get<int>() >= summary["lower_bound"].get<int>());
    CHECK(summary["gap"] == summary["pieces"].get<int>() - summary["lower_bound"].get<int>());
    CHECK(summary["judged"]["cuts"].size() >= 1);
    CHECK(summary["judged"]["total"]["seams"].get<double>() > 0);
    requireForeignCheck(out);
    for (const json& p : jsonIn(out / "pieces.json")["pieces"]) {
        CHECK(p["extents_mm"][0].get<double>() <= 290 + 1e-3);
        CHECK(p["extents_mm"][1].get<double>() <= 290 + 1e-3);
        CHECK(p["extents_mm"][2].get<double>() <= 395 + 1e-3);
    }
}

TEST_CASE("command line: nothing is overwritten without --force, and never what is not ours")
{
    const ScratchFolder scratch;
    const std::string model = saved(scratch, "box.stl", mesh::box({0, 0, 0}, {200, 80, 60}));
    const auto out = scratch / "out";
    const std::vector<std::string> command{"split",         model,   "--plane",   "1,0,0@100",
                                           "--no-pictures", "--out", out.string()};
    REQUIRE(quoinRan(command).status == 0);
    std::ofstream(out / "my notes.txt") << "keep me";
    std::ofstream(out / "pieces" / "mine.stl") << "keep me";
    const auto before = std::filesystem::last_write_time(out / "pieces.json");
    const Ran again = quoinRan(command);
    CHECK(again.status == 2);
    CHECK(again.error.find("--force") != std::string::npos);
    CHECK(std::filesystem::last_write_time(out / "pieces.json") == before);
    std::vector<std::string> forced = command;
    forced.push_back("--force");
    REQUIRE(quoinRan(forced).status == 0);
    CHECK(std::filesystem::exists(out / "my notes.txt"));
    CHECK(std::filesystem::exists(out / "pieces" / "mine.stl"));
    // A folder of other things is left alone even then.
    std::filesystem::create_directory(scratch / "other");
    std::ofstream(scratch / "other" / "thesis.txt") << "keep me";
    forced[6] = (scratch / "other").string();
    CHECK(quoinRan(forced).status == 2);
    CHECK(std::filesystem::exists(scratch / "other" / "thesis.txt"));
    // No temporary folders are left behind.
    for (const auto& entry : std::filesystem::directory_iterator(scratch.path()))
        CHECK(entry.path().filename().string().find("quoin-") == std::string::npos);
}

TEST_CASE("command line: bad use says what, where and what to do")
{
    const ScratchFolder scratch;
    const std::string model = saved(scratch, "box.stl", mesh::box({0, 0, 0}, {20, 8, 6}));
    const std::string out = (scratch / "out").string();
    const auto refused = [&](std::vector<std::string> more, const std::string& word) {
        std::vector<std::string> command{"split", model, "--out", out};
        command.insert(command.end(), more.begin(), more.end());
        const Ran r = quoinRan(command);
        INFO(word << ": " << r.error);
        CHECK(r.status == 2);
        CHECK(r.error.find(word) != std::string::npos);
        CHECK_FALSE(std::filesystem::exists(out));
    };
    refused({"--plane", "0,0@5"}, "plane");
    refused({"--plane", "0,0,0@5"}, "plane");
    refused({"--plane", "0,0,nan@5"}, "plane");
    refused({"--bed", "300x400"}, "300x400");
    refused({"--bed", "0x0x0"}, "0x0x0");
    refused({"--height", "tall"}, "tall");
    refused({"--height", "1m", "--scale", "3"}, "more than one way");
    refused({"--scale", "-3"}, "--scale");
    refused({"--material", "granite"}, "granite");
    refused({"--fit", "loose-ish"}, "loose-ish");
    refused({"--largest"}, "bed");
    refused({"--margin", "-2"}, "margin");
    refused({"--bed", "20x20x20", "--margin", "15"}, "");
    const Ran missing = quoinRan({"split", (scratch / "none.stl").string(), "--out", out});
    CHECK(missing.status == 2);
    CHECK(missing.error.find("none.stl") != std::string::npos);
}

TEST_CASE("command line: an open model is refused, and split when repair is asked for")
{
    const ScratchFolder scratch;
    mesh::Mesh open = mesh::box({0, 0, 0}, {200, 80, 60});
    open.triangles.pop_back();
    const std::string model = saved(scratch, "open.stl", open);
    const auto out = scratch / "out";
    const Ran refused = quoinRan({"split", model, "--plane", "1,0,0@100", "--out", out.string()});
    CHECK(refused.status == 2);
    CHECK(refused.error.find("--repair") != std::string::npos);
    const Ran mended =
        quoinRan({"split", model, "--plane", "1,0,0@100", "--repair", "--no-pictures", "--out", out.string()});
    INFO(mended.error);
    CHECK(mended.status == 0);
    requireForeignCheck(out);
}

TEST_CASE("command line: a tampered export no longer proves")
{
    const ScratchFolder scratch;
    const std::string model = saved(scratch, "box.stl", mesh::box({0, 0, 0}, {200, 80, 60}));
    const auto out = scratch / "out";
    REQUIRE(quoinRan({"split", model, "--plane", "1,0,0@100", "--no-pictures", "--out", out.string()}).status == 0);
    std::filesystem::copy_file(out / "pieces/02-box.stl", out / "pieces/01-box.stl",
                               std::filesystem::copy_options::overwrite_existing);
    const Ran r = quoinRan({"prove", out.string()});
    INFO(r.output << r.error);
    CHECK(r.status == 1);
    CHECK(quoinRan({"prove", (scratch / "nowhere").string()}).status == 2);

    json project = jsonIn(out / "project.quoin.json");
    project.erase("assembly");
    std::ofstream(out / "project.quoin.json") << project;
    const Ran damaged = quoinRan({"prove", out.string()});
    INFO(damaged.error);
    CHECK(damaged.status == 2);
    CHECK(damaged.error.find("assembly") != std::string::npos);
    CHECK(damaged.error.find("Export it again") != std::string::npos);
    CHECK(damaged.error.find("exception") == std::string::npos);
}

TEST_CASE("command line: seams that have the same to say share a line")
{
    const ScratchFolder scratch;
    const std::string model = saved(scratch, "box.stl", mesh::box({0, 0, 0}, {200, 80, 60}));
    const auto out = scratch / "out";
    const Ran r = quoinRan({"split", model, "--plane", "1,0,0@60", "--plane", "1,0,0@130", "--joint", "none",
                            "--no-pictures", "--out", out.string()});
    INFO(r.output << r.error);
    CHECK(r.output.find("  seams A (1-2), B (2-3): ") != std::string::npos);
    CHECK(r.output.find("  seam A") == std::string::npos);
}

TEST_CASE("command line: check reports health, also of several files, also as JSON")
{
    const Ran r = quoinRan({"check", reference("stl-models/polytopes/cube.bin.stl").string(), "--json"});
    INFO(r.output << r.error);
    REQUIRE(r.status == 0);
    const json j = json::parse(r.output);
    CHECK(j["sound"] == true);
    CHECK(j["triangles"] == 12);
    CHECK(j["volume_mm3"].get<double>() == Approx(8)); // a cube from -1 to 1
    const Ran several = quoinRan({"check", reference("stl-models/polytopes/cube.ascii.stl").string(),
                                  reference("stl-models/broken/empty.stl").string()});
    CHECK(several.status == 2);
    CHECK(several.output.find("sound") != std::string::npos);
    CHECK(several.error.find("empty.stl") != std::string::npos);
}

TEST_CASE("command line: beds are listed, added, used by name, removed")
{
    const ScratchFolder scratch;
    CHECK(quoinRan({"beds"}).output.find("300x300x400") != std::string::npos);
    REQUIRE(quoinRan({"beds", "add", "attic", "210x210x180*2"}).status == 0);
    CHECK(quoinRan({"beds", "add", "attic", "100x100x100"}).status == 2);
    CHECK(quoinRan({"beds", "list"}).output.find("attic") != std::string::npos);
    const std::string model = saved(scratch, "box.stl", mesh::box({0, 0, 0}, {300, 80, 60}));
    const auto out = scratch / "out";
    const Ran r = quoinRan({"split", model, "--bed", "attic", "--no-pictures", "--out", out.string()});
    INFO(r.error);
    REQUIRE(r.status == 0);
    CHECK(jsonIn(out / "pieces.json")["pieces"][0]["bed"] == "attic");
    CHECK(quoinRan({"beds", "remove", "attic"}).status == 0);
    CHECK(quoinRan({"beds", "remove", "attic"}).status == 2);
}
