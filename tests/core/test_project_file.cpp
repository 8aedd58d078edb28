// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_layout.h"
#include "core/project_file.h"
#include "mesh/primitives.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::core;
using nlohmann::json;

namespace {

Project sample()
{
    Project p;
    p.part.name = "box \"quoted\" <tag>";
    p.part.sourceFile = "models/box.stl";
    p.part.scale = 2.5;
    p.beds = {{"attic", Bed::Shape::Round, 250, 250, 300, 2}};
    p.plan.nodes = {{mesh::planeAt({1, 2, 3}, 20), -1, 1}, {mesh::planeAt({0, 0, 1}, 40), -1, -1}};
    const mesh::Mesh part = mesh::box({0, 0, 0}, {120, 90, 80});
    p.pieces = piecesOf(cutByPlan(part, p.plan).value());
    p.seams = seamsOf(p.pieces, p.plan);
    p.jointOptions.kind = JointForm::Kind::Dowel;
    p.layout = layOutJoints(p.pieces, p.seams, p.plan, p.jointOptions).value();
    p.load.dynamicFactor = 1.25;
    p.load.held = {2};
    p.load.extra = {{{1, 2, 3}, {4, 5, 6}, 1}};
    p.notes = {{Note::Severity::Warning, "a note", "(1, 2, 3) mm"}};
    return p;
}

Result<Project> readBack(const json& j)
{
    return projectFromJson(j, "test.json");
}

} // namespace

TEST_CASE("project file: everything comes back, through text")
{
    const Project p = sample();
    REQUIRE(p.layout.joints.size() >= 4);
    const auto back = readBack(json::parse(toJson(p).dump()));
    REQUIRE(back.ok());
    // The document is what the proof reads: equal documents, equal projects.
    CHECK(toJson(*back) == toJson(p));
    CHECK(back->part.name == p.part.name);
    CHECK(back->plan.nodes[0].plane.normal == p.plan.nodes[0].plane.normal);
    CHECK(back->layout.joints[0].at == p.layout.joints[0].at);
    CHECK(back->seams[0].region == p.seams[0].region);
    CHECK(back->load == p.load);
}

TEST_CASE("project file: without a load it has the usual one")
{
    json j = toJson(sample());
    j.erase("load");
    const auto back = readBack(j);
    REQUIRE(back.ok());
    CHECK(back->load == LoadCase{});
}

TEST_CASE("project file: a newer version is refused with a clear reason")
{
    json j = toJson(sample());
    j["version"] = projectVersion + 1;
    const auto r = readBack(j);
    REQUIRE_FALSE(r.ok());
    CHECK(r.problem().reason == Reason::VersionTooNew);
    CHECK(r.problem().sentence().find("newer") != std::string::npos);
}

TEST_CASE("project file: damage is named, never a crash")
{
    const json good = toJson(sample());
    const auto damaged = [&](const char* pointer, const json& value) {
        json j = good;
        j[json::json_pointer(pointer)] = value;
        const auto r = readBack(j);
        INFO(pointer);
        REQUIRE_FALSE(r.ok());
        CHECK(r.problem().reason == Reason::FileMalformed);
        CHECK(r.problem().file == "test.json");
    };
    damaged("/kind", "shopping list");
    damaged("/load/held/0", "all");
    damaged("/load/fill_share", 0);
    damaged("/cuts/0/below", 0);      // its own child
    damaged("/cuts/0/above", 7);      // not there
    damaged("/cuts/0/normal/0", 5.0); // no unit vector
    damaged("/cuts/0/normal", "up");
    damaged("/pieces/0/number", 9);
    damaged("/pieces/0/path/0/cut", 4);
    damaged("/pieces/0/pose/bed", 3);
    damaged("/seams/0/cut", 12);
    damaged("/seams/0/piece_above", 0);
    damaged("/layout/joints/0/seam", 99);
    damaged("/layout/joints/0/kind", "nail");
    damaged("/layout/joints/0/at_mm", json::array({1}));
    damaged("/part/source_unit", "cubit");
    json none = good;
    none.erase("beds");
    CHECK_FALSE(readBack(none).ok());
    for (const json& odd : {json(), json(3), json::array(), json("text")})
        CHECK_FALSE(readBack(odd).ok());
}
