// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/bed_fit.h"
#include "core/cut_plan.h"
#include "core/export.h"
#include "core/joint_dovetail.h"
#include "core/joint_key.h"
#include "core/jointed_pieces.h"
#include "core/thread.h"
#include "mesh/primitives.h"
#include "mesh/topology.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <fstream>

using namespace quoin;
using namespace quoin::core;

namespace {

/// 100 x 100 x 200, cut across the middle; the face is about (50, 50).
Project columnIn(const std::vector<mesh::Plane>& planes)
{
    Project p;
    p.part.name = "column";
    p.part.sourceFile = "column.stl";
    p.part.mesh = std::make_shared<const mesh::Mesh>(mesh::box({0, 0, 0}, {100, 100, 200}));
    p.beds = {{"bed", Bed::Shape::Rectangular, 300, 300, 300, 1}};
    p.plan = planByCutting(*p.part.mesh, planes).value();
    p.pieces = piecesOf(cutByPlan(*p.part.mesh, p.plan).value());
    for (Piece& piece : p.pieces)
        piece.pose = fitOnBeds(piece.mesh, p.beds, {p.marginMm, false}).value();
    p.seams = seamsOf(p.pieces, p.plan);
    for (std::size_t s = 0; s < p.seams.size(); ++s)
        p.layout.reports.push_back({s, "by hand", true, 0});
    return p;
}

Project columnInTwo()
{
    return columnIn({mesh::planeAt({0, 0, 1}, 100)});
}

Joint jointOf(JointForm::Kind kind, double diameterMm, double depthMm)
{
    Joint j;
    j.kind = kind;
    j.at = mesh::frameOf(columnInTwo().plan.nodes[0].plane).flat({50, 50, 100});
    j.diameterMm = diameterMm;
    j.depthMm = depthMm;
    j.angle = 0.3;
    j.clearanceMm = 0.3;
    j.endClearanceMm = 0.5;
    j.chordMm = 0.05;
    return j;
}

/// Poses what a stud stands out of anew, and exports.
Result<Exported> exported(Project p, const std::filesystem::path& folder, const std::vector<Joint>& joints)
{
    p.layout.joints = joints;
    const auto made = jointedPieces(p.pieces, p.seams, p.plan, p.layout);
    if (!made)
        return made.problem();
    for (std::size_t i = 0; i < made->size(); ++i) {
        CHECK(mesh::topologyOf((*made)[i]).solid());
        p.pieces[i].pose = fitOnBeds((*made)[i], p.beds, {p.marginMm, false}).value();
    }
    ExportOptions options;
    options.force = options.evenIfProofFails = true;
    return exportProject(p, folder, options);
}

void requireProved(const std::vector<Joint>& joints)
{
    const test::ScratchFolder folder;
    const auto done = exported(columnInTwo(), folder / "out", joints);
    INFO((done ? "" : done.problem().sentence()));
    REQUIRE(done.ok());
    for (const Claim& c : done->proof.claims) {
        CAPTURE(c.id, c.subject, c.text, c.measured, c.relation, c.limit, c.unit);
        CHECK(c.holds);
    }
    const auto turns = std::count_if(done->proof.claims.begin(), done->proof.claims.end(),
                                     [](const Claim& c) { return c.id == "assembly.turn"; });
    const JointForm::Kind kind = joints.front().kind;
    CHECK(turns == (kind == JointForm::Kind::Screw || kind == JointForm::Kind::Stud ? 1 : 0));
}

} // namespace

TEST_CASE("proof of kinds: a screw grown on either piece, of either profile, hand and number of starts")
{
    for (const bool above : {false, true})
        for (const ThreadForm& thread : {ThreadForm{false, 6, 1, false}, ThreadForm{true, 7, 2, true}}) {
            CAPTURE(above, thread.trapezoidal);
            Joint j = jointOf(JointForm::Kind::Screw, 40, 45);
            j.carrierAbove = above;
            j.thread = thread;
            requireProved({j});
        }
}

TEST_CASE("proof of kinds: a loose stud")
{
    Joint j = jointOf(JointForm::Kind::Stud, 40, 35);
    j.thread = {false, 6, 1, false};
    requireProved({j});
}

TEST_CASE("proof of kinds: keys, loose and grown on a piece")
{
    for (const bool integral : {false, true})
        for (const JointForm::Section section :
             {JointForm::Section::Square, JointForm::Section::D, JointForm::Section::Cross}) {
            CAPTURE(integral, static_cast<int>(section));
            Joint j = jointOf(JointForm::Kind::Key, 30, 25);
            j.integral = integral;
            j.section = section;
            j.taperMm = 0.4;
            requireProved({j});
        }
}

TEST_CASE("proof of kinds: a bought rod is not printed, and has its place all the same")
{
    Joint j = jointOf(JointForm::Kind::Dowel, 12, 24);
    j.rod = JointForm::Rod::Wood;
    requireProved({j});
}

TEST_CASE("proof of kinds: draw bolts, however their nut is held")
{
    for (const JointForm::Hold hold : {JointForm::Hold::Insert, JointForm::Hold::FarNut, JointForm::Hold::SideNut}) {
        CAPTURE(static_cast<int>(hold));
        Joint j = jointOf(JointForm::Kind::DrawBolt, 8, hold == JointForm::Hold::Insert ? 12.7 : 20);
        j.hold = hold;
        j.gripMm = 30;
        j.headOutMm = 105;
        j.nutOutMm = hold == JointForm::Hold::SideNut ? 75 : 105;
        requireProved({j});
    }
}

TEST_CASE("proof of kinds: a dovetail slides in from the side")
{
    Joint j = jointOf(JointForm::Kind::Dovetail, 24, 12);
    j.angle = 0;
    j.lengthMm = 30;
    j.nutOutMm = 80;
    requireProved({j});
}

TEST_CASE("proof of kinds: a screw with a clocking key let in beside it")
{
    Joint screw = jointOf(JointForm::Kind::Screw, 40, 45);
    screw.thread = {false, 6, 1, false};
    Joint key = jointOf(JointForm::Kind::ClockingKey, 8, 4);
    key.angle = 0;
    key.at = screw.at + mesh::Vec2{28, 0};
    key.lengthMm = 20;
    key.nutOutMm = 22.5;
    requireProved({screw, key});
    // The bar is listed, and put in when its pieces are together.
    const test::ScratchFolder folder;
    const auto done = exported(columnInTwo(), folder / "out", {screw, key});
    REQUIRE(done.ok());
    std::string words;
    for (const std::string& line : done->proof.assembly)
        words += line;
    CHECK(words.find("Then let the clocking key of 8 mm in from outside") != std::string::npos);
    const auto inserted = std::count_if(done->proof.claims.begin(), done->proof.claims.end(),
                                        [](const Claim& c) { return c.id == "assembly.insert"; });
    CHECK(inserted == 2); // past either piece
}

TEST_CASE("proof of kinds: a clocking key whose slot is too short to let it in is told of")
{
    Joint key = jointOf(JointForm::Kind::ClockingKey, 8, 4);
    key.angle = 0;
    key.at = key.at + mesh::Vec2{15, 0};
    key.lengthMm = 20;
    key.nutOutMm = 25; // ends 10 mm inside the skin: a cavity
    const test::ScratchFolder folder;
    const auto done = exported(columnInTwo(), folder / "out", {key});
    REQUIRE(done.ok());
    CHECK(std::any_of(done->proof.claims.begin(), done->proof.claims.end(),
                      [](const Claim& c) { return c.id == "assembly.insert" && !c.holds; }));
}

TEST_CASE("proof of kinds: a wall of 2 mm beside a key and past the end of one is told of, to the mm")
{
    const test::ScratchFolder folder;
    const auto wallOf = [&](mesh::Vec3 at, double depthMm) {
        Joint j = jointOf(JointForm::Kind::Key, 30, depthMm);
        j.at = mesh::frameOf(columnInTwo().plan.nodes[0].plane).flat(at);
        const auto done = exported(columnInTwo(), folder / "out", {j});
        REQUIRE(done.ok());
        double least = 1e300;
        bool holds = true;
        for (const Claim& c : done->proof.claims)
            if (c.id == "joint.wall") {
                least = std::min(least, c.measured);
                holds = holds && c.holds;
            }
        CHECK_FALSE(holds);
        return least;
    };
    constexpr double mouthMm = 0.4; // the chamfer, for which no wall is asked
    const double radius = keyReachMm(jointOf(JointForm::Kind::Key, 30, 25)) - mouthMm;
    CHECK(wallOf({100 - 2 - radius, 50, 100}, 25) == Approx(2).margin(0.02)); // to the side
    CHECK(wallOf({50, 50, 100}, 97.5) == Approx(2).margin(0.01));             // past the end and its 0.5 mm of air
}

TEST_CASE("proof of kinds: the wall beside a dovetail's groove, and whether its flanks hold, are measured")
{
    Joint j = jointOf(JointForm::Kind::Dovetail, 24, 12);
    j.angle = 0;
    j.lengthMm = 30;
    j.nutOutMm = 80;
    const mesh::PlaneFrame frame = mesh::frameOf(columnInTwo().plan.nodes[0].plane);
    const mesh::Vec3 across = mesh::normalized(-1.0 * frame.v);
    const double half = dovetailLayout(j)->slotWidthMm / 2;
    // So far from the middle that 1.5 mm are left between its widest and the skin on that side.
    j.at = frame.flat(mesh::Vec3{50, 50, 100} + (50 - half - 1.5) * across);
    const test::ScratchFolder folder;
    const auto done = exported(columnInTwo(), folder / "out", {j});
    INFO((done ? "" : done.problem().sentence()));
    REQUIRE(done.ok());
    const auto find = [](const Proof& proof, const std::string& id) {
        const auto c =
            std::find_if(proof.claims.begin(), proof.claims.end(), [&](const Claim& k) { return k.id == id; });
        REQUIRE(c != proof.claims.end());
        return *c;
    };
    CHECK(find(done->proof, "joint.wall").measured == Approx(1.5).margin(0.02));
    CHECK_FALSE(find(done->proof, "joint.wall").holds);
    CHECK(find(done->proof, "joint.hold").holds);
    // Said to have less play than it was made with, it would have to catch earlier than it does.
    nlohmann::json document = nlohmann::json::parse(std::ifstream(folder / "out/project.quoin.json"));
    document["layout"]["joints"][0]["clearance_mm"] = 0.05;
    std::ofstream(folder / "out/project.quoin.json") << document;
    CHECK_FALSE(find(prove(folder / "out").value(), "joint.hold").holds);
}

TEST_CASE("proof of kinds: a bolt must come in at its step, past the pieces that are there by then")
{
    // Cut at 50 and at 100 mm; the bolt's head comes up through the middle piece, from where the lowest one will be.
    Joint j = jointOf(JointForm::Kind::DrawBolt, 8, 12.7);
    j.gripMm = 30;
    j.headOutMm = 50.5;
    const auto access = [&](const std::vector<mesh::Plane>& planes) {
        const Project p = columnIn(planes);
        Joint own = j;
        own.seam = p.plan.nodes[static_cast<std::size_t>(p.seams[0].cut)].plane.offset == 100 ? 0 : 1;
        const test::ScratchFolder folder;
        const auto done = exported(p, folder / "out", {own});
        INFO((done ? "" : done.problem().sentence()));
        REQUIRE(done.ok());
        int held = 0, failed = 0;
        for (const Claim& c : done->proof.claims)
            if (c.id == "assembly.access")
                ++(c.holds ? held : failed);
        CHECK(held + failed == 2); // screw and washer; the insert is pressed in before
        return failed == 0;
    };
    const mesh::Plane low = mesh::planeAt({0, 0, 1}, 50), high = mesh::planeAt({0, 0, 1}, 100);
    CHECK(access({low, high}));       // the upper two are bolted before the lowest comes
    CHECK_FALSE(access({high, low})); // the lower two are together when the bolt is to come
}
