// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/bed_fit.h"
#include "core/export.h"
#include "core/face_choice.h"
#include "core/joint_layout.h"
#include "core/jointed_pieces.h"
#include "core/project_file.h"
#include "core/witness.h"
#include "core/witness_shape.h"
#include "mesh/boolean.h"
#include "mesh/distance.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <fstream>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec3;

namespace {

Project laidOut(const mesh::Mesh& part, const std::vector<mesh::Plane>& planes, const JointOptions& options)
{
    Project p;
    p.part.name = "part";
    p.part.sourceFile = "part.stl";
    p.part.mesh = std::make_shared<const mesh::Mesh>(part);
    p.beds = {{"bed", Bed::Shape::Rectangular, 400, 400, 400, 1}};
    p.plan = planByCutting(part, planes).value();
    p.pieces = piecesOf(cutByPlan(part, p.plan).value());
    for (Piece& piece : p.pieces)
        piece.pose = fitOnBeds(piece.mesh, p.beds, {p.marginMm, false}).value();
    p.seams = seamsOf(p.pieces, p.plan);
    p.jointOptions = options;
    p.layout = layOutJoints(p.pieces, p.seams, p.plan, options).value();
    return p;
}

JointOptions lined(std::optional<JointForm::Kind> kind = JointForm::Kind::Dowel)
{
    JointOptions options;
    options.kind = kind;
    options.witness = true;
    return options;
}

double lost(const Project& p)
{
    const auto made = jointedPieces(p.pieces, p.seams, p.plan, p.layout);
    INFO((made ? "" : made.problem().what));
    REQUIRE(made.ok());
    double volume = 0;
    for (std::size_t i = 0; i < made->size(); ++i) {
        CHECK(mesh::topologyOf((*made)[i]).solid());
        CHECK(mesh::selfIntersections((*made)[i], 1).empty());
        volume += mesh::volume(p.pieces[i].mesh) - mesh::volume((*made)[i]);
    }
    return volume;
}

/// Length of a line on the piece below, and on the piece above.
std::pair<double, double> lengths(const Witness& w)
{
    double below = 0, above = 0;
    for (std::size_t i = 1; i < w.stations.size(); ++i)
        (i <= w.crossing ? below : above) += mesh::length(w.stations[i].at - w.stations[i - 1].at);
    return {below, above};
}

Result<Exported> exported(Project p, const std::filesystem::path& folder)
{
    const auto made = jointedPieces(p.pieces, p.seams, p.plan, p.layout);
    if (!made)
        return made.problem();
    for (std::size_t i = 0; i < made->size(); ++i)
        p.pieces[i].pose = fitOnBeds((*made)[i], p.beds, {p.marginMm, false}).value();
    ExportOptions options;
    options.force = options.evenIfProofFails = true;
    return exportProject(p, folder, options);
}

std::vector<std::string> failed(const Proof& proof)
{
    std::vector<std::string> ids;
    for (const Claim& c : proof.claims)
        if (!c.holds) {
            ids.push_back(c.id);
            UNSCOPED_INFO(c.id << " " << c.subject << ": " << c.text << " " << c.measured << " " << c.relation << " "
                               << c.limit);
        }
    return ids;
}

} // namespace

TEST_CASE("witness line: straight across the seam of a block, cut from both pieces by its closed form")
{
    const mesh::Mesh block = mesh::box({0, 0, 0}, {150, 150, 200});
    const std::vector<mesh::Plane> planes{mesh::planeAt({0, 0, 1}, 90)};
    const Project with = laidOut(block, planes, lined());
    REQUIRE(with.layout.witnesses.size() == 1);
    const Witness& w = with.layout.witnesses[0];
    // A tenth of the face's 150 mm; of it a tenth wide, six tenths of that deep.
    CHECK(lengths(w).first == Approx(15));
    CHECK(lengths(w).second == Approx(15));
    CHECK(w.widthMm == Approx(1.5));
    CHECK(w.depthMm == Approx(0.9));
    CHECK(w.stations[w.crossing].at.z == Approx(90));
    for (const Witness::Station& s : w.stations) {
        const Vec3 p = s.at;
        const double skin = std::min({p.x, 150 - p.x, p.y, 150 - p.y});
        CHECK(skin == Approx(0).margin(1e-9));
        CHECK(std::abs(s.in.z) < 1e-9);
        CHECK(mesh::length(Vec3{p.x, p.y, 0} - Vec3{w.stations[0].at.x, w.stations[0].at.y, 0}) < 1e-9);
    }
    Project without = with;
    without.layout.witnesses.clear();
    CHECK(lost(with) - lost(without) == Approx(0.5 * 1.5 * 0.9 * 30).epsilon(1e-6));
    CHECK(takenVolumeMm3(block, with.seams, with.plan, with.layout).value() ==
          Approx(0.5 * 1.5 * 0.9 * 30).epsilon(1e-6));
    CHECK(with.layout.reports[0].text.find("a witness line across the seam, 15 mm on either side") !=
          std::string::npos);
    // Only if asked for.
    JointOptions plain = lined();
    plain.witness = false;
    CHECK(laidOut(block, planes, plain).layout.witnesses.empty());
}

TEST_CASE("witness line: follows round skins, on the outside only, at any slant of the cut")
{
    const mesh::Mesh ring = mesh::solidDifference(mesh::cylinder(80, 120, 256),
                                                  mesh::transformed(mesh::cylinder(60, 140, 256),
                                                                    mesh::Transform::translation({0, 0, -10})))
                                .value();
    for (const double slant : {0.0, 0.3, 0.8}) {
        CAPTURE(slant);
        const Project p = laidOut(ring, {mesh::planeThrough({0, 0, 60}, {slant, 0.05, 1})}, lined());
        REQUIRE(p.layout.witnesses.size() == 1);
        const Witness& w = p.layout.witnesses[0];
        for (const Witness::Station& s : w.stations) {
            CHECK(std::hypot(s.at.x, s.at.y) == Approx(80).margin(0.02));
            CHECK(mesh::length(s.in) == Approx(1));
        }
        CHECK(lengths(w).first >= 8 - 1e-6);
        CHECK(lengths(w).second >= 8 - 1e-6);
        lost(p);
    }
    // Over a ball it bends with the skin: every station lies on it.
    const Project ball = laidOut(mesh::icosphere(70, 5), {mesh::planeThrough({0, 0, 12}, {0, 0.2, 1})}, lined());
    REQUIRE(ball.layout.witnesses.size() == 1);
    for (const Witness::Station& s : ball.layout.witnesses[0].stations) {
        CHECK(mesh::length(s.at) == Approx(70).margin(0.1));
        CHECK(mesh::dot(s.in, s.at) < 0.97 * -70);
    }
    lost(ball);
}

TEST_CASE("witness line: refused in words where the skin is too thin, or nowhere runs on smoothly")
{
    const auto pipe = [](double wall) {
        return mesh::solidDifference(
                   mesh::cylinder(60, 120, 192),
                   mesh::transformed(mesh::cylinder(60 - wall, 140, 192), mesh::Transform::translation({0, 0, -10})))
            .value();
    };
    const std::vector<mesh::Plane> middle{mesh::planeAt({0, 0, 1}, 60)};
    const Project thin = laidOut(pipe(1.5), middle, lined());
    CHECK(thin.layout.witnesses.empty());
    INFO(thin.layout.reports[0].text);
    CHECK(thin.layout.reports[0].text.find("the skin is too thin, 1.5 mm at the thinnest place") != std::string::npos);
    CHECK(thin.layout.reports[0].text.find("0.6 mm deep asks for 1.8 mm") != std::string::npos);
    CHECK(laidOut(pipe(2.2), middle, lined()).layout.witnesses.size() == 1);
    // A plate of 10 mm cut in its middle plane: 5 mm of skin on either side of the seam.
    const Project plate = laidOut(mesh::box({0, 0, 0}, {120, 120, 10}), {mesh::planeAt({0, 0, 1}, 5)}, lined());
    CHECK(plate.layout.witnesses.empty());
    CHECK(plate.layout.reports[0].text.find("nowhere on its outer edge") != std::string::npos);
}

TEST_CASE("witness line: keeps off joints that open to the outside, and off other seams")
{
    JointOptions options = lined(JointForm::Kind::Screw);
    options.clocked = true;
    const mesh::Mesh rod = mesh::cylinder(40, 160, 128);
    const Project p = laidOut(rod, {mesh::planeAt({0, 0, 1}, 60), mesh::planeAt({0, 0, 1}, 100)}, options);
    REQUIRE(p.layout.witnesses.size() == 2);
    int keys = 0;
    for (const Joint& j : p.layout.joints)
        if (j.kind == JointForm::Kind::ClockingKey) {
            ++keys;
            const auto side = sideShape(j, p.plan.nodes[static_cast<std::size_t>(p.seams[j.seam].cut)].plane, true);
            REQUIRE(side.ok());
            const mesh::SurfaceTree slot(side->taken.front());
            for (const Witness& w : p.layout.witnesses)
                for (const Witness::Station& s : w.stations)
                    CHECK((slot.distance(s.at) > 2.4 || w.seam != j.seam));
        }
    CHECK(keys == 2);
    lost(p);
}

TEST_CASE("witness line: the proof knows it, and catches one that isn't as it is said")
{
    const Project p = laidOut(mesh::box({0, 0, 0}, {150, 150, 200}), {mesh::planeAt({0, 0.1, 1}, 90)}, lined());
    REQUIRE(p.layout.witnesses.size() == 1);
    const test::ScratchFolder folder;
    const auto done = exported(p, folder / "out");
    INFO((done ? "" : done.problem().sentence()));
    REQUIRE(done.ok());
    CHECK(failed(done->proof).empty());
    CHECK(std::count_if(done->proof.claims.begin(), done->proof.claims.end(),
                        [](const Claim& c) { return c.id.starts_with("witness."); }) == 5);

    // Said to be elsewhere: neither groove is there, and the pieces have others that nobody asked for.
    nlohmann::json document = nlohmann::json::parse(std::ifstream(folder / "out/project.quoin.json"));
    for (auto& s : document["layout"]["witnesses"][0]["stations"])
        s["at_mm"][std::abs(s["in"][0].get<double>()) > 0.5 ? 1 : 0] =
            s["at_mm"][std::abs(s["in"][0].get<double>()) > 0.5 ? 1 : 0].get<double>() + 6;
    std::ofstream(folder / "out/project.quoin.json") << document;
    const auto moved = failed(prove(folder / "out").value());
    for (const char* id : {"witness.meets", "witness.depth", "piece.skin"})
        CHECK(std::ranges::find(moved, id) != moved.end());

    // One piece's file without its groove.
    const auto again = exported(p, folder / "out");
    REQUIRE(again.ok());
    Project bare = p;
    bare.layout.witnesses.clear();
    REQUIRE(exported(bare, folder / "bare").ok());
    std::filesystem::copy_file(folder / "bare/pieces" / "01-part.stl", folder / "out/pieces" / "01-part.stl",
                               std::filesystem::copy_options::overwrite_existing);
    const auto missing = failed(prove(folder / "out").value());
    for (const char* id : {"witness.meets", "witness.depth"})
        CHECK(std::ranges::find(missing, id) != missing.end());
}

TEST_CASE("witness line: comes back from a project's file as it was")
{
    const Project p = laidOut(mesh::icosphere(70, 4), {mesh::planeThrough({0, 0, 12}, {0, 0.2, 1})}, lined());
    REQUIRE(p.layout.witnesses.size() == 1);
    const test::ScratchFolder folder;
    REQUIRE(exported(p, folder / "out").ok());
    const auto back = projectFromJson(nlohmann::json::parse(std::ifstream(folder / "out/project.quoin.json")), "p");
    REQUIRE(back.ok());
    CHECK(back->jointOptions.witness);
    REQUIRE(back->layout.witnesses.size() == 1);
    const Witness &a = p.layout.witnesses[0], &b = back->layout.witnesses[0];
    CHECK(a.seam == b.seam);
    CHECK(a.crossing == b.crossing);
    CHECK(a.widthMm == b.widthMm);
    CHECK(a.depthMm == b.depthMm);
    REQUIRE(a.stations.size() == b.stations.size());
    for (std::size_t i = 0; i < a.stations.size(); ++i) {
        CHECK(a.stations[i].at == b.stations[i].at);
        CHECK(a.stations[i].in == b.stations[i].in);
    }
}
