// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/assembly.h"
#include "core/face_choice.h"
#include "core/joint_layout.h"
#include "core/joint_rules.h"
#include "core/joint_shape.h"
#include "core/jointed_pieces.h"
#include "core/section_forces.h"
#include "core/turning.h"
#include "mesh/boolean.h"
#include "mesh/primitives.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"

#include <catch2/catch.hpp>

#include <random>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec3;
using Kind = JointForm::Kind;

namespace {

struct Case {
    CutPlan plan;
    std::vector<Piece> pieces;
    std::vector<Seam> seams;
    JointLayout layout;

    int count(Kind kind) const
    {
        return static_cast<int>(
            std::count_if(layout.joints.begin(), layout.joints.end(), [&](const Joint& j) { return j.kind == kind; }));
    }
};

/// Cut, and jointed as it is chosen; nothing chosen breaks a rule.
Case chosen(const mesh::Mesh& part, const std::vector<mesh::Plane>& planes, const JointOptions& options = {},
            const SeamChoices& choices = {})
{
    Case c;
    c.plan = planByCutting(part, planes).value();
    c.pieces = piecesOf(cutByPlan(part, c.plan).value());
    c.seams = seamsOf(c.pieces, c.plan);
    c.layout = layOutJoints(c.pieces, c.seams, c.plan, options, choices).value();
    const JointRoom room(c.pieces, c.plan, 300);
    const JointScene scene{c.pieces, c.seams, c.plan, room, options.wallMm};
    CHECK(c.layout.faults.empty());
    for (std::size_t i = 0; i < c.layout.joints.size(); ++i) {
        const auto fault = jointFault(scene, c.layout.joints, i, c.layout.marks);
        INFO(jointName(c.seams, c.layout.joints, i)
             << " " << kindName(c.layout.joints[i].kind) << ": " << (fault ? fault->text : ""));
        CHECK_FALSE(fault.has_value());
    }
    for (std::size_t s = 0; s < c.seams.size(); ++s) {
        UNSCOPED_INFO(c.layout.reports[s].text);
        CHECK_FALSE(c.layout.reports[s].text.empty());
    }
    return c;
}

bool says(const std::string& text, const std::string& words)
{
    UNSCOPED_INFO(text);
    return text.find(words) != std::string::npos;
}

JointOptions of(Kind kind)
{
    JointOptions options;
    options.kind = kind;
    return options;
}

mesh::Mesh tube(double outer, double inner, double length)
{
    const mesh::Mesh hole =
        mesh::transformed(mesh::cylinder(inner, length + 20, 128), mesh::Transform::translation({0, 0, -10}));
    return mesh::solidDifference(mesh::cylinder(outer, length, 128), hole).value();
}

} // namespace

TEST_CASE("automatic joints: a cube of 150 mm in two gets a screw in its middle, and says why")
{
    const Case c = chosen(mesh::box({0, 0, 0}, {150, 150, 150}), {mesh::planeAt({1, 0, 0}, 75)});
    REQUIRE(c.layout.joints.size() == 1);
    const Joint& screw = c.layout.joints[0];
    CHECK(screw.kind == Kind::Screw);
    CHECK(screw.diameterMm == 60);
    CHECK(screw.thread.pitchMm == 10); // printableSizes
    CHECK(mesh::length(mesh::frameOf(c.plan.nodes[0].plane).space(screw.at) - Vec3{75, 75, 75}) < 1);
    CHECK(screw.clearanceMm == JointOptions{}.clearances.threadMm);
    const std::string& text = c.layout.reports[0].text;
    CHECK(says(text, "1 screw of 60 mm, pitch 10"));
    CHECK(says(text, "150 mm across"));
    CHECK(says(text, "can turn"));
    CHECK(c.layout.marks.size() == 1);
}

TEST_CASE("automatic joints: a large face whose pieces can't turn gets draw bolts and dowels")
{
    const Case c =
        chosen(mesh::box({0, 0, 0}, {300, 300, 150}), {mesh::planeAt({1, 0, 0}, 150), mesh::planeAt({0, 1, 0}, 150)});
    REQUIRE(c.seams.size() == 4);
    CHECK(c.count(Kind::Screw) == 0);
    CHECK(c.count(Kind::Dowel) >= 8);
    CHECK(c.count(Kind::DrawBolt) >= 8);
    for (const SeamReport& report : c.layout.reports) {
        CHECK(says(report.text, "draw bolts M8"));
        CHECK(says(report.text, "joined by others too"));
    }
    for (const Joint& j : c.layout.joints)
        if (j.kind == Kind::DrawBolt) {
            CHECK(j.headOutMm > j.gripMm + 9); // washer and head are sunk (ISO 4762: 8 mm head of M8)
            CHECK(j.gripMm >= 12);
        }
}

TEST_CASE("automatic joints: a row of cubes is screwed together, one screw to a face, clear of each other")
{
    const Case c =
        chosen(mesh::box({0, 0, 0}, {450, 150, 150}), {mesh::planeAt({1, 0, 0}, 150), mesh::planeAt({1, 0, 0}, 300)});
    CHECK(c.count(Kind::Screw) == 2);
    CHECK(c.layout.joints.size() == 2);
    // A thin piece in the middle (55 mm) has room for a bore or a foot of 60 mm, not for two of them: the second
    // screw is smaller.
    const Case thin =
        chosen(mesh::box({0, 0, 0}, {205, 150, 150}), {mesh::planeAt({1, 0, 0}, 75), mesh::planeAt({1, 0, 0}, 130)});
    REQUIRE(thin.count(Kind::Screw) == 2);
    CHECK(thin.layout.joints[0].diameterMm + thin.layout.joints[1].diameterMm < 120);
}

TEST_CASE("automatic joints: small faces keep their dowels, narrow ones a keyed one")
{
    const Case bar = chosen(mesh::box({0, 0, 0}, {200, 80, 60}), {mesh::planeAt({1, 0, 0}, 100)});
    CHECK(bar.count(Kind::Dowel) == 2);
    CHECK(bar.layout.joints.size() == 2);
    const Case rod = chosen(mesh::box({0, 0, 0}, {200, 12, 12}), {mesh::planeAt({1, 0, 0}, 100)});
    REQUIRE(rod.layout.joints.size() == 1);
    CHECK(rod.layout.joints[0].keyed);
    // Shallow pieces leave room for one thing only on a face of 60 mm: a D key.
    const Case puck = chosen(mesh::box({0, 0, 0}, {46, 32, 32}), {mesh::planeAt({1, 0, 0}, 23)});
    CHECK(puck.layout.joints.size() >= 1);
    const Case plate = chosen(mesh::box({0, 0, 0}, {400, 300, 5}), {mesh::planeAt({1, 0, 0}, 200)});
    CHECK(plate.layout.joints.empty());
    CHECK(plate.layout.reports[0].butt);
}

TEST_CASE("automatic joints: a tube has its dowels all along the middle of its wall")
{
    const Case c = chosen(tube(60, 50, 200), {mesh::planeAt({0, 0, 1}, 100)});
    REQUIRE(c.seams.size() == 1);
    CHECK(c.layout.joints.size() >= 6);
    CHECK(c.count(Kind::Dowel) == static_cast<int>(c.layout.joints.size()));
    std::vector<double> turns;
    for (const Joint& j : c.layout.joints) {
        CHECK(mesh::length(j.at) == Approx(55).margin(0.1));
        turns.push_back(std::atan2(j.at.y, j.at.x));
    }
    std::sort(turns.begin(), turns.end());
    const double even = 2 * M_PI / static_cast<double>(turns.size());
    for (std::size_t i = 1; i < turns.size(); ++i)
        CHECK(turns[i] - turns[i - 1] == Approx(even).epsilon(0.1));
    CHECK(says(c.layout.reports[0].text, "along the middle of the wall"));
}

TEST_CASE("automatic joints: a square frame has dowels in each of its walls, a long thin plate all along")
{
    const mesh::Mesh frame =
        mesh::solidDifference(mesh::box({0, 0, 0}, {120, 120, 200}), mesh::box({10, 10, -10}, {110, 110, 210})).value();
    const Case c = chosen(frame, {mesh::planeAt({0, 0, 1}, 100)});
    const mesh::PlaneFrame f = mesh::frameOf(c.plan.nodes[0].plane);
    int walls[4] = {};
    for (const Joint& j : c.layout.joints) {
        const Vec3 p = f.space(j.at);
        walls[0] += p.x < 10;
        walls[1] += p.x > 110;
        walls[2] += p.y < 10;
        walls[3] += p.y > 110;
    }
    for (const int n : walls)
        CHECK(n >= 1);
    const Case plate = chosen(mesh::box({0, 0, 0}, {400, 300, 12}), {mesh::planeAt({1, 0, 0}, 200)});
    CHECK(plate.count(Kind::Dowel) >= 4);
    const double spread = [&] {
        double most = 0;
        for (const Joint& a : plate.layout.joints)
            for (const Joint& b : plate.layout.joints)
                most = std::max(most, mesh::length(a.at - b.at));
        return most;
    }();
    CHECK(spread > 200);
}

TEST_CASE("automatic joints: two islands of one cut are screwed only where what hangs on each can turn by itself")
{
    // A gate with legs of 100 x 100 mm, cut across them: each leg turns on its own.
    const mesh::Mesh gate =
        mesh::solidDifference(mesh::box({0, 0, 0}, {260, 100, 300}), mesh::box({100, -10, -10}, {160, 110, 200}))
            .value();
    const Case legs = chosen(gate, {mesh::planeAt({0, 0, 1}, 120)});
    REQUIRE(legs.seams.size() == 2);
    CHECK(legs.count(Kind::Screw) == 2);
    // A frame cut the same way: both halves meet at both places.
    const mesh::Mesh frame =
        mesh::solidDifference(mesh::box({0, 0, 0}, {260, 100, 300}), mesh::box({100, -10, 80}, {160, 110, 220}))
            .value();
    const Case halves = chosen(frame, {mesh::planeAt({0, 0, 1}, 150)});
    REQUIRE(halves.seams.size() == 2);
    CHECK(halves.count(Kind::Screw) + halves.count(Kind::Stud) == 0);
    CHECK(halves.layout.joints.size() >= 4);
    CHECK(says(halves.layout.reports[0].text, "meet at B too"));
}

TEST_CASE("automatic joints: what can turn is told on the safe side")
{
    const auto obstacles = [](const mesh::Mesh& part, const std::vector<mesh::Plane>& planes) {
        const CutPlan plan = planByCutting(part, planes).value();
        const auto pieces = piecesOf(cutByPlan(part, plan).value());
        const auto seams = seamsOf(pieces, plan);
        std::vector<std::string> found;
        for (std::size_t i = 0; i < seams.size(); ++i)
            found.push_back(turnObstacleOf(pieces, seams, plan, i).text);
        return found;
    };
    CHECK(obstacles(mesh::box({0, 0, 0}, {100, 50, 50}), {mesh::planeAt({1, 0, 0}, 50)}) ==
          std::vector<std::string>{""});
    for (const std::string& text :
         obstacles(mesh::box({0, 0, 0}, {100, 100, 50}), {mesh::planeAt({1, 0, 0}, 50), mesh::planeAt({0, 1, 0}, 50)}))
        CHECK(says(text, "joined by others too"));
    // Two bars side by side, both cut: neither's halves are alone.
    for (const std::string& text :
         obstacles(mesh::joined(mesh::box({0, 0, 0}, {100, 40, 40}), mesh::box({0, 60, 0}, {100, 100, 40})),
                   {mesh::planeAt({1, 0, 0}, 50)}))
        CHECK(says(text, "stands beside"));
}

TEST_CASE("automatic joints: one kind for all faces, or for one, and what happens where it can't be")
{
    const mesh::Mesh cube = mesh::box({0, 0, 0}, {150, 150, 150});
    const std::vector<mesh::Plane> middle{mesh::planeAt({1, 0, 0}, 75)};
    CHECK(chosen(cube, middle, of(Kind::Dowel)).count(Kind::Dowel) >= 3);
    CHECK(chosen(cube, middle, of(Kind::Stud)).count(Kind::Stud) == 1);
    CHECK(chosen(cube, middle, of(Kind::Key)).count(Kind::Key) == 1);
    const Case bolts = chosen(cube, middle, of(Kind::DrawBolt));
    CHECK(bolts.count(Kind::DrawBolt) == 4);
    CHECK(bolts.count(Kind::Dowel) >= 2);
    // A size that is asked for is the largest that is taken.
    SeamChoices small;
    small.bySeam[0].diameterMm = 37;
    const Case thin = chosen(cube, middle, {}, small);
    REQUIRE(thin.count(Kind::Screw) == 1);
    CHECK(thin.layout.joints[0].diameterMm == 36);
    SeamChoices dowels;
    dowels.bySeam[0].kind = Kind::Dowel;
    CHECK(chosen(cube, middle, {}, dowels).count(Kind::Dowel) >= 3);
    // No screw in a rod of 12 mm, nor where nothing can turn: dowels, and why.
    const Case rod = chosen(mesh::box({0, 0, 0}, {200, 12, 12}), {mesh::planeAt({1, 0, 0}, 100)}, of(Kind::DrawBolt));
    CHECK(rod.count(Kind::Dowel) == 1);
    CHECK(says(rod.layout.reports[0].text, "a draw bolt was asked for"));
    const Case four = chosen(mesh::box({0, 0, 0}, {200, 200, 100}),
                             {mesh::planeAt({1, 0, 0}, 100), mesh::planeAt({0, 1, 0}, 100)}, of(Kind::Screw));
    CHECK(four.count(Kind::Screw) == 0);
    CHECK(four.count(Kind::Dowel) >= 8);
    CHECK(says(four.layout.reports[0].text, "a screw was asked for: pieces"));
}

TEST_CASE("automatic joints: what is chosen can be made: closed pieces, free of self-intersections")
{
    const auto requireMade = [](const Case& c) {
        const auto made = jointedPieces(c.pieces, c.seams, c.plan, c.layout);
        INFO((made ? "" : made.problem().what));
        REQUIRE(made.ok());
        for (const mesh::Mesh& piece : *made) {
            CHECK(mesh::topologyOf(piece).solid());
            CHECK(mesh::selfIntersections(piece, 1).empty());
        }
    };
    JointOptions coarse;
    coarse.chordMm = 0.3;
    requireMade(chosen(mesh::box({0, 0, 0}, {300, 110, 110}),
                       {mesh::planeAt({1, 0.1, 0}, 100), mesh::planeAt({1, 0, 0.2}, 200)}, coarse));
    requireMade(chosen(tube(60, 50, 200), {mesh::planeAt({0, 0, 1}, 100)}, coarse));
    coarse.kind = Kind::Stud;
    requireMade(chosen(mesh::icosphere(70, 4), {mesh::planeAt({0.3, 0.2, 1}, 5)}, coarse));
    coarse.kind = Kind::Key;
    requireMade(chosen(mesh::icosphere(40, 4), {mesh::planeAt({0.3, 0.2, 1}, 5)}, coarse));
}

TEST_CASE("automatic joints: a screw with a clocking key where that is asked for, clear of each other")
{
    JointOptions options = of(Kind::Screw);
    options.clocked = true;
    for (const mesh::Mesh& part :
         {mesh::box({0, 0, 0}, {150, 150, 150}),
          mesh::transformed(mesh::cylinder(70, 150, 96), mesh::Transform::translation({75, 75, 0}))}) {
        const Case c = chosen(part, {mesh::planeAt({0, 0.1, 1}, 75)}, options);
        REQUIRE(c.count(Kind::Screw) == 1);
        REQUIRE(c.count(Kind::ClockingKey) == 1);
        const Joint& screw = c.layout.joints[0];
        const Joint& key = c.layout.joints[1];
        CHECK(key.diameterMm >= 8); // a fifth of a screw of 50 to 60 mm
        CHECK(key.lengthMm >= 1.5 * key.diameterMm);
        // It points away from the screw's axis, and ends below the skin.
        const mesh::Vec2 off = key.at - screw.at, way{std::cos(key.angle), std::sin(key.angle)};
        CHECK(std::abs(mesh::cross(off, way)) < 1e-9);
        CHECK(mesh::dot(off, way) > screw.diameterMm / 2 + 2.4);
        CHECK(key.nutOutMm > key.lengthMm);
        CHECK(mesh::contains(c.seams[0].region, key.at + key.lengthMm * way));
        CHECK(says(c.layout.reports[0].text, "1 clocking key of"));
        CHECK(says(c.layout.reports[0].text, "from outside"));
    }
    // For one face only; and said where there is no room beside the screw.
    SeamChoices one;
    one.bySeam[0].kind = Kind::Screw;
    one.bySeam[0].clocked = true;
    const mesh::Mesh cube = mesh::box({0, 0, 0}, {150, 150, 150});
    CHECK(chosen(cube, {mesh::planeAt({1, 0, 0}, 75)}, {}, one).count(Kind::ClockingKey) == 1);
    CHECK(chosen(cube, {mesh::planeAt({1, 0, 0}, 75)}).count(Kind::ClockingKey) == 0);
    const Case tight = chosen(mesh::box({0, 0, 0}, {60, 26, 26}), {mesh::planeAt({1, 0, 0}, 30)}, options);
    CHECK(tight.count(Kind::Screw) == 1);
    CHECK(tight.count(Kind::ClockingKey) == 0);
    CHECK(says(tight.layout.reports[0].text, "no clocking key"));
}

TEST_CASE("automatic joints: a dovetail lies along the longer way of its face, and only where the pieces can slide")
{
    const Case c = chosen(mesh::box({0, 0, 0}, {200, 160, 40}), {mesh::planeAt({1, 0, 0}, 100)}, of(Kind::Dovetail));
    REQUIRE(c.count(Kind::Dovetail) == 1);
    const Joint& j = c.layout.joints[0];
    const mesh::PlaneFrame f = mesh::frameOf(c.plan.nodes[0].plane);
    const Vec3 way = std::cos(j.angle) * f.u + std::sin(j.angle) * f.v;
    CHECK(std::abs(way.y) == Approx(1).margin(1e-6)); // the face is 160 by 40
    CHECK(j.diameterMm == 16);                        // four tenths of 40, of the series
    CHECK(j.lengthMm > 70);
    CHECK(j.nutOutMm > j.lengthMm);
    // Blind at the one end, at the skin at the other.
    const Vec3 end = f.space(j.at) + j.lengthMm * way;
    CHECK(std::min(end.y, 160 - end.y) < 4);
    // Quarters of a block hold each other: sliding one along its faces meets the other's face.
    const Case four = chosen(mesh::box({0, 0, 0}, {200, 200, 100}),
                             {mesh::planeAt({1, 0, 0}, 100), mesh::planeAt({0, 1, 0}, 100)}, of(Kind::Dovetail));
    const auto made = jointedPieces(four.pieces, four.seams, four.plan, four.layout);
    CHECK(made.ok());
    CHECK(planAssembly(assemblyInput(four.pieces, four.plan, four.seams, four.layout.joints)).complete());
}

TEST_CASE("automatic joints: what a face has to carry decides, and is said")
{
    const mesh::Mesh bar = mesh::box({0, 0, 0}, {240, 60, 60});
    SeamChoices known;
    known.material = "PLA";
    const std::vector<mesh::Plane> middle{mesh::planeAt({1, 0, 0}, 120)};
    const Case light = chosen(bar, middle, {}, known);
    CHECK(light.count(Kind::Dowel) == 2);
    CHECK(says(light.layout.reports[0].text, "that hang on it at "));
    // 900 N across the face, near it: two dowels of the usual size would not be as sure as is wanted.
    const auto with = [&](double forceN) {
        SeamChoices loaded = known;
        loaded.load.extra.push_back({{121, 30, 30}, {0, 0, -forceN}, 2});
        loaded.load.held = {1};
        return chosen(bar, middle, {}, loaded);
    };
    const Case heavy = with(900);
    CAPTURE(heavy.layout.reports[0].text, light.layout.reports[0].text);
    double area = 0, lightArea = 0;
    for (const Joint& j : heavy.layout.joints)
        area += j.diameterMm * j.diameterMm;
    for (const Joint& j : light.layout.joints)
        lightArea += j.diameterMm * j.diameterMm;
    CHECK((area > lightArea || heavy.count(Kind::Dowel) < static_cast<int>(heavy.layout.joints.size())));
    // More than anything there bears: the best is taken, and said to be too little.
    CHECK(says(with(200000).layout.reports[0].text, "times only"));
    // A screw that the torsion would turn back gets a clocking key: 300 N, 70 mm beside its axis.
    SeamChoices twisted = known;
    twisted.load.extra.push_back({{80, 145, 75}, {0, 0, -300}, 2});
    twisted.load.held = {1};
    const Case clocked = chosen(mesh::box({0, 0, 0}, {150, 150, 150}), {mesh::planeAt({1, 0, 0}, 75)}, {}, twisted);
    CHECK(clocked.count(Kind::Screw) == 1);
    CHECK(clocked.count(Kind::ClockingKey) == 1);
}

TEST_CASE("automatic joints: on random faces whatever is chosen keeps every rule")
{
    std::mt19937 random(12);
    std::uniform_real_distribution<double> u(-1, 1);
    const std::vector<mesh::Mesh> parts{mesh::icosphere(90, 3), mesh::torus(110, 45, 40, 24), tube(70, 62, 150),
                                        mesh::box({-100, -60, -80}, {100, 60, 80}), mesh::cylinder(60, 260, 48)};
    int joints = 0, screws = 0, bolts = 0;
    for (int i = 0; i < 15; ++i) {
        const mesh::Mesh& part = parts[static_cast<std::size_t>(i) % parts.size()];
        const Vec3 middle = mesh::bounds(part).centre();
        std::vector<mesh::Plane> planes;
        for (int k = 0; k <= i % 3; ++k) {
            const Vec3 normal = mesh::normalized(Vec3{u(random), u(random), u(random) + 0.1});
            planes.push_back(mesh::planeThrough(middle + 20 * Vec3{u(random), u(random), u(random)}, normal));
        }
        INFO(i);
        const Case c = chosen(part, planes);
        joints += static_cast<int>(c.layout.joints.size());
        screws += c.count(Kind::Screw);
        bolts += c.count(Kind::DrawBolt);
    }
    CHECK(joints > 100);
    CHECK(screws >= 3);
    CHECK(bolts > 10);
}

TEST_CASE("joints by hand: a screw that can be turned in before its neighbours come is no fault")
{
    const auto faultsOf = [](const std::vector<mesh::Plane>& planes) {
        FaceChoice hand;
        hand.how = FaceChoice::How::ByHand;
        const Case plain = chosen(mesh::box({0, 0, 0}, {200, 200, 100}), planes, of(Kind::Dowel));
        JointForm screw = dowelForm(placeOn(plain.seams[0].region), 40, 30);
        screw.kind = Kind::Screw;
        screw.thread.pitchMm = 6;
        hand.joints = {screw};
        SeamChoices choices;
        choices.material = "PLA";
        choices.bySeam[0] = hand;
        JointOptions options = of(Kind::Dowel);
        const auto layout = layOutJoints(plain.pieces, plain.seams, plain.plan, options, choices);
        REQUIRE(layout.ok());
        return layout->faults;
    };
    CHECK(faultsOf({mesh::planeAt({1, 0, 0}, 100)}).empty());
    // Quarters: two of them are screwed together before the other two come.
    CHECK(faultsOf({mesh::planeAt({1, 0, 0}, 100), mesh::planeAt({0, 1, 0}, 100)}).empty());
}

TEST_CASE("automatic joints: a screw asked for grows on the piece that has room on its bed for it")
{
    const mesh::Mesh part = mesh::box({0, 0, 0}, {100, 100, 200});
    const CutPlan plan = planByCutting(part, {{{0, 0, 1}, 100}}).value();
    std::vector<Piece> pieces = piecesOf(cutByPlan(part, plan).value());
    for (const int roomy : {0, 1}) {
        for (int i = 0; i < 2; ++i) {
            pieces[static_cast<std::size_t>(i)].pose.extentsMm = {100, 100, 100};
            pieces[static_cast<std::size_t>(i)].pose.slackMm = i == roomy ? 90 : 2;
        }
        const auto seams = seamsOf(pieces, plan);
        const auto layout = layOutJoints(pieces, seams, plan, of(Kind::Screw), {}).value();
        REQUIRE(layout.joints.size() == 1);
        const Joint& screw = layout.joints[0];
        CHECK(screw.kind == Kind::Screw);
        CHECK((screw.carrierAbove ? seams[0].pieceAbove : seams[0].pieceBelow) == roomy + 1);
    }
}
