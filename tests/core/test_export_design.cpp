// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/design_file.h"
#include "core/export_design.h"
#include "core/project_file.h"
#include "tests/support/designs.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::core;
using nlohmann::json;
namespace fs = std::filesystem;

namespace {

/// Two boxes, the first one cut, of names that make the same folder.
Design twoParts()
{
    Design d = test::smallDesign();
    PartDesign small;
    small.name = "BOX";
    small.source = std::make_shared<const mesh::Mesh>(test::cuboid({0, 0, 0}, {60, 50, 40}));
    return withPart(d, small);
}

json jsonOf(const fs::path& file)
{
    return json::parse(test::contentOf(file));
}

} // namespace

TEST_CASE("export of a design: one part into the folder itself, several each into their own")
{
    const test::ScratchFolder folder;
    const auto one = exportDesign(test::smallDesign(), folder / "one", {});
    REQUIRE(one.ok());
    REQUIRE(one->size() == 1);
    CHECK(one->front().exported.proof.holds());
    CHECK(fs::exists(folder / "one/proof.html"));

    DesignExportOptions options;
    std::vector<std::string> told;
    options.onPart = [&](std::size_t i, std::size_t n, const std::string& name) {
        told.push_back(std::to_string(i) + " of " + std::to_string(n) + " " + name);
    };
    const auto both = exportDesign(twoParts(), folder / "both", options);
    REQUIRE(both.ok());
    REQUIRE(both->size() == 2);
    CHECK(fs::exists(folder / "both/box/proof.json"));
    CHECK(fs::exists(folder / "both/box-2/proof.json"));
    CHECK(both->at(1).name == "BOX");
    CHECK(both->at(1).exported.folder == folder / "both/box-2");
    CHECK(told == std::vector<std::string>{"0 of 2 box", "1 of 2 BOX", "0 of 2 box", "1 of 2 BOX"});

    options.parts = {2};
    REQUIRE(exportDesign(twoParts(), folder / "second", options).ok());
    CHECK(jsonOf(folder / "second/project.quoin.json")["part"]["name"] == "BOX");
    options.parts = {5};
    CHECK(exportDesign(twoParts(), folder / "x", options).problem().reason == Reason::BadArgument);
    CHECK(exportDesign({}, folder / "x", {}).problem().reason == Reason::BadArgument);
}

TEST_CASE("export of a design: nothing is written when one part can't be")
{
    const test::ScratchFolder folder;
    Design d = twoParts();
    d.parts[1].scale = 3;
    const auto r = exportDesign(d, folder / "out", {});
    REQUIRE_FALSE(r.ok());
    CHECK(r.problem().reason == Reason::DoesNotFit);
    // 180 x 150 x 120 mm on 100 x 100 x 100 mm with 5 mm margin: its volume alone is 4.4 times the bed's room.
    CHECK(r.problem().what.find("part \"BOX\"") != std::string::npos);
    CHECK(r.problem().what.find("piece 1 by ") != std::string::npos);
    CHECK(r.problem().what.find("\"box\"") == std::string::npos);
    CHECK_FALSE(fs::exists(folder / "out"));
}

TEST_CASE("export of a design: what is there already is left alone unless it is an export and may be replaced")
{
    const test::ScratchFolder folder;
    DesignExportOptions options;
    REQUIRE(exportDesign(twoParts(), folder.path(), options).ok());
    const auto written = fs::last_write_time(folder / "box/proof.json");
    CHECK(exportDesign(twoParts(), folder.path(), options).problem().reason == Reason::FileExists);
    CHECK(fs::last_write_time(folder / "box/proof.json") == written);
    options.each.force = true;
    REQUIRE(exportDesign(twoParts(), folder.path(), options).ok());
    // A design that someone has called like an export's project is no export.
    fs::create_directory(folder / "mine");
    test::putContent(folder / "mine/project.quoin.json", "{\"kind\": \"quoin design\"}");
    options.parts = {1};
    CHECK(exportDesign(twoParts(), folder / "mine", options).problem().reason == Reason::FileExists);
    CHECK(test::contentOf(folder / "mine/project.quoin.json") == "{\"kind\": \"quoin design\"}");
}

TEST_CASE("readiness: what keeps a part from being exported, at each stage")
{
    const Design d = test::smallDesign();
    CHECK_FALSE(readiness(d.parts[0], nullptr).ready());
    std::vector<PartReadiness> stages;
    REQUIRE(realise(d, d.parts[0], {}, [&](RealisedPtr r) { stages.push_back(readiness(d.parts[0], r)); }).ok());
    REQUIRE(stages.size() == 3);
    CHECK(stages[0].whyNot.find("tried") != std::string::npos);
    CHECK(stages[0].pieces == 2);
    CHECK_FALSE(stages[0].fits);
    CHECK(stages[1].fits);
    CHECK_FALSE(stages[1].ready());
    CHECK(stages[2].ready());
    CHECK(stages[2].joints >= 2);
    CHECK(stages[2].seams == 1);
    CHECK(stages[2].plainSeams == 0);
    Design whole = d;
    whole.parts[0].cuts.clear();
    const auto r = realise(whole, whole.parts[0]);
    REQUIRE(r.ok());
    const PartReadiness stuck = readiness(whole.parts[0], *r);
    CHECK_FALSE(stuck.fits);
    CHECK(stuck.whyNot.find("piece 1 by 25.0 mm") != std::string::npos); // 120 mm upright in 100 - 5 mm
}

TEST_CASE("opening an export: the part at its full size, its cuts, beds and options")
{
    const test::ScratchFolder folder;
    Design d = test::smallDesign();
    d.parts[0] = withScale(d.parts[0], 0.75);
    d.parts[0] = withCut(d.parts[0], mesh::planeAt({0, 1, 0}, 30), {{1, true}});
    d.parts[0].fit = Fit::Free;
    d.parts[0].material = "PETG";
    d.parts[0].joints.wallMm = 3;
    d.parts[0].load.held = {2};
    d.parts[0].load.extra = {{{80, 10, 10}, {0, 0, -30}, 3}};
    d.parts[0].suggestionWords = "as the maker likes it";
    d.anyRotation = true;
    const auto exported = exportDesign(d, folder / "out", {});
    INFO((exported ? "" : exported.problem().sentence()));
    REQUIRE(exported.ok());
    MeshKeeper keeper;
    for (const char* name : {"out", "out/project.quoin.json"}) {
        const auto opened = openDesign(folder / name, keeper);
        REQUIRE(opened.ok());
        CHECK(opened->file.empty());
        REQUIRE(opened->notes.size() == 1);
        CHECK(opened->notes[0].text.find("0.75 times") != std::string::npos);
        const Design& back = opened->design;
        REQUIRE(back.parts.size() == 1);
        const PartDesign& part = back.parts[0];
        CHECK(part.name == "box");
        CHECK(part.scale == 1);
        CHECK(mesh::bounds(*part.source).extents() == mesh::Vec3{90, 67.5, 60});
        CHECK(part.fit == Fit::Free);
        CHECK(part.material == "PETG");
        CHECK(part.joints.wallMm == 3);
        CHECK(part.load == d.parts[0].load); // the part is as large as it was: so are the places
        CHECK(part.suggestionWords == "as the maker likes it");
        REQUIRE(part.cuts.size() == 2);
        CHECK(part.cuts[0].plane.offset == 45);
        CHECK(part.cuts[1].plane.offset == 30);
        CHECK(part.cuts[1].within == std::vector<CutSide>{{part.cuts[0].id, true}});
        CHECK(back.beds.size() == 1);
        CHECK(back.anyRotation);
        // And it makes the same pieces.
        const auto realised = realise(back, part);
        REQUIRE(realised.ok());
        CHECK((*realised)->project.pieces.size() == 3);
        CHECK((*realised)->project.load == part.load);
    }
}

TEST_CASE("opening an export: made without beds, or damaged")
{
    const test::ScratchFolder folder;
    Design d = test::smallDesign();
    d.beds.clear();
    REQUIRE(exportDesign(d, folder / "out", {}).ok());
    MeshKeeper keeper;
    const auto opened = openDesign(folder / "out", keeper);
    REQUIRE(opened.ok());
    CHECK(opened->design.beds.empty());
    const json good = jsonOf(folder / "out/project.quoin.json");
    const std::vector<json> nonsense{nullptr, "x", -1, 1e300, json::array(), json::object()};
    std::size_t turn = 0, refused = 0;
    const json flat = good.flatten();
    for (const auto& [pointer, value] : flat.items()) {
        json bad = good;
        bad[json::json_pointer(pointer)] = nonsense[++turn % nonsense.size()];
        test::putContent(folder / "out/project.quoin.json", bad.dump());
        CAPTURE(pointer);
        const auto r = openDesign(folder / "out", keeper);
        refused += !r.ok();
        if (r.ok()) // then it can be saved
            CHECK(saveDesign(r->design, folder / "copy.quoin.json", keeper).ok());
    }
    CHECK(refused > 30);
    test::putContent(folder / "out/project.quoin.json", good.dump());
    fs::remove(folder / "out/part.ply");
    CHECK(openDesign(folder / "out", keeper).problem().reason == Reason::FileMissing);
}
