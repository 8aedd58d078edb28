// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_layout.h"
#include "core/strength.h"
#include "core/strength_json.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec3;
using std::numbers::pi;

namespace {

Project projectOf(mesh::Mesh part, const std::vector<mesh::Plane>& planes, bool dowels = false)
{
    Project p;
    p.plan = planByCutting(part, planes).value();
    p.pieces = piecesOf(cutByPlan(part, p.plan).value());
    p.seams = seamsOf(p.pieces, p.plan);
    p.part.mesh = std::make_shared<const mesh::Mesh>(std::move(part));
    p.jointOptions.wanted = dowels;
    p.jointOptions.marks = false;
    p.layout = layOutJoints(p.pieces, p.seams, p.plan, p.jointOptions).value();
    return p;
}

/// The number of the piece that holds a place.
int pieceWith(const Project& p, Vec3 at)
{
    for (const Piece& piece : p.pieces) {
        const mesh::Box3 box = mesh::bounds(piece.mesh);
        if (at.x > box.min.x && at.x < box.max.x && at.y > box.min.y && at.y < box.max.y && at.z > box.min.z &&
            at.z < box.max.z)
            return piece.number;
    }
    return 0;
}

const StrengthCheck* find(const JointCheck& j, const std::string& name)
{
    const auto c = std::find_if(j.checks.begin(), j.checks.end(), [&](const auto& k) { return k.name == name; });
    return c == j.checks.end() ? nullptr : &*c;
}

const JointCheck& between(const StrengthReport& r, int a, int b)
{
    for (const JointCheck& j : r.joints)
        if (std::minmax(j.hanging.held, j.hanging.hanging) == std::minmax(a, b))
            return j;
    throw std::runtime_error("no such seam");
}

/// A wall piece of 50 mm and an arm of l x 40 x 60 (x, y, z) beside it, cut at x = 0.
constexpr double l = 200, b = 40, h = 60;
Project cantilever(bool dowels = false)
{
    return projectOf(mesh::box({-50, 0, 0}, {l, b, h}), {mesh::planeAt({1, 0, 0}, 0)}, dowels);
}

constexpr double armKg = l * b * h * 1.24e-6, armN = armKg * 9.80665;

} // namespace

// Closed form: M = 2 m g l / 2, W = b h^2 / 6, V = 2 m g (Roark, table 8.1: cantilever under its own weight).
TEST_CASE("strength: an arm of its own weight bends its seam as a cantilever does")
{
    const Project p = cantilever();
    LoadCase load;
    load.held = {pieceWith(p, {-25, 20, 30})};
    const StrengthReport r = strengthOf(p, load).value();
    REQUIRE(r.joints.size() == 1);
    const JointCheck& j = r.joints[0];
    CHECK(j.hanging.hanging == pieceWith(p, {100, 20, 30}));
    CHECK(j.hanging.massKg == Approx(armKg));
    CHECK_FALSE(j.hanging.inLoop);
    CHECK(j.forces.axialN == Approx(0).margin(1e-9));
    CHECK(length(j.forces.shearN) == Approx(2 * armN));
    CHECK(length(j.forces.bendingNmm) == Approx(2 * armN * l / 2));
    CHECK(j.forces.torsionNmm == 0);
    const double sigma = 2 * armN * l / 2 / (b * h * h / 6);
    CHECK(find(j, "glue pulled open")->demand == Approx(sigma));
    CHECK(find(j, "glue sheared")->demand == Approx(1.5 * 2 * armN / (b * h)));
    // No pose: layers level, the pull runs along them.
    CHECK(find(j, "piece 1 pulled apart beside the cut")->demand == Approx(sigma));
    CHECK(find(j, "piece 1 pulled apart beside the cut")->capacity == Approx(50));
    CHECK(find(j, "piece 1 crushed beside the cut")->demand == Approx(sigma));
    // Glue of 2 MPa against 50 MPa of the material, same section.
    CHECK(j.bendingOfWhole == Approx(2.0 / 50));
    CHECK(j.safety == Approx(2 / sigma));
    CHECK(j.checks[j.weakest].name == "glue pulled open");
}

// Square-cube law (Galileo 1638): stress of own weight grows as the size.
TEST_CASE("strength: twice the size, half the safety")
{
    const auto safety = [](double s) {
        const Project p = projectOf(mesh::box({-50 * s, 0, 0}, {l * s, b * s, h * s}), {mesh::planeAt({1, 0, 0}, 0)});
        LoadCase load;
        load.held = {pieceWith(p, {-25, 20, 30})};
        return strengthOf(p, load).value().joints[0].safety;
    };
    CHECK(safety(1) == Approx(2 * safety(2)));
    CHECK(safety(1) == Approx(10 * safety(10)));
}

TEST_CASE("strength: gravity, dynamic factor, fill and glue go in as they should")
{
    const Project p = cantilever();
    LoadCase load;
    load.held = {pieceWith(p, {-25, 20, 30})};
    const double before = strengthOf(p, load).value().joints[0].safety;
    load.dynamicFactor = 1;
    load.fillShare = 0.5;
    load.glueMpa = 4;
    CHECK(strengthOf(p, load).value().joints[0].safety == Approx(before * 2 * 2 * 2));
    // Hung up by the wall piece: the arm only pulls.
    load = {};
    load.held = {pieceWith(p, {-25, 20, 30})};
    load.gravity = {5, 0, 0};
    const JointCheck hung = strengthOf(p, load).value().joints[0];
    CHECK(hung.forces.axialN == Approx(2 * armN));
    CHECK(length(hung.forces.bendingNmm) == Approx(0).margin(1e-6));
    // Standing on it: pressed, nothing to open.
    load.gravity = {-1, 0, 0};
    const JointCheck stands = strengthOf(p, load).value().joints[0];
    CHECK(stands.forces.axialN == Approx(-2 * armN));
    CHECK(std::isinf(find(stands, "glue pulled open")->safety));
    CHECK_FALSE(stands.low);
    CHECK(find(stands, "piece 2 crushed beside the cut")->demand == Approx(2 * armN / (b * h)));
    CHECK(stands.safety == Approx(50 / (2 * armN / (b * h))));
    // Gravity across the arm: no torsion for a straight one.
    load.gravity = {0, 1, 0};
    CHECK(strengthOf(p, load).value().joints[0].forces.torsionNmm == 0);
}

TEST_CASE("strength: an extra force acts at its place on the piece that is there")
{
    const Project p = cantilever();
    LoadCase load;
    const int wall = pieceWith(p, {-25, 20, 30});
    load.held = {wall};
    load.extra = {{{l + 10, b / 2 + 15, h / 2}, {0, 0, -30}, 0}}; // beside the tip: nearest is the arm
    const JointCheck j = strengthOf(p, load).value().joints[0];
    CHECK(length(j.forces.shearN) == Approx(2 * armN + 30));
    CHECK(length(j.forces.bendingNmm) == Approx(2 * armN * l / 2 + 30 * (l + 10)));
    CHECK(std::abs(j.forces.torsionNmm) == Approx(30 * 15));
    load.extra[0].piece = wall; // on the fixed piece it strains no seam
    CHECK(length(strengthOf(p, load).value().joints[0].forces.shearN) == Approx(2 * armN));
    load.extra[0] = {{-40, 20, 30}, {0, 0, -30}, 0};
    CHECK(length(strengthOf(p, load).value().joints[0].forces.shearN) == Approx(2 * armN));
    // Inside the piece counts before near the other's surface, on either side of the cut.
    load.extra[0] = {{0.5, 20, 30}, {0, 0, -30}, 0};
    CHECK(length(strengthOf(p, load).value().joints[0].forces.shearN) == Approx(2 * armN + 30));
    load.extra[0] = {{-0.5, 20, 30}, {0, 0, -30}, 0};
    CHECK(length(strengthOf(p, load).value().joints[0].forces.shearN) == Approx(2 * armN));
}

TEST_CASE("strength: the print pose says which way the layers run")
{
    Project p = cantilever();
    LoadCase load;
    load.held = {pieceWith(p, {-25, 20, 30})};
    p.pieces[1].pose.printFromAssembled = mesh::Transform::rotation({0, 1, 0}, pi / 2); // printed standing on its end
    const JointCheck j = strengthOf(p, load).value().joints[0];
    CHECK(find(j, "piece 2 pulled apart beside the cut")->capacity == Approx(35));
    CHECK(find(j, "piece 1 pulled apart beside the cut")->capacity == Approx(50));
    CHECK(j.bendingOfWhole == Approx(2.0 / 35));
    p.pieces[1].pose.printFromAssembled = mesh::Transform::rotation({0, 1, 0}, pi / 4);
    CHECK(layerAngle(p.pieces[1].pose, {1, 0, 0}) == Approx(pi / 4));
    CHECK(layerAngle(p.pieces[1].pose, {-1, 0, 0}) == Approx(pi / 4));
    CHECK(find(strengthOf(p, load).value().joints[0], "piece 2 pulled apart beside the cut")->capacity ==
          Approx(35.0).epsilon(1e-3));
}

TEST_CASE("strength: dowels share the shear, their bores are taken from the section")
{
    Project p = cantilever(true);
    LoadCase load;
    load.held = {pieceWith(p, {-25, 20, 30})};
    REQUIRE(p.layout.joints.size() == 2);
    const mesh::Vec2 middle = sectionProperties(p.seams[0].region).centroid;
    p.layout.joints[0].at = middle + mesh::Vec2{12, 5}; // evenly about the middle: the shear doesn't twist
    p.layout.joints[1].at = middle - mesh::Vec2{12, 5};
    const double d = p.layout.joints[0].diameterMm, depth = p.layout.joints[0].depthMm;
    const JointCheck j = strengthOf(p, load).value().joints[0];
    // Bores are a little wider and deeper than their dowels: the arm weighs so much less.
    CHECK(find(j, "dowel sheared off")->demand == Approx(4.0 / 3 * armN / (pi / 4 * d * d)).epsilon(1e-3));
    CHECK(find(j, "dowel sheared off")->capacity == Approx(0.57735 * 35).epsilon(1e-4));
    CHECK(find(j, "dowel's bore pressed, mean")->demand == Approx(armN / (d * depth)).epsilon(1e-3));
    CHECK(find(j, "glue sheared") == nullptr);
    CHECK(find(j, "glue pulled open") != nullptr);
    CHECK(find(j, "piece 1 pulled apart beside the cut")->demand > find(j, "glue pulled open")->demand);

    // No glue: dowels bear no pull.
    load.glueMpa = 0;
    const JointCheck dry = strengthOf(p, load).value().joints[0];
    CHECK(dry.safety == 0);
    CHECK(dry.low);
    CHECK(dry.bendingOfWhole == 0);
}

TEST_CASE("strength: a chain hangs on its nearer seams; the lowest foot is fixed unless told")
{
    // A post with two boxes on top, each smaller in z: 3 on 2 on 1.
    const Project p =
        projectOf(mesh::box({0, 0, 0}, {30, 30, 300}), {mesh::planeAt({0, 0, 1}, 100), mesh::planeAt({0, 0, 1}, 220)});
    const int foot = pieceWith(p, {15, 15, 50}), mid = pieceWith(p, {15, 15, 150}), top = pieceWith(p, {15, 15, 250});
    StrengthReport r = strengthOf(p).value();
    CHECK(r.fixedPieces == std::vector<int>{foot});
    const double kgPerMm = 900 * 1.24e-6;
    CHECK(between(r, foot, mid).hanging.massKg == Approx(200 * kgPerMm));
    CHECK(between(r, foot, mid).forces.axialN == Approx(-2 * 200 * kgPerMm * 9.80665));
    CHECK(between(r, mid, top).hanging.massKg == Approx(80 * kgPerMm));
    CHECK(between(r, mid, top).hanging.held == mid);

    LoadCase load; // hung up by its top
    load.held = {top};
    r = strengthOf(p, load).value();
    CHECK(between(r, foot, mid).forces.axialN == Approx(2 * 100 * kgPerMm * 9.80665));
    CHECK(between(r, mid, top).forces.axialN == Approx(2 * 220 * kgPerMm * 9.80665));
    CHECK(between(r, mid, top).hanging.hanging == mid);

    load.held = {top, foot, top}; // both ends
    r = strengthOf(p, load).value();
    CHECK(r.fixedPieces == std::vector<int>{top, foot});
    CHECK(between(r, foot, mid).hanging.inLoop);
    CHECK(between(r, foot, mid).hanging.pieces == std::vector<int>{mid});
    load.held = {mid, top};
    r = strengthOf(p, load).value();
    const auto still = std::find_if(r.joints.begin(), r.joints.end(), [](const auto& j) { return !j.hanging.hanging; });
    REQUIRE(still != r.joints.end());
    CHECK(still->checks.empty());
    CHECK(std::isinf(still->safety));

    load = {};
    load.gravity = {0, 0, 1}; // upside down
    CHECK(strengthOf(p, load).value().fixedPieces == std::vector<int>{top});
}

TEST_CASE("strength: a piece held at both ends hangs on both, half on each")
{
    // Two faces of one area on either side of what hangs: springs alike carry alike.
    const Project p =
        projectOf(mesh::box({0, 0, 0}, {30, 30, 300}), {mesh::planeAt({0, 0, 1}, 100), mesh::planeAt({0, 0, 1}, 220)});
    const int foot = pieceWith(p, {15, 15, 50}), mid = pieceWith(p, {15, 15, 150}), top = pieceWith(p, {15, 15, 250});
    LoadCase load;
    load.held = {foot, top};
    const StrengthReport r = strengthOf(p, load).value();
    const double weightN = 2 * 900 * 120 * 1.24e-6 * 9.80665;
    CHECK(between(r, foot, mid).forces.axialN == Approx(-weightN / 2));
    CHECK(between(r, mid, top).forces.axialN == Approx(weightN / 2));
    CHECK(between(r, mid, top).shared);
    CHECK(between(r, mid, top).words.find("together with other seams") != std::string::npos);
}

TEST_CASE("strength: the seams of a loop carry together what statics asks for")
{
    // A cantilever of four pieces, in two rows of unlike height: over any section the two seams together bear the
    // weight and the moment beyond it (statics; Roark, table 8.1).
    const Project p =
        projectOf(mesh::box({-50, 0, 0}, {l, b, h}), {mesh::planeAt({1, 0, 0}, 0), mesh::planeAt({0, 0, 1}, 20)});
    REQUIRE(p.pieces.size() == 4);
    LoadCase load;
    load.held = {pieceWith(p, {-25, 20, 10}), pieceWith(p, {-25, 20, 40})};
    const StrengthReport r = strengthOf(p, load).value();
    double shear = 0, moment = 0, pull = 0;
    for (const JointCheck& j : r.joints) {
        const mesh::Plane& plane = p.plan.nodes[static_cast<std::size_t>(j.cut)].plane;
        if (j.hanging.hanging == 0 || std::abs(plane.normal.x) < 0.5)
            continue;
        const mesh::PlaneFrame frame = mesh::frameOf(plane);
        const Vec3 centre = frame.space(j.section.centroid);
        const Vec3 sideways = j.forces.shearN.x * frame.u + j.forces.shearN.y * frame.v;
        const Vec3 bending = j.forces.bendingNmm.x * frame.u + j.forces.bendingNmm.y * frame.v;
        CHECK(std::abs(sideways.z) > 1); // neither is left out
        shear += sideways.z;
        pull += j.forces.axialN;
        // Tension above the middle of all closes the same way as the bending about y.
        moment += bending.y + j.forces.axialN * (centre.z - h / 2);
    }
    CHECK(shear == Approx(-2 * armN));
    CHECK(pull == Approx(0).margin(1e-6 * armN));
    CHECK(moment == Approx(2 * armN * l / 2));
}

TEST_CASE("strength: in a loop each seam has a part in what may come to it")
{
    // Four pieces in a ring: two below, two above.
    const Project p =
        projectOf(mesh::box({0, 0, 0}, {100, 40, 100}), {mesh::planeAt({1, 0, 0}, 40), mesh::planeAt({0, 0, 1}, 60)});
    REQUIRE(p.pieces.size() == 4);
    LoadCase load;
    const int base = pieceWith(p, {25, 20, 30}), beside = pieceWith(p, {75, 20, 30});
    const int over = pieceWith(p, {25, 20, 80}), far = pieceWith(p, {75, 20, 80});
    load.held = {base};
    const StrengthReport r = strengthOf(p, load).value();
    const auto sorted = [](std::vector<int> v) {
        std::sort(v.begin(), v.end());
        return v;
    };
    // Both ways to the far piece are equally short: each has a part in it.
    CHECK(between(r, base, beside).hanging.pieces == sorted({beside, far}));
    CHECK(between(r, base, over).hanging.pieces == sorted({over, far}));
    CHECK(between(r, over, far).hanging.pieces == std::vector<int>{far});
    for (const JointCheck& j : r.joints)
        CHECK(j.hanging.inLoop);
    // Both lower ones fixed: each upper one stands on its own; between the two the heavier may hang on the other.
    load.held = {base, beside};
    const StrengthReport two = strengthOf(p, load).value();
    CHECK(between(two, base, over).hanging.pieces == std::vector<int>{over});
    CHECK(between(two, over, far).hanging.pieces == std::vector<int>{far}); // 60 wide against 40
}

TEST_CASE("strength: pieces that nothing joins are fixed by themselves, and told")
{
    mesh::Mesh two = mesh::joined(mesh::box({0, 0, 0}, {50, 30, 30}), mesh::box({0, 0, 100}, {50, 30, 130}));
    const Project p = projectOf(two, {mesh::planeAt({1, 0, 0}, 25)});
    const StrengthReport r = strengthOf(p).value();
    CHECK(r.fixedPieces.size() == 2);
    CHECK(std::any_of(r.notes.begin(), r.notes.end(), [](const Note& n) {
        return n.severity == Note::Severity::Warning && n.text.find("No seam joins") != std::string::npos;
    }));
}

TEST_CASE("strength: words, warnings and the caution")
{
    const Project p = cantilever();
    LoadCase load;
    load.held = {pieceWith(p, {-25, 20, 30})};
    load.safetyLimit = 1e6;
    const StrengthReport r = strengthOf(p, load).value();
    REQUIRE(r.weakest() != nullptr);
    CHECK(r.weakest()->low);
    CHECK(r.joints[0].words.find("glue pulled open") != std::string::npos);
    CHECK(r.joints[0].words.find("below") != std::string::npos);
    CHECK(r.notes.back().text == strengthCaution());
    CHECK(std::count_if(r.notes.begin(), r.notes.end(),
                        [](const Note& n) { return n.severity == Note::Severity::Warning; }) == 1);
    for (const StrengthCheck& c : r.joints[0].checks) {
        CHECK_FALSE(c.formula.empty());
        CHECK_FALSE(c.source.empty());
    }
    load.safetyLimit = 1e-6;
    const StrengthReport fine = strengthOf(p, load).value();
    CHECK_FALSE(fine.joints[0].low);
    CHECK(fine.notes.back().text == strengthCaution());
}

TEST_CASE("strength: load cases that make no sense are refused")
{
    const Project p = cantilever();
    const auto refused = [&](const LoadCase& load) {
        const auto r = strengthOf(p, load);
        return !r.ok() && r.problem().reason == Reason::BadArgument && !r.problem().remedy.empty();
    };
    CHECK_FALSE(refused({}));
    LoadCase load;
    load.dynamicFactor = 0;
    CHECK(refused(load));
    load = {};
    load.gravity = {0, 0, 0};
    CHECK(refused(load));
    load.gravity = {0, NAN, 1};
    CHECK(refused(load));
    load = {};
    load.fillShare = 1.1;
    CHECK(refused(load));
    load = {};
    load.glueMpa = -1;
    CHECK(refused(load));
    load = {};
    load.safetyLimit = NAN;
    CHECK(refused(load));
    load = {};
    load.held = {7};
    CHECK(refused(load));
    load = {};
    load.boltClass = "9.9";
    CHECK(refused(load));
    load = {};
    load.extra = {{{0, 0, 0}, {0, 0, INFINITY}, 0}};
    CHECK(refused(load));
    load.extra = {{{0, 0, 0}, {0, 0, 1}, 9}};
    CHECK(refused(load));
    Project oak = p;
    oak.part.material = "oak";
    CHECK_FALSE(strengthOf(oak).ok());
    Context stop;
    stop.cancel();
    CHECK(strengthOf(p, {}, stop).problem().reason == Reason::Cancelled);
    CHECK(strengthOf(Project{}).ok());
}

TEST_CASE("strength: the figures for programs carry the caution, every face and every check")
{
    const Project p = cantilever(true);
    LoadCase load;
    load.held = {pieceWith(p, {-25, 20, 30})};
    load.extra = {{{l, b / 2, h / 2}, {0, 0, -5}, 0}};
    const StrengthReport r = strengthOf(p, load).value();
    const nlohmann::json j = toJson(r, load);
    CHECK(j["caution"] == strengthCaution());
    CHECK(j["load"]["dynamic_factor"] == 2.0);
    CHECK(j["load"]["extra_forces"][0]["force_n"][2] == -5.0);
    REQUIRE(j["faces"].size() == 1);
    const nlohmann::json& face = j["faces"][0];
    CHECK(face["mass_kg"].get<double>() == Approx(armKg).epsilon(1e-3)); // dowels are less than their bores
    CHECK(face["weakest"] == r.joints[0].checks[r.joints[0].weakest].name);
    CHECK(face["safety"].get<double>() == Approx(r.joints[0].safety));
    REQUIRE(face["checks"].size() == r.joints[0].checks.size());
    for (const auto& c : face["checks"])
        if (!c["safety"].is_null())
            CHECK(c["safety"].get<double>() == Approx(c["capacity"].get<double>() / c["demand"].get<double>()));
    load.gravity = {-1, 0, 0}; // standing on its end: nothing pulls
    load.extra.clear();
    const nlohmann::json still = toJson(strengthOf(p, load).value(), load);
    CHECK(std::any_of(still["faces"][0]["checks"].begin(), still["faces"][0]["checks"].end(),
                      [](const auto& c) { return c["safety"].is_null(); }));
    CHECK_NOTHROW(still.dump());
}

// By closed forms: cylinders and boxes; densities as tables have them (steel 7.85, PLA 1.24 g/cm3).
TEST_CASE("strength: loose parts and bought ones hang with their pieces, bores don't")
{
    Project p = projectOf(mesh::box({0, 0, 0}, {80, 80, 200}), {mesh::planeAt({0, 0, 1}, 100)});
    const int top = pieceWith(p, {40, 40, 150}), foot = pieceWith(p, {40, 40, 50});
    const double plain = 80 * 80 * 100 * 1.24e-6;
    CHECK(HangingGraph(p, {}).massKg(top) == Approx(plain));
    Joint rod;
    rod.at = mesh::frameOf(p.plan.nodes[0].plane).flat({40, 40, 100});
    rod.diameterMm = 12;
    rod.depthMm = 30;
    rod.rod = JointForm::Rod::Steel;
    rod.clearanceMm = 0.1;
    rod.endClearanceMm = 0.5;
    p.layout.joints = {rod};
    // Half of 60 mm of steel, less a bore 12.2 mm wide and 30.5 mm deep, its mouth a little wider.
    const double gained = pi / 4 * (144 * 30 * 7.85 - 12.2 * 12.2 * 30.5 * 1.24) * 1e-6;
    for (const int piece : {top, foot})
        CHECK(HangingGraph(p, {}).massKg(piece) - plain == Approx(gained).epsilon(0.01));
    CHECK(between(strengthOf(p).value(), foot, top).forces.axialN ==
          Approx(-2 * 9.80665 * (plain + gained)).epsilon(5e-4));
    // Half filled: what is printed weighs half, the rod as before.
    LoadCase half;
    half.fillShare = 0.5;
    const double rodKg = pi / 4 * 144 * 30 * 7.85e-6;
    CHECK(HangingGraph(p, half).massKg(top) == Approx(plain / 2 + rodKg + (gained - rodKg) / 2).epsilon(5e-4));
    // A bolt M8 x 60 with washer and nut, from memory: about 37 g of steel all together (a screw of 31 g, ISO 4762; a
    // washer of 2 g, ISO 7089; a nut of 5 g, ISO 4032).
    Joint bolt = rod;
    bolt.kind = JointForm::Kind::DrawBolt;
    bolt.diameterMm = 8;
    bolt.hold = JointForm::Hold::FarNut;
    bolt.gripMm = 25;
    bolt.depthMm = 22;
    bolt.headOutMm = bolt.nutOutMm = 101;
    double kg = 0;
    for (const bool above : {false, true})
        for (const PointMass& mass : jointMasses(bolt, p.plan.nodes[0].plane, above, 1.24, 1))
            kg += mass.kg;
    CHECK(kg == Approx(0.037).epsilon(0.15));
}
