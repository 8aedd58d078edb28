// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/design_file.h"
#include "mesh/primitives.h"
#include "mesh/write_model.h"
#include "tests/app/command.h"
#include "tests/support/designs.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace quoin;
using namespace quoin::test;
using nlohmann::json;
namespace fs = std::filesystem;

namespace {

std::string savedDesign(const ScratchFolder& folder, const core::Design& design)
{
    core::MeshKeeper keeper;
    const auto file = folder / "sculpture.quoin.json";
    REQUIRE(core::saveDesign(design, file, keeper).ok());
    return file.string();
}

core::Design twoParts()
{
    core::Design d = smallDesign();
    core::PartDesign lid = d.parts[0];
    lid.name = "Lid of the box";
    lid.quantity = 3;
    return core::withPart(d, lid);
}

} // namespace

TEST_CASE("command line: a split saved as a design, exported from it, is the same export")
{
    const ScratchFolder scratch;
    const auto model = scratch / "box.stl", design = scratch / "box.quoin.json";
    REQUIRE(mesh::writeStl(model, mesh::box({0, 0, 0}, {20, 8, 6})).ok());
    const std::vector<std::string> common{"split",       model.string(),  "--scale", "10",           "--bed",
                                          "150x150x150", "--no-pictures", "--save",  design.string()};
    Ran r = quoinRan(common); // the design alone
    INFO(r.output << r.error);
    REQUIRE(r.status == 0);
    CHECK(r.output.find(design.string()) != std::string::npos);
    std::vector<std::string> both = common;
    both.insert(both.end(), {"--out", (scratch / "split").string()});
    REQUIRE(quoinRan(both).status == 0);
    const Ran e =
        quoinRan({"export", design.string(), "--out", (scratch / "export").string(), "--no-pictures", "--json"});
    INFO(e.output << e.error);
    REQUIRE(e.status == 0);
    const json summary = json::parse(e.output);
    REQUIRE(summary["parts"].size() == 1);
    CHECK(summary["parts"][0]["proved"] == true);
    for (const char* name : {"pieces.json", "part.ply", "pieces/01-box.stl", "pieces/02-box.stl"})
        CHECK(contentOf(scratch / "export" / name) == contentOf(scratch / "split" / name));
    CHECK(quoinRan({"split", model.string(), "--plane", "1,0,0@5"}).status == 2); // nothing to write
}

TEST_CASE("command line: a design of two parts, all, one, and again")
{
    const ScratchFolder scratch;
    const std::string design = savedDesign(scratch, twoParts());
    const auto out = scratch / "out";
    const std::vector<std::string> all{"export", design, "--out", out.string(), "--no-pictures"};
    Ran r = quoinRan(all);
    INFO(r.output << r.error);
    REQUIRE(r.status == 0);
    CHECK(r.output.find("print this set 3 times") != std::string::npos);
    CHECK(fs::exists(out / "box/proof.html"));
    CHECK(fs::exists(out / "lid-of-the-box/proof.html"));
    CHECK(quoinRan({"prove", (out / "lid-of-the-box").string()}).status == 0);
    r = quoinRan(all);
    CHECK(r.status == 2);
    CHECK(r.error.find("--force") != std::string::npos);
    std::vector<std::string> forced = all;
    forced.push_back("--force");
    CHECK(quoinRan(forced).status == 0);
    r = quoinRan({"export", design, "--part", "box", "--out", (scratch / "one").string(), "--no-pictures"});
    REQUIRE(r.status == 0);
    CHECK(fs::exists(scratch / "one/proof.html"));
    r = quoinRan({"export", design, "--part", "wing", "--out", (scratch / "two").string()});
    CHECK(r.status == 2);
    CHECK(r.error.find("Lid of the box") != std::string::npos);
}

TEST_CASE("command line: a design that fits no bed, a damaged one, and an export opened again")
{
    const ScratchFolder scratch;
    core::Design d = twoParts();
    d.parts[1].cuts.clear();
    Ran r = quoinRan({"export", savedDesign(scratch, d), "--out", (scratch / "out").string()});
    CHECK(r.status == 2);
    CHECK(r.error.find("piece 1 by 25.0 mm") != std::string::npos);
    CHECK_FALSE(fs::exists(scratch / "out"));
    putContent(scratch / "bad.quoin.json", "{\"kind\": \"quoin design\", \"version\": 2,\n \"unit\": mm}");
    r = quoinRan({"export", (scratch / "bad.quoin.json").string(), "--out", (scratch / "out").string()});
    CHECK(r.status == 2);
    CHECK(r.error.find("line 2, column 10") != std::string::npos);
    const std::string good = savedDesign(scratch, smallDesign());
    REQUIRE(quoinRan({"export", good, "--out", (scratch / "first").string(), "--no-pictures"}).status == 0);
    r = quoinRan({"export", (scratch / "first").string(), "--out", (scratch / "second").string(), "--no-pictures"});
    INFO(r.error);
    REQUIRE(r.status == 0);
    CHECK(r.output.find("opened from an export") != std::string::npos);
    CHECK(contentOf(scratch / "second/pieces/02-box.stl") == contentOf(scratch / "first/pieces/02-box.stl"));
}
