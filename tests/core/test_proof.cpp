// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_layout.h"
#include "core/jointed_pieces.h"
#include "core/parts_list.h"
#include "core/project_file.h"
#include "core/proof.h"
#include "mesh/model_file.h"
#include "mesh/primitives.h"
#include "mesh/write_model.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

#include <fstream>
#include <functional>

using namespace quoin;
using namespace quoin::core;
namespace fs = std::filesystem;
using nlohmann::json;

namespace {

Bed bedOf(double side)
{
    return {"bed", Bed::Shape::Rectangular, side, side, side, 1};
}

/// A split of a part along planes, up to the laid-out joints.
Project splitOf(const mesh::Mesh& part, const std::vector<mesh::Plane>& planes, double bedMm)
{
    Project p;
    p.part.name = "heron";
    p.part.sourceFile = "heron.stl";
    p.part.mesh = std::make_shared<const mesh::Mesh>(part);
    p.beds = {bedOf(bedMm)};
    p.marginMm = 5;
    auto plan = planByCutting(part, planes);
    REQUIRE(plan.ok());
    p.plan = *plan;
    auto leaves = cutByPlan(part, p.plan);
    REQUIRE(leaves.ok());
    p.pieces = piecesOf(*leaves);
    for (Piece& piece : p.pieces) {
        const auto pose = fitOnBeds(piece.mesh, p.beds, {p.marginMm, false});
        REQUIRE(pose.has_value());
        piece.pose = *pose;
    }
    p.seams = seamsOf(p.pieces, p.plan);
    auto layout = layOutJoints(p.pieces, p.seams, p.plan, p.jointOptions);
    REQUIRE(layout.ok());
    p.layout = *layout;
    return p;
}

/// The files that the proof reads, as the export writes them.
void write(const Project& p, const fs::path& folder)
{
    auto jointed = jointedPieces(p.pieces, p.seams, p.plan, p.layout);
    REQUIRE(jointed.ok());
    auto parts = partsList(p, *jointed);
    INFO((parts ? "" : parts.problem().sentence()));
    REQUIRE(parts.ok());
    fs::create_directories(folder / "pieces");
    for (const ListedPart& part : *parts)
        REQUIRE(mesh::writeStl(folder / part.file, part.mesh).ok());
    REQUIRE(mesh::writePly(folder / "part.ply", *p.part.mesh).ok());
    std::ofstream(folder / "pieces.json") << partsJson(p, *parts).dump(1);
    std::ofstream(folder / "project.quoin.json") << toJson(p).dump(1);
}

/// Two spheres' worth of cuts: four pieces, every seam large enough for dowels.
Project sphereInFour()
{
    return splitOf(mesh::icosphere(60, 4), {{{0, 0, 1}, 3}, {mesh::normalized(mesh::Vec3{1, 0.2, 0.1}), -4}}, 200);
}

std::string failures(const Proof& proof)
{
    std::string out;
    for (const Claim& c : proof.claims)
        if (!c.holds)
            out += c.id + " " + c.subject + ": " + c.text + " (" + std::to_string(c.measured) + " " + c.relation + " " +
                   std::to_string(c.limit) + ")\n";
    return out;
}

bool fails(const Proof& proof, const std::string& id)
{
    return std::any_of(proof.claims.begin(), proof.claims.end(),
                       [&](const Claim& c) { return c.id == id && !c.holds; });
}

json readJson(const fs::path& file)
{
    std::ifstream in(file);
    return json::parse(in);
}

void change(const fs::path& file, const std::function<void(json&)>& edit)
{
    json document = readJson(file);
    edit(document);
    std::ofstream(file) << document.dump(1);
}

/// Reads a piece, changes its mesh, writes it back; the list still speaks of the old one unless told.
void changePiece(const fs::path& folder, std::size_t place, const std::function<void(mesh::Mesh&)>& edit)
{
    const std::string name = readJson(folder / "pieces.json").at("pieces").at(place).at("file");
    auto model = mesh::readModel(folder / name);
    REQUIRE(model.ok());
    edit(model->mesh);
    REQUIRE(mesh::writeStl(folder / name, model->mesh).ok());
}

std::size_t firstDowel(const fs::path& folder)
{
    const json list = readJson(folder / "pieces.json");
    for (std::size_t i = 0; i < list.at("pieces").size(); ++i)
        if (list.at("pieces").at(i).at("kind") == "dowel")
            return i;
    FAIL("no dowel in the list");
    return 0;
}

Proof proofOf(const fs::path& folder)
{
    auto proof = prove(folder);
    INFO((proof ? "" : proof.problem().sentence()));
    REQUIRE(proof.ok());
    return std::move(*proof);
}

/// A proved export in a scratch folder, made once for all the tampering.
const fs::path& goodExport()
{
    static test::ScratchFolder folder;
    static const bool made = [] {
        write(sphereInFour(), folder.path());
        return true;
    }();
    (void)made;
    return folder.path();
}

class Copy {
public:
    Copy() { fs::copy(goodExport(), m_folder.path(), fs::copy_options::recursive); }
    const fs::path& path() const { return m_folder.path(); }

private:
    test::ScratchFolder m_folder;
};

} // namespace

TEST_CASE("proof: a sound export holds, with a number beside every claim", "[proof]")
{
    const Proof proof = proofOf(goodExport());
    INFO(failures(proof));
    CHECK(proof.holds());
    CHECK(proof.claims.size() > 60);
    for (const Claim& c : proof.claims) {
        CHECK(std::isfinite(c.measured));
        CHECK_FALSE(c.text.empty());
    }
    CHECK(proof.assembly.size() == 3);
    CHECK(proof.cautions.size() >= 5);
    const json document = toJson(proof);
    CHECK(document.at("holds") == true);
    CHECK(document.at("failed_claims") == 0);
    CHECK(document.at("claims").size() == proof.claims.size());
}

TEST_CASE("proof: the same folder gives the same proof", "[proof]")
{
    CHECK(toJson(proofOf(goodExport())).dump() == toJson(proofOf(goodExport())).dump());
}

TEST_CASE("proof: the order of assembly names pieces, way and joints", "[proof]")
{
    const Proof proof = proofOf(goodExport());
    REQUIRE(proof.assembly.size() == 3);
    CHECK(proof.assembly[2].rfind("3. Push ", 0) == 0);
    CHECK(proof.assembly[2].find("dowels of") != std::string::npos);
}

TEST_CASE("proof: one piece and no cut", "[proof]")
{
    test::ScratchFolder folder;
    write(splitOf(mesh::box({0, 0, 0}, {40, 30, 20}), {}, 200), folder.path());
    const Proof proof = proofOf(folder.path());
    INFO(failures(proof));
    CHECK(proof.holds());
    CHECK(proof.assembly.size() == 1);
}

TEST_CASE("proof: a corner of a piece moved", "[proof]")
{
    const Copy copy;
    changePiece(copy.path(), 1, [](mesh::Mesh& m) {
        const auto skin =
            std::max_element(m.points.begin(), m.points.end(), [](mesh::Vec3 a, mesh::Vec3 b) { return a.z < b.z; });
        skin->x += 0.5;
        skin->z += 0.5;
    });
    const Proof proof = proofOf(copy.path());
    CHECK(fails(proof, "list.volume"));
    CHECK(fails(proof, "piece.skin"));
    CHECK(fails(proof, "set.surface"));
}

TEST_CASE("proof: a piece scaled, and the list made to agree", "[proof]")
{
    const Copy copy;
    const double f = 1.001;
    changePiece(copy.path(), 0, [&](mesh::Mesh& m) { m = mesh::transformed(m, mesh::Transform::scaling(f)); });
    CHECK(fails(proofOf(copy.path()), "list.volume"));
    change(copy.path() / "pieces.json", [&](json& list) {
        json& piece = list["pieces"][0];
        piece["volume_mm3"] = piece["volume_mm3"].get<double>() * f * f * f;
        piece["area_mm2"] = piece["area_mm2"].get<double>() * f * f;
    });
    const Proof proof = proofOf(copy.path());
    CHECK(fails(proof, "set.volume"));
    CHECK(fails(proof, "piece.side"));
    CHECK(fails(proof, "piece.skin"));
}

TEST_CASE("proof: a triangle left out, turned over, or doubled", "[proof]")
{
    const Copy open, turned, doubled;
    changePiece(open.path(), 0, [](mesh::Mesh& m) { m.triangles.pop_back(); });
    CHECK(fails(proofOf(open.path()), "file.closed"));
    changePiece(turned.path(), 0, [](mesh::Mesh& m) { std::swap(m.triangles[5][0], m.triangles[5][1]); });
    CHECK(fails(proofOf(turned.path()), "file.oriented"));
    changePiece(doubled.path(), 0, [](mesh::Mesh& m) { m.triangles.push_back(m.triangles[5]); });
    const Proof proof = proofOf(doubled.path());
    CHECK(fails(proof, "file.manifold"));
    CHECK(fails(proof, "file.degenerate"));
}

TEST_CASE("proof: a piece that cuts into itself", "[proof]")
{
    const Copy copy;
    changePiece(copy.path(), 0, [](mesh::Mesh& m) {
        const mesh::Box3 box = mesh::bounds(m);
        const auto top =
            std::max_element(m.points.begin(), m.points.end(), [](mesh::Vec3 a, mesh::Vec3 b) { return a.z < b.z; });
        top->z = box.min.z - 5;
    });
    const Proof proof = proofOf(copy.path());
    CHECK(fails(proof, "file.crossing"));
    CHECK(fails(proof, "fit.plate"));
}

TEST_CASE("proof: a piece inside out", "[proof]")
{
    const Copy copy;
    changePiece(copy.path(), 0, [](mesh::Mesh& m) {
        for (mesh::Triangle& t : m.triangles)
            std::swap(t[0], t[1]);
    });
    CHECK(fails(proofOf(copy.path()), "file.volume"));
}

TEST_CASE("proof: a loose crumb in a piece's file", "[proof]")
{
    const Copy copy;
    changePiece(copy.path(), 0, [](mesh::Mesh& m) {
        const mesh::Vec3 at = mesh::bounds(m).max;
        m = mesh::joined(m, mesh::box(at, at + mesh::Vec3{3, 3, 3}));
    });
    const Proof proof = proofOf(copy.path());
    CHECK(fails(proof, "file.one-body"));
    CHECK(fails(proof, "set.volume"));
}

TEST_CASE("proof: files missing, cut short or not models", "[proof]")
{
    const Copy missing, cut, nonsense;
    const std::string name = readJson(missing.path() / "pieces.json").at("pieces").at(0).at("file");
    fs::remove(missing.path() / name);
    CHECK(fails(proofOf(missing.path()), "file.read"));
    fs::resize_file(cut.path() / name, fs::file_size(cut.path() / name) / 2);
    CHECK(fails(proofOf(cut.path()), "file.read"));
    std::ofstream(nonsense.path() / name) << "not a model at all";
    CHECK(fails(proofOf(nonsense.path()), "file.read"));
}

TEST_CASE("proof: a dowel missing from the list, or from its places", "[proof]")
{
    const Copy unlisted, misplaced;
    const std::size_t dowel = firstDowel(unlisted.path());
    change(unlisted.path() / "pieces.json", [&](json& list) { list["pieces"].erase(dowel); });
    const Proof without = proofOf(unlisted.path());
    CHECK(fails(without, "set.loose"));
    CHECK(fails(without, "joint.placed"));
    change(misplaced.path() / "pieces.json", [&](json& list) {
        json& placements = list["pieces"][dowel]["placements"];
        placements[1] = placements[0];
    });
    CHECK(fails(proofOf(misplaced.path()), "joint.placed"));
}

TEST_CASE("proof: a piece missing from the list", "[proof]")
{
    const Copy copy;
    change(copy.path() / "pieces.json", [](json& list) { list["pieces"].erase(1); });
    const Proof proof = proofOf(copy.path());
    CHECK(fails(proof, "set.pieces"));
    CHECK(fails(proof, "set.volume"));
    CHECK(fails(proof, "set.surface"));
}

TEST_CASE("proof: a dowel too thick, too long, off its axis or askew", "[proof]")
{
    const std::size_t dowel = firstDowel(goodExport());
    const auto stretched = [&](const Copy& copy, mesh::Vec3 by) {
        changePiece(copy.path(), dowel, [&](mesh::Mesh& m) {
            for (mesh::Vec3& p : m.points)
                p = {p.x * by.x, p.y * by.y, p.z * by.z};
        });
        return proofOf(copy.path());
    };
    const Copy thick, snug, longer, off, askew;
    const Proof tooThick = stretched(thick, {1, 1.5, 1.5});
    CHECK(fails(tooThick, "joint.free"));
    CHECK(fails(tooThick, "joint.size"));
    CHECK(fails(tooThick, "assembly.insert"));
    const Proof tooSnug = stretched(snug, {1, 1.02, 1.02});
    CHECK(fails(tooSnug, "joint.clearance"));
    CHECK_FALSE(fails(tooSnug, "joint.free"));
    CHECK(fails(stretched(longer, {1.2, 1, 1}), "joint.free"));
    change(off.path() / "pieces.json", [&](json& list) {
        json& placement = list["pieces"][dowel]["placements"][1];
        placement[3] = placement[3].get<double>() + 0.2;
        placement[7] = placement[7].get<double>() + 0.2;
    });
    const Proof offAxis = proofOf(off.path());
    CHECK(fails(offAxis, "joint.clearance"));
    CHECK(fails(offAxis, "joint.size"));
    change(askew.path() / "pieces.json", [&](json& list) {
        json& placement = list["pieces"][dowel]["placements"][1];
        mesh::Transform t{placement.get<std::array<double, 16>>()};
        placement = (t * mesh::Transform::rotation({0, 0, 1}, 0.02)).m;
    });
    CHECK(fails(proofOf(askew.path()), "assembly.parallel"));
}

TEST_CASE("proof: a bore too near to the skin", "[proof]")
{
    // The project says a thicker wall was asked for than there is.
    const Copy copy;
    change(copy.path() / "project.quoin.json", [](json& p) { p["joint_options"]["wall_mm"] = 200.0; });
    CHECK(fails(proofOf(copy.path()), "joint.wall"));
    const Copy exact;
    Proof proof = proofOf(exact.path());
    double least = 1e300;
    for (const Claim& c : proof.claims)
        if (c.id == "joint.wall")
            least = std::min(least, c.measured);
    CHECK(least >= 2.4);
    CHECK(least < 40);
}

TEST_CASE("proof: a bed too small, unknown, or a margin too wide", "[proof]")
{
    const Copy small, unknown, wide;
    change(small.path() / "project.quoin.json", [](json& p) { p["beds"][0]["width_mm"] = 90.0; });
    CHECK(fails(proofOf(small.path()), "fit.room"));
    change(unknown.path() / "pieces.json", [](json& list) { list["pieces"][0]["bed"] = "another"; });
    CHECK(fails(proofOf(unknown.path()), "fit.bed"));
    change(wide.path() / "project.quoin.json", [](json& p) { p["margin_mm"] = 80.0; });
    CHECK(fails(proofOf(wide.path()), "fit.room"));
}

TEST_CASE("proof: a placement that stretches, mirrors or moves", "[proof]")
{
    const auto with = [](const std::function<void(json&)>& edit) {
        const Copy copy;
        change(copy.path() / "pieces.json", [&](json& list) {
            json& piece = list["pieces"][0];
            edit(piece["assembled_from_print"]);
            piece["placements"][0] = piece["assembled_from_print"];
        });
        return proofOf(copy.path());
    };
    CHECK(fails(with([](json& m) { m[0] = m[0].get<double>() + 1e-6; }), "fit.rigid"));
    CHECK(fails(with([](json& m) {
                    for (std::size_t i : {0, 4, 8})
                        m[i] = -m[i].get<double>();
                }),
                "fit.rigid"));
    const Proof moved = with([](json& m) { m[11] = m[11].get<double>() + 1; });
    CHECK_FALSE(fails(moved, "fit.rigid"));
    CHECK(fails(moved, "fit.pose"));
    CHECK(fails(moved, "piece.side"));
}

TEST_CASE("proof: a cut moved in the project, a path that ends early, a seam without its joint", "[proof]")
{
    const Copy cut, path, seam;
    change(cut.path() / "project.quoin.json",
           [](json& p) { p["cuts"][0]["offset_mm"] = p["cuts"][0]["offset_mm"].get<double>() + 0.1; });
    const Proof moved = proofOf(cut.path());
    CHECK(fails(moved, "piece.side"));
    CHECK(fails(moved, "piece.skin"));
    change(path.path() / "project.quoin.json", [](json& p) { p["pieces"][0]["path"].erase(1); });
    CHECK(fails(proofOf(path.path()), "piece.path"));
    change(seam.path() / "project.quoin.json", [](json& p) {
        json kept = json::array();
        for (const json& j : p["layout"]["joints"])
            if (j["seam"] != 0)
                kept.push_back(j);
        p["layout"]["joints"] = kept;
    });
    const Proof without = proofOf(seam.path());
    CHECK(fails(without, "seam.joint"));
    CHECK(fails(without, "set.loose"));
    CHECK(fails(without, "set.volume"));
}

TEST_CASE("proof: another part beside the pieces", "[proof]")
{
    const Copy copy;
    REQUIRE(mesh::writePly(copy.path() / "part.ply", mesh::icosphere(60.5, 4)).ok());
    const Proof proof = proofOf(copy.path());
    CHECK(fails(proof, "set.volume"));
    CHECK(fails(proof, "set.surface"));
    CHECK(fails(proof, "piece.skin"));
}

TEST_CASE("proof: what can't be read at all is a problem that names the file", "[proof]")
{
    const auto problem = [](const std::function<void(const fs::path&)>& damage) {
        const Copy copy;
        damage(copy.path());
        const auto proof = prove(copy.path());
        REQUIRE_FALSE(proof.ok());
        CHECK_FALSE(proof.problem().file.empty());
        return proof.problem();
    };
    CHECK(prove("/nowhere/at/all").problem().reason == Reason::FileMissing);
    for (const char* name : {"project.quoin.json", "pieces.json", "part.ply"}) {
        CAPTURE(name);
        CHECK(problem([&](const fs::path& f) { fs::remove(f / name); }).reason == Reason::FileMissing);
        problem([&](const fs::path& f) { fs::resize_file(f / name, fs::file_size(f / name) / 2); });
        problem([&](const fs::path& f) { std::ofstream(f / name) << "{\"kind\": 3}"; });
    }
    const auto inList = [&](const std::function<void(json&)>& edit) {
        return problem([&](const fs::path& f) { change(f / "pieces.json", edit); }).reason;
    };
    CHECK(inList([](json& l) { l["pieces"][0].erase("placements"); }) == Reason::FileMalformed);
    CHECK(inList([](json& l) { l["pieces"][0]["placements"] = json::array(); }) == Reason::FileMalformed);
    CHECK(inList([](json& l) { l["pieces"][0]["placements"][0].push_back(1); }) == Reason::FileMalformed);
    CHECK(inList([](json& l) { l["pieces"][0]["file"] = "../pieces/01-heron.stl"; }) == Reason::FileMalformed);
    CHECK(inList([](json& l) { l["pieces"][0]["file"] = "/etc/passwd"; }) == Reason::FileMalformed);
    CHECK(inList([](json& l) { l["pieces"][0]["number"] = 77; }) == Reason::FileMalformed);
    CHECK(inList([](json& l) { l["pieces"][1]["number"] = 1; }) == Reason::FileMalformed);
    CHECK(inList([](json& l) { l["pieces"][0]["kind"] = "wish"; }) == Reason::FileMalformed);
    CHECK(inList([](json& l) { l["pieces"][0]["volume_mm3"] = "much"; }) == Reason::FileMalformed);
    const auto inProject = [&](const std::function<void(json&)>& edit) {
        return problem([&](const fs::path& f) { change(f / "project.quoin.json", edit); }).reason;
    };
    CHECK(inProject([](json& p) { p["version"] = 999; }) == Reason::VersionTooNew);
    CHECK(inProject([](json& p) { p["layout"]["joints"][0]["diameter_mm"] = 1e9; }) == Reason::FileMalformed);
    CHECK(inProject([](json& p) { p["layout"]["joints"][0]["diameter_mm"] = 0.0; }) == Reason::FileMalformed);
    CHECK(inProject([](json& p) { p["layout"]["joints"][0]["seam"] = 1000; }) == Reason::FileMalformed);
    CHECK(inProject([](json& p) { p["cuts"][0]["below"] = 0; }) == Reason::FileMalformed);
}

TEST_CASE("proof: cancelled", "[proof]")
{
    Context context;
    context.cancel();
    const auto proof = prove(goodExport(), context);
    REQUIRE_FALSE(proof.ok());
    CHECK(proof.problem().reason == Reason::Cancelled);
}

TEST_CASE("proof: islands of one leaf are tried against each other", "[proof]")
{
    // A fork: cut across its prongs, the upper leaf holds two islands.
    mesh::Region fork{{{0, 0}, {120, 0}, {120, 100}, {80, 100}, {80, 40}, {40, 40}, {40, 100}, {0, 100}}};
    const mesh::Mesh part = mesh::prism(fork, 40);
    test::ScratchFolder folder;
    write(splitOf(part, {{{0, 1, 0}, 60}}, 200), folder.path());
    const Proof good = proofOf(folder.path());
    INFO(failures(good));
    CHECK(good.holds());
    CHECK(std::any_of(good.claims.begin(), good.claims.end(), [](const Claim& c) { return c.id == "piece.apart"; }));
    REQUIRE(good.assembly.size() == 1);
    CHECK(good.assembly[0].find("place them together") != std::string::npos);
}

TEST_CASE("proof: any one value of its documents replaced by nonsense does no harm", "[proof]")
{
    test::ScratchFolder folder;
    write(splitOf(mesh::box({0, 0, 0}, {60, 50, 40}), {{{1, 0, 0}, 31}}, 200), folder.path());
    REQUIRE(proofOf(folder.path()).holds());
    const std::vector<json> nonsense{nullptr, "x", -1, 0, 1e300, -1e-300, 4000000000u, json::array(), json::object()};
    std::size_t turn = 0, refused = 0, failed = 0;
    for (const char* name : {"pieces.json", "project.quoin.json"}) {
        const json good = readJson(folder.path() / name);
        const json flat = good.flatten();
        for (const auto& [pointer, value] : flat.items()) {
            // Every value of the list, and every fifth of the project's, which is mostly outlines.
            if (++turn % 5 != 0 && std::string(name) != "pieces.json")
                continue;
            CAPTURE(name, pointer);
            json bad = good;
            bad[json::json_pointer(pointer)] = nonsense[turn % nonsense.size()];
            std::ofstream(folder.path() / name) << bad.dump();
            const auto proof = prove(folder.path());
            refused += !proof.ok();
            failed += proof.ok() && !proof->holds();
        }
        std::ofstream(folder.path() / name) << good.dump();
    }
    CHECK(refused > 20);
    CHECK(failed > 15);
}
