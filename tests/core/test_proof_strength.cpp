// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/export_design.h"
#include "core/proof.h"
#include "core/strength_json.h"
#include "mesh/primitives.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <fstream>
#include <sstream>

using namespace quoin;
using namespace quoin::core;
using nlohmann::json;

namespace {

/// A wall piece of 50 mm and an arm of l x b x h (x, y, z) beside it, cut at x = 0 and glued; the wall piece is held.
constexpr double l = 200, b = 40, h = 60;
Design cantilever()
{
    PartDesign part;
    part.name = "arm";
    part.source = std::make_shared<const mesh::Mesh>(mesh::box({-50, 0, 0}, {l, b, h}));
    part.joints.wanted = false;
    part.joints.marks = false;
    Design d = withPart({}, withCut(part, mesh::planeAt({1, 0, 0}, 0)));
    const Project project = (*realise(d, d.parts[0]))->project;
    for (const Piece& piece : project.pieces)
        if (mesh::bounds(piece.mesh).min.x < -1)
            d.parts[0].load.held = {piece.number};
    return d;
}

std::string textIn(const std::filesystem::path& file)
{
    std::ifstream in(file);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

Proof exported(const Design& d, const std::filesystem::path& folder)
{
    const auto parts = exportDesign(d, folder, {});
    INFO((parts ? "" : parts.problem().sentence()));
    REQUIRE(parts.ok());
    return parts->front().exported.proof;
}

bool anyHas(const std::vector<std::string>& lines, const std::string& words)
{
    return std::any_of(lines.begin(), lines.end(),
                       [&](const std::string& line) { return line.find(words) != std::string::npos; });
}

/// PLA, 1.24 g/cm3 (core/material.h), twice its weight.
constexpr double armN = l * b * h * 1.24e-6 * 9.80665, ownNmm = 2 * armN * l / 2, modulusMm3 = b * h * h / 6;

} // namespace

// Closed form: M = 2 m g l / 2, W = b h^2 / 6 (Roark, table 8.1: cantilever under its own weight).
TEST_CASE("proof of strength: an exported cantilever has the closed form's figures on its page and in its files")
{
    const test::ScratchFolder scratch;
    const Proof proof = exported(cantilever(), scratch / "out");
    const json file = json::parse(textIn(scratch / "out/strength.json"));
    CHECK(file["kind"] == "quoin strength");
    CHECK(file["caution"] == strengthCaution());
    REQUIRE(file["faces"].size() == 1);
    const json& face = file["faces"][0];
    const double bending = std::hypot(face["bending_nmm"][0].get<double>(), face["bending_nmm"][1].get<double>());
    CHECK(bending == Approx(ownNmm).epsilon(1e-5)); // files are of 32 bits
    CHECK(std::hypot(face["shear_n"][0].get<double>(), face["shear_n"][1].get<double>()) ==
          Approx(2 * armN).epsilon(1e-5));
    CHECK(face["safety"].get<double>() == Approx(2 / (ownNmm / modulusMm3)).epsilon(1e-5)); // glue of 2 MPa
    CHECK(face["low"] == false);
    CHECK(proof.holds());
    CHECK_FALSE(anyHas(proof.cautions, "Low strength"));
    CHECK(anyHas(proof.cautions, "no claim says that the joints or the material carry any load"));
    CHECK(anyHas(proof.cautions, strengthCaution()));

    const std::string page = textIn(scratch / "out/proof.html");
    const auto chapter = page.find("<h2>Strength</h2>");
    REQUIRE(chapter != std::string::npos);
    const auto table = page.find("<th>Weakest check", chapter);
    REQUIRE(table != std::string::npos);
    CHECK(page.substr(chapter, table - chapter).find(strengthCaution()) != std::string::npos);
    for (const std::string& words :
         {fmt::format("{:.2f} kg", l * b * h * 1.24e-6), fmt::format("bending {:.2f} N m", ownNmm / 1000),
          fmt::format("shear {:.1f} N", 2 * armN), fmt::format("<td class=n>{:.4g} MPa", ownNmm / modulusMm3),
          std::string("<td class=n>2 MPa"), fmt::format("<td class=n>{:.2f}</td></tr>", 2 * modulusMm3 / ownNmm),
          std::string("glue pulled")}) {
        INFO(words);
        CHECK(page.find(words, table) != std::string::npos);
    }
    CHECK(page.find("class=low") == std::string::npos);
}

// 100 N at the arm's tip: M grows by F l (Roark, table 8.1).
TEST_CASE("proof of strength: a low seam is a warning on the page, in both files and in the notes, and stops nothing")
{
    const test::ScratchFolder scratch;
    Design d = cantilever();
    d.parts[0].load.extra = {{{l, b / 2, h / 2}, {0, 0, -100}, 0}};
    const Proof proof = exported(d, scratch / "out");
    const double safety = 2 * modulusMm3 / (ownNmm + 100 * l);
    REQUIRE(safety < 3);
    CHECK(proof.holds());
    const json file = json::parse(textIn(scratch / "out/strength.json"));
    CHECK(file["low"] == true);
    CHECK(file["safety"].get<double>() == Approx(safety).epsilon(1e-5));
    CHECK(file["load"]["extra_forces"][0]["force_n"][2] == -100.0);
    const json written = json::parse(textIn(scratch / "out/proof.json"));
    CHECK(written["holds"] == true);
    CHECK(anyHas(written["cautions"].get<std::vector<std::string>>(), fmt::format("safety {:.2f}, below 3", safety)));
    const std::string page = textIn(scratch / "out/proof.html");
    CHECK(page.find("<tr class=low>") != std::string::npos);
    CHECK(page.find(fmt::format("<strong>{:.2f}</strong><br>below 3", safety)) != std::string::npos);
    const std::vector<Note> notes = strengthNotes(proof.strength);
    REQUIRE(notes.size() == 2);
    CHECK(notes[0].text.find(strengthCaution()) != std::string::npos);
    CHECK(notes[1].severity == Note::Severity::Warning);
    CHECK(notes[1].text.find(fmt::format("safety {:.2f}", safety)) != std::string::npos);

    // The folder alone says so again.
    const auto again = prove(scratch / "out");
    REQUIRE(again.ok());
    CHECK(again->strength.report->joints[0].safety == Approx(safety).epsilon(1e-5));
}

TEST_CASE("proof of strength: what can't be estimated is said in words and stops no export")
{
    const test::ScratchFolder scratch;
    Design d = cantilever();
    d.parts[0].load.held = {9};
    Project clay = (*realise(d, d.parts[0]))->project;
    const Proof noPiece = exported(d, scratch / "a");
    CHECK(noPiece.strength.whyNot.find("no piece 9") != std::string::npos);
    clay.part.material = "clay";
    clay.load.held.clear();
    REQUIRE(exportProject(clay, scratch / "b", {}).ok());
    const std::pair<const char*, const char*> both[]{{"a", "no piece 9"}, {"b", "clay"}};
    for (const auto& [folder, why] : both) {
        const json file = json::parse(textIn(scratch / folder / "strength.json"));
        CHECK(file["not_estimated"].get<std::string>().find(why) != std::string::npos);
        CHECK(file["caution"] == strengthCaution());
        const json proof = json::parse(textIn(scratch / folder / "proof.json"));
        CHECK(proof["holds"] == true);
        CHECK(anyHas(proof["cautions"].get<std::vector<std::string>>(), "Strength was not estimated"));
        CHECK(textIn(scratch / folder / "proof.html").find("Strength was not estimated: ") != std::string::npos);
    }
    const std::vector<Note> notes = strengthNotes(noPiece.strength);
    REQUIRE(notes.size() == 1);
    CHECK(notes[0].severity == Note::Severity::Warning);
}

TEST_CASE("proof of strength: the figures are those of the files, not of what the program had in mind")
{
    const test::ScratchFolder scratch;
    exported(cantilever(), scratch / "out");
    json project = json::parse(textIn(scratch / "out/project.quoin.json"));
    project["load"]["dynamic_factor"] = 4;
    std::ofstream(scratch / "out/project.quoin.json") << project.dump();
    const auto again = prove(scratch / "out");
    REQUIRE(again.ok());
    CHECK(again->strength.report->joints[0].safety == Approx(modulusMm3 / ownNmm).epsilon(1e-5));
    for (const auto& piece : std::filesystem::directory_iterator(scratch / "out/pieces"))
        std::ofstream(piece.path()) << "solid nothing\nendsolid nothing\n";
    const auto empty = prove(scratch / "out");
    REQUIRE(empty.ok());
    CHECK_FALSE(empty->strength.report);
    CHECK(empty->strength.whyNot.find("weight isn't known") != std::string::npos);
}

TEST_CASE("proof of strength: a part of one piece has nothing to say about joints")
{
    const test::ScratchFolder scratch;
    Design d = cantilever();
    d.parts[0] = withoutCut(d.parts[0], 1);
    d.parts[0].load.held.clear();
    const Proof proof = exported(d, scratch / "out");
    CHECK(strengthNotes(proof.strength).empty());
    CHECK(textIn(scratch / "out/proof.html").find("There is no seam") != std::string::npos);
}
