// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/design_json.h"
#include "core/json_place.h"
#include "core/mesh_folder.h"
#include "tests/support/designs.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::core;
using nlohmann::json;

namespace {

DesignDocument sample()
{
    DesignDocument d{test::fullDesign(), {}};
    MeshKeeper keeper;
    for (const PartDesign& p : d.design.parts) {
        const std::string hash = keeper.hashOf(p.source);
        d.meshes.push_back({"x.quoin-meshes/" + keptName(hash), hash, p.source->triangles.size()});
    }
    return d;
}

Result<DesignDocument> readBack(const json& j)
{
    return designFromJson(j, "test.quoin.json");
}

/// Changes one value and expects it refused at that place.
void refused(const json& good, const std::string& pointer, const json& value, const std::string& place = {})
{
    json j = good;
    j[json::json_pointer(pointer)] = value;
    CAPTURE(pointer, value.dump());
    const auto r = readBack(j);
    REQUIRE_FALSE(r.ok());
    CHECK(r.problem().reason == Reason::FileMalformed);
    CHECK(r.problem().file == "test.quoin.json");
    CHECK(r.problem().place == (place.empty() ? pointer : place));
    CHECK_FALSE(r.problem().remedy.empty());
}

} // namespace

TEST_CASE("design as JSON: every field comes back, through text")
{
    const DesignDocument d = sample();
    const auto back = readBack(json::parse(toJson(d).dump()));
    REQUIRE(back.ok());
    CHECK(toJson(*back) == toJson(d));
    const PartDesign &a = d.design.parts[0], &b = back->design.parts[0];
    CHECK(b.id == 3);
    CHECK(b.name == a.name);
    CHECK(b.sourceFile == a.sourceFile);
    CHECK(b.sourceSha256 == a.sourceSha256);
    CHECK(b.sourceUnit == mesh::Unit::Inch);
    CHECK(b.repairs == a.repairs);
    CHECK(b.scale == a.scale);
    CHECK(b.material == "PETG");
    CHECK(b.quantity == 4);
    REQUIRE(b.places.size() == 2);
    CHECK(b.places[1].m == mesh::Transform::translation({1, 2, 3}).m);
    CHECK_FALSE(b.visible);
    REQUIRE(b.cuts.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(b.cuts[i].id == a.cuts[i].id);
        CHECK(b.cuts[i].name == a.cuts[i].name);
        CHECK(b.cuts[i].plane.normal == a.cuts[i].plane.normal);
        CHECK(b.cuts[i].plane.offset == a.cuts[i].plane.offset);
        CHECK(b.cuts[i].enabled == a.cuts[i].enabled);
        CHECK(b.cuts[i].within == a.cuts[i].within);
    }
    CHECK(b.nextCut == 9);
    CHECK(b.keepClear == a.keepClear);
    CHECK_FALSE(b.joints.wanted);
    CHECK(b.joints.wallMm == 3.25);
    CHECK(b.joints.clearances.keyMm == 0.125);
    CHECK_FALSE(b.joints.marks);
    CHECK(b.fit == Fit::Snug);
    CHECK(b.load == a.load);
    CHECK_FALSE(b.load == LoadCase{}); // or the line above says little
    CHECK(b.suggestionWords == a.suggestionWords);
    CHECK(back->design.nextPart == 7);
    CHECK(back->design.parts[1].name == "base");
    CHECK(back->design.beds[0].shape == Bed::Shape::Round);
    CHECK(back->design.beds[0].heightMm == 300.5);
    CHECK(back->design.beds[0].machines == 2);
    CHECK(back->design.beds[1].depthMm == 200);
    CHECK(back->design.marginMm == 4.75);
    CHECK(back->design.anyRotation);
    CHECK_FALSE(back->design.islandsApart);
}

TEST_CASE("design as JSON: choices for faces come back")
{
    const DesignDocument d = sample();
    const auto back = readBack(json::parse(toJson(d).dump()));
    REQUIRE(back.ok());
    const auto &a = d.design.parts[0].faces, &b = back->design.parts[0].faces;
    REQUIRE(b.size() == a.size());
    for (std::size_t i = 0; i < a.size(); ++i) {
        CHECK(b[i].cut == a[i].cut);
        CHECK(b[i].at == a[i].at);
        CHECK(b[i].how == a[i].how);
        CHECK(b[i].diameterMm == a[i].diameterMm);
        CHECK(b[i].fit == a[i].fit);
        REQUIRE(b[i].joints.size() == a[i].joints.size());
        for (std::size_t k = 0; k < a[i].joints.size(); ++k) {
            CHECK(b[i].joints[k] == a[i].joints[k]);
            CHECK(b[i].joints[k].at == a[i].joints[k].at);
            CHECK(b[i].joints[k].diameterMm == a[i].joints[k].diameterMm);
            CHECK(b[i].joints[k].depthMm == a[i].joints[k].depthMm);
            CHECK(b[i].joints[k].keyed == a[i].joints[k].keyed);
            CHECK(b[i].joints[k].angle == a[i].joints[k].angle);
        }
    }
}

TEST_CASE("design as JSON: a newer version and another kind of document")
{
    json j = toJson(sample());
    j["version"] = designVersion + 1;
    CHECK(readBack(j).problem().reason == Reason::VersionTooNew);
    CHECK(readBack(j).problem().sentence().find("newer") != std::string::npos);
    j["version"] = 1;
    CHECK(readBack(j).problem().reason == Reason::FileMalformed);
    for (const json& other :
         {json(), json(3), json::array(), json::object(), json{{"kind", "quoin project"}}, json{{"kind", 4}}}) {
        CAPTURE(other.dump());
        CHECK(readBack(other).problem().reason == Reason::FileMalformed);
    }
}

TEST_CASE("design as JSON: what names something that isn't there, or names it twice")
{
    const json good = toJson(sample());
    refused(good, "/parts/0/id", 7);                  // not below next_part
    refused(good, "/parts/1/id", 3);                  // taken
    refused(good, "/parts/0/cuts/0/id", 9);           // not below next_cut
    refused(good, "/parts/0/cuts/1/id", 2);           // taken
    refused(good, "/parts/0/cuts/1/within/0/cut", 1); // a later cut
    refused(good, "/parts/0/cuts/1/within/0/cut", 5); // itself
    refused(good, "/parts/0/cuts/2/within/1/cut", 2); // twice
    refused(good, "/parts/0/cuts/2/within/1/side", "beside");
    refused(good, "/parts/0/faces/0/cut", 3); // no such cut
    refused(good, "/parts/0/mesh/file", "../" + std::string(64, 'a') + ".ply");
    refused(good, "/parts/0/mesh/file", "/etc/passwd");
    refused(good, "/parts/0/mesh/sha256", "abc");
}

TEST_CASE("design as JSON: numbers beyond all measure")
{
    const json good = toJson(sample());
    refused(good, "/parts/0/scale", 0);
    refused(good, "/parts/0/scale", -2);
    refused(good, "/parts/0/cuts/0/normal/0", 0.5, "/parts/0/cuts/0/normal"); // no unit vector
    refused(good, "/parts/0/cuts/0/offset_mm", 1e300);
    refused(good, "/parts/0/faces/0/joints/0/diameter_mm", 0);
    refused(good, "/parts/0/quantity", 0);
    refused(good, "/parts/0/quantity", 1.5);
    refused(good, "/parts/0/places/0/0", 0.5, "/parts/0/places/0"); // no turn any more
    refused(good, "/parts/0/places/0", json::array({1, 0, 0}));
    refused(good, "/parts/0/material", "cheese");
    refused(good, "/beds/0/width_mm", 0, "/beds/0");
    refused(good, "/beds/0/machines", 18446744073709551615u);
    refused(good, "/margin_mm", -1);
    refused(good, "/parts/0/name", std::string(2000, 'n'));
    refused(good, "/parts/0/name", std::string("a\0b", 3));
    refused(good, "/parts/0/source_file/hex", "zz");
}

TEST_CASE("design as JSON: a design from the time when all joints were dowels is read as it was meant")
{
    json j = toJson(sample());
    j["version"] = 2;
    json& part = j["parts"][0];
    part["joint_options"] = {{"dowels", true}, {"wall_mm", 3}, {"clearance_mm", 0.2}, {"marks", true}};
    for (json& face : part["faces"]) {
        face.erase("joints");
        face.erase("kind");
        face["dowels"] = json::array();
    }
    part["faces"][0]["dowels"].push_back(
        {{"at_mm", {1, 2}}, {"diameter_mm", 6}, {"depth_mm", 9}, {"keyed", true}, {"flat_angle_rad", 0.75}});
    j["parts"][1]["joint_options"] = part["joint_options"];
    const auto back = readBack(j);
    REQUIRE(back.ok());
    const PartDesign& p = back->design.parts[0];
    CHECK(p.joints.wanted);
    CHECK(p.joints.kind == JointForm::Kind::Dowel);
    CHECK(p.joints.clearances.dowelMm == 0.2);
    REQUIRE(p.faces[0].joints.size() == 1);
    CHECK(p.faces[0].joints[0] == dowelForm({1, 2}, 6, 9, true, 0.75));
    // A joint of today in a file of then is one that was damaged.
    j["version"] = 3;
    CHECK(readBack(j).problem().reason == Reason::FileMalformed);
}

TEST_CASE("design as JSON: loads are checked, and are the usual ones where none were written")
{
    const json good = toJson(sample());
    refused(good, "/parts/0/load/dynamic_factor", 0);
    refused(good, "/parts/0/load/gravity", json::array({0, 0, 0}));
    refused(good, "/parts/0/load/gravity/1", "down");
    refused(good, "/parts/0/load/extra_forces/0/at_mm", json::array({1, 2}));
    refused(good, "/parts/0/load/extra_forces/0/force_n/0", 1e300);
    refused(good, "/parts/0/load/extra_forces/1/piece", -1);
    refused(good, "/parts/0/load/held/0", 0);
    refused(good, "/parts/0/load/fill_share", 1.5);
    refused(good, "/parts/0/load/safety_limit", -3);
    refused(good, "/parts/0/load/glue_mpa", -1);
    refused(good, "/parts/0/load/bolt_class", "7.7");
    json j = good;
    j["parts"][0].erase("load");
    const auto back = readBack(j);
    REQUIRE(back.ok());
    CHECK(back->design.parts[0].load == LoadCase{});
}

TEST_CASE("design as JSON: triangles kept clear rise and are there")
{
    const json good = toJson(sample());
    CHECK(good["parts"][0]["keep_clear_runs"] == json{0, 2, 7, 7, 9, 10, 127, 127});
    refused(good, "/parts/0/keep_clear_runs/7", 128);                               // the sphere has 128
    refused(good, "/parts/0/keep_clear_runs/2", 2);                                 // not rising
    refused(good, "/parts/0/keep_clear_runs/5", 8);                                 // ends before it begins
    refused(good, "/parts/0/keep_clear_runs/8", 127);                               // past the last
    refused(good, "/parts/0/keep_clear_runs", json{3}, "/parts/0/keep_clear_runs"); // without end
}

TEST_CASE("design as JSON: a value missing, or replaced by nonsense, is refused or harmless")
{
    const json good = toJson(sample());
    const std::vector<json> nonsense{nullptr, "x", -1, 0, 1e300, -1e-300, 4000000000u, json::array(), json::object()};
    std::size_t refusals = 0, tries = 0;
    const json flat = good.flatten();
    for (const auto& [pointer, value] : flat.items()) {
        json missing = good;
        const json::json_pointer place(pointer);
        auto& parent = missing[place.parent_pointer()];
        if (parent.is_object())
            parent.erase(place.back());
        for (const json& bad : nonsense) {
            json j = good;
            j[place] = bad;
            CAPTURE(pointer, bad.dump());
            const auto r = readBack(j);
            ++tries;
            refusals += !r.ok();
            if (r.ok()) // then it says what it was told
                CHECK(readBack(toJson(*r)).ok());
            else
                CHECK((!r.problem().place.empty() || pointer == "/kind" || pointer == "/version"));
        }
        const auto r = readBack(missing);
        CAPTURE(pointer);
        const bool maybe = place.back() == "diameter_mm" || place.back() == "fit" || place.back() == "kind" ||
                           place.back() == "clocked" || place.back() == "witness" ||
                           pointer.find("/fits/") != std::string::npos;
        CHECK((r.ok() == false || maybe || !parent.is_object()));
    }
    CHECK(tries > 800);
    CHECK(refusals > tries * 3 / 4);
}

TEST_CASE("JSON in a file: what is wrong is named with line and column")
{
    const test::ScratchFolder folder;
    test::putContent(folder / "a.json", "{\n  \"a\": 1,\n  \"b\": ?\n}\n");
    const auto r = jsonInFile(folder / "a.json", 1000);
    REQUIRE_FALSE(r.ok());
    CHECK(r.problem().place == "line 3, column 8");
    test::putContent(folder / "a.json", "{\"a\": 1e999}");
    CHECK(jsonInFile(folder / "a.json", 1000).problem().reason == Reason::FileMalformed);
    CHECK(jsonInFile(folder / "a.json", 5).problem().reason == Reason::FileTooLarge);
    CHECK(jsonInFile(folder / "none.json", 5).problem().reason == Reason::FileMissing);
    test::putContent(folder / "a.json", "");
    CHECK(jsonInFile(folder / "a.json", 5).problem().reason == Reason::FileEmpty);
    // A tower of brackets must not bring the stack down.
    test::putContent(folder / "a.json", std::string(1'000'000, '['));
    CHECK(jsonInFile(folder / "a.json", 2'000'000).problem().reason == Reason::FileMalformed);
}
