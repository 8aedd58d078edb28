// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_layout.h"
#include "core/strength.h"
#include "core/thread.h"
#include "mesh/primitives.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace quoin;
using namespace quoin::core;
using Kind = JointForm::Kind;
using std::numbers::pi;

namespace {

/// A post of three pieces, 80 x 80, cut level at 100 and 200; layers level.
Project post(const std::vector<Joint>& joints)
{
    Project p;
    const mesh::Mesh part = mesh::box({0, 0, 0}, {80, 80, 300});
    p.plan = planByCutting(part, {mesh::planeAt({0, 0, 1}, 100), mesh::planeAt({0, 0, 1}, 200)}).value();
    p.pieces = piecesOf(cutByPlan(part, p.plan).value());
    p.seams = seamsOf(p.pieces, p.plan);
    p.part.mesh = std::make_shared<const mesh::Mesh>(part);
    p.layout.joints = joints;
    return p;
}

Joint jointOf(Kind kind, double diameterMm, double depthMm, double clearanceMm)
{
    Joint j;
    j.kind = kind;
    j.at = {40, 40};
    j.diameterMm = diameterMm;
    j.depthMm = depthMm;
    j.clearanceMm = clearanceMm;
    return j;
}

JointMember only(const Joint& joint)
{
    const std::vector<JointMember> members = membersOf(post({joint}), 0, {});
    REQUIRE(members.size() == 1);
    return members[0];
}

} // namespace

TEST_CASE("members: each seam has its own, dowels by what they are made of")
{
    Joint a = jointOf(Kind::Dowel, 8, 12, 0.25), b = a;
    b.seam = 1;
    b.rod = JointForm::Rod::Steel;
    Joint c = b;
    c.rod = JointForm::Rod::Wood;
    const Project p = post({a, b, c});
    REQUIRE(membersOf(p, 0, {}).size() == 1);
    REQUIRE(membersOf(p, 1, {}).size() == 2);
    const JointMember m = membersOf(p, 0, {})[0];
    CHECK(m.boreBelowMm == Approx(8.5));
    CHECK(m.boreAboveMm == Approx(8.5));
    CHECK(m.depthMm == 12);
    CHECK(m.material->name == "PLA");
    CHECK(m.layerAngle == Approx(pi / 2));
    CHECK(membersOf(p, 1, {})[0].material->name == "steel");
    CHECK(membersOf(p, 1, {})[1].material->name == "beech");
}

// Basic sizes by ISO 2904 (d2 36.5, d3 32, D1 33); clearance set off square to the flanks.
TEST_CASE("members: a trapezoidal screw has the standard's sizes, its nut the clearance")
{
    Joint j = jointOf(Kind::Screw, 40, 40, 0);
    j.thread = {true, 7, 1, false};
    const JointMember tight = only(j);
    CHECK(tight.kind == JointMember::Kind::Screw);
    CHECK(tight.thread.valid());
    CHECK(tight.thread.majorMm == Approx(40));
    CHECK(tight.thread.pitchDiameterMm == Approx(36.5));
    CHECK(tight.thread.coreMm <= 32);
    CHECK(tight.thread.coreMm > 30);
    CHECK(tight.thread.nutBoreMm == Approx(33).epsilon(1e-3)); // facets of the bore stand back
    CHECK(tight.thread.nutPitchDiameterMm == Approx(36.5));
    CHECK(screwShearAreaMm2(tight.thread, 1) == Approx(65.726).epsilon(1e-3));
    CHECK(nutShearAreaMm2(tight.thread, 1) == Approx(79.668).epsilon(2e-5));
    CHECK(tight.engagementMm > 7);
    CHECK(tight.engagementMm < 40);
    CHECK(tight.boreBelowMm == 0); // grown on the piece below
    CHECK(tight.boreAboveMm >= 41);

    j.clearanceMm = 0.35;
    j.carrierAbove = true;
    const JointMember loose = only(j);
    CHECK(loose.boreAboveMm == 0);
    CHECK(loose.boreBelowMm > tight.boreAboveMm);
    CHECK(loose.thread.nutBoreMm == Approx(33.7).epsilon(1e-3));
    // The nut's teeth are thinner by twice c / cos a, seen along the axis.
    const double lead = std::atan(7 / (pi * 32));
    const double thinner = 2 * 0.35 / std::cos(lead) / std::cos(15 * pi / 180);
    CHECK(nutShearAreaMm2(loose.thread, 1) == Approx(pi * 40 / 7 * (3.5 + 3.5 * std::tan(15 * pi / 180) - thinner)));
}

TEST_CASE("members: a printable stud bores both sides; an impossible thread bears nothing")
{
    Joint j = jointOf(Kind::Stud, 40, 40, 0.3);
    j.thread = {false, 6, 1, false};
    const JointMember m = only(j);
    CHECK(m.kind == JointMember::Kind::Stud);
    CHECK(m.thread.flankHalfAngle == Approx(pi / 4));
    CHECK(m.boreBelowMm == m.boreAboveMm);
    CHECK(m.boreBelowMm > 40);
    CHECK(m.layerAngle == 0);
    j.depthMm = 3; // no full turn
    const Project p = post({j});
    CHECK(only(j).engagementMm == 0);
    LoadCase hung;
    hung.held = {p.pieces.back().number};
    const StrengthReport r = strengthOf(p, hung).value();
    CHECK(r.joints[0].low);
    CHECK(r.joints[0].safety == Approx(0).margin(1e-9));
}

TEST_CASE("members: a screw's layers are those of the piece that it is grown on")
{
    Joint j = jointOf(Kind::Screw, 40, 40, 0.3);
    j.thread = {false, 6, 1, false};
    Project p = post({j});
    CHECK(membersOf(p, 0, {})[0].layerAngle == Approx(0).margin(1e-9)); // level layers, upright axis: across
    const Seam& seam = p.seams[0];
    for (Piece& piece : p.pieces)
        if (piece.number == seam.pieceBelow)
            piece.pose.printFromAssembled = mesh::Transform::rotation({1, 0, 0}, pi / 2);
    CHECK(membersOf(p, 0, {})[0].layerAngle == Approx(pi / 2));
    p.layout.joints[0].carrierAbove = true;
    CHECK(membersOf(p, 0, {})[0].layerAngle == Approx(0).margin(1e-9));
}

// A square of 14.142 mm and a circle of 20 mm; broken edges of 6 % of the diameter (core/key_outline.cpp).
TEST_CASE("members: keys have the section that they are made with")
{
    Joint j = jointOf(Kind::Key, 20, 20, 0.2);
    const double side = 20 / std::sqrt(2.0), broken = 1.2;
    const JointMember square = only(j);
    CHECK(square.widthMm == Approx(side - 2 * broken));
    CHECK(square.sectionMm2 == Approx(200 - 2 * broken * broken));
    CHECK(square.turnSideMm == Approx(side - 2 * broken));
    CHECK(square.torsionModulusMm3 < 0.208 * side * side * side); // Roark, table 10.1: the square with sharp edges
    CHECK(square.torsionModulusMm3 > 0.9 * 0.208 * side * side * side);
    j.section = JointForm::Section::D;
    const JointMember d = only(j);
    CHECK(d.sectionMm2 == Approx(100 * (pi - std::acos(0.6)) + 6 * 8).epsilon(0.01)); // circle less its segment
    CHECK(d.widthMm == Approx(16 - 2 * broken));
    CHECK(d.turnSideMm == Approx(8 - broken));
    CHECK(d.torsionModulusMm3 == Approx(pi * 16 * 16 * 16 / 16));
    j.section = JointForm::Section::Cross;
    const JointMember cross = only(j);
    const double end = std::sqrt(100 - 3.6 * 3.6), narrowEnd = std::sqrt(100 - 2.4 * 2.4);
    CHECK(cross.sectionMm2 == Approx(2 * end * 7.2 + (end - 3.6) * 7.2 + (narrowEnd - 3.6) * 4.8 - 4 * broken * broken +
                                     0.5 * broken * broken));
    const double outer = end - broken, inner = 3.6 + broken / 2; // of a flank
    CHECK(cross.widthMm == Approx(2 * (outer - inner)));
    // By sums: four flanks, pressure r / R, lever r; a square of side a takes p t a^2 / 3.
    double torque = 0;
    constexpr int steps = 10'000;
    for (int k = 0; k < steps; ++k) {
        const double r = inner + (k + 0.5) * (outer - inner) / steps;
        torque += 4 * r / outer * r * (outer - inner) / steps;
    }
    CHECK(cross.turnSideMm * cross.turnSideMm / 3 == Approx(torque));
    CHECK(cross.torsionModulusMm3 == Approx(rectangleTorsionModulusMm3(2 * end, 7.2)));
}

TEST_CASE("members: keys take their pocket from the section, tapered ones bear at their thin end")
{
    Joint j = jointOf(Kind::Key, 20, 20, 0.2);
    const JointMember loose = only(j);
    CHECK(loose.takenBelow == loose.takenAbove);
    const double pocket = 20 / std::sqrt(2.0) + 2 * (0.2 + 0.4); // clearance and the chamfer of the mouth
    CHECK(mesh::signedArea(loose.takenBelow) == Approx(pocket * pocket).epsilon(0.01));
    for (const mesh::Vec2 p : loose.takenBelow)
        CHECK(length(p - mesh::Vec2{40, 40}) < 12);
    j.angle = pi / 4;
    CHECK(mesh::signedArea(only(j).takenBelow) == Approx(mesh::signedArea(loose.takenBelow)));
    CHECK_FALSE(only(j).takenBelow == loose.takenBelow);
    j.taperMm = 0.5;
    CHECK(only(j).widthMm < loose.widthMm - 0.1);
    CHECK(only(j).sectionMm2 > 0.9 * loose.sectionMm2);
    j.integral = true;
    CHECK(only(j).takenBelow.empty());
    CHECK_FALSE(only(j).takenAbove.empty());
    j.carrierAbove = true;
    CHECK(only(j).takenAbove.empty());
    j.diameterMm = 1; // none is made so thin
    CHECK(only(j).sectionMm2 == 0);
    CHECK(only(j).turnSideMm == 0);
}

TEST_CASE("members: a pocket weakens the piece beside the cut by its outline")
{
    Joint j = jointOf(Kind::Key, 40, 20, 0.2);
    const auto sheared = [](const Joint& joint) {
        Project p = post({joint});
        p.layout.joints[0].at = sectionProperties(p.seams[0].region).centroid;
        LoadCase push;
        push.extra = {{{40, 40, 300}, {500, 0, 0}, 0}};
        const JointCheck c = strengthOf(p, push).value().joints[0];
        for (const StrengthCheck& k : c.checks)
            if (k.name == fmt::format("piece {} pulled apart beside the cut", p.seams[0].pieceAbove))
                return k.demand;
        return 0.0;
    };
    const double a = 40 / std::sqrt(2.0) + 2 * (0.2 + 0.4);
    const double hollow = sheared(j);
    j.diameterMm = 4; // next to nothing
    const double full = sheared(j);
    // Square section with a square hole: W = (80^4 - a^4) / (6 80); the weight presses on the areas that are left.
    CHECK(hollow > full);
    const double moment = 500 * 200, solid = 80.0 * 80 * 80 / 6, left = (std::pow(80.0, 4) - std::pow(a, 4)) / 480;
    CHECK(hollow - full == Approx(moment / left - moment / solid).epsilon(0.05));
}

// By hand: land from 8 mm, flanks of 30 degrees, neck 20 - 2 tan 30 * 8, corners cut off by a fifth of the neck.
TEST_CASE("members: a dovetail slides along its angle, pulls in its middle, and its groove goes through")
{
    Joint j = jointOf(Kind::Dovetail, 20, 10, 0.2);
    j.lengthMm = 30;
    j.angle = pi / 2;
    const JointMember m = only(j);
    CHECK(m.at.y == Approx(55));
    CHECK(m.at.x == Approx(40));
    CHECK(m.slideAngle == Approx(pi / 2));
    const double neck = 20 - 2 * 8 / std::sqrt(3.0), lead = neck / 5;
    CHECK(m.sectionMm2 == Approx(30 * neck - 2 * lead * lead).epsilon(1e-4));
    CHECK(m.widthMm == Approx(30 - 2 * lead).epsilon(1e-4));
    CHECK(m.takenBelow.empty());
    mesh::Vec2 low{1e9, 1e9}, high{-1e9, -1e9};
    for (const mesh::Vec2 p : m.takenAbove) {
        low = {std::min(low.x, p.x), std::min(low.y, p.y)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
    CHECK(high.x - low.x == Approx(20.4));
    CHECK(low.y == Approx(39.8));
    CHECK(high.y > 70);
    CHECK(mesh::signedArea(m.takenAbove) > 0);
    j.carrierAbove = true;
    CHECK(only(j).takenAbove.empty());
    j.lengthMm = 5; // none is made so short
    CHECK(only(j).sectionMm2 == 0);
}

// Outside of washers ISO 7089, holes ISO 273 medium, bearing face of nuts ISO 4032 dw (least), all from memory.
TEST_CASE("members: bolts by the tables of their hardware")
{
    const double sizes[][4] = {{3, 7, 3.4, 4.6},     {4, 9, 4.5, 5.9},     {5, 10, 5.5, 6.9},
                               {6, 12, 6.6, 8.9},    {8, 16, 9, 11.6},     {10, 20, 11, 14.6},
                               {12, 24, 13.5, 16.6}, {16, 30, 17.5, 22.5}, {20, 37, 22, 27.7}};
    for (const auto& s : sizes) {
        Joint j = jointOf(Kind::DrawBolt, s[0], 15, 0.2);
        j.gripMm = 10;
        j.headOutMm = j.nutOutMm = 120;
        j.hold = JointForm::Hold::FarNut;
        const JointMember m = only(j);
        CAPTURE(s[0]);
        CHECK(m.headMm == s[1]);
        CHECK(m.headHoleMm == Approx(s[2] + 0.4));
        CHECK(m.nutMm <= s[3]);
        CHECK(m.nutMm > m.nutHoleMm);
        CHECK(m.stressAreaMm2 == Approx(metricThread(s[0])->stressAreaMm2));
        CHECK(m.boltClass.name == "8.8");
        CHECK(m.headWallMm == 10);
        CHECK(m.nutWallMm == 15);
        CHECK(m.depthMm == 10);
        CHECK(m.insertMm == 0);
        CHECK(m.boreBelowMm == Approx(s[1] + 0.4)); // the counterbore: the head is below
    }
    Joint j = jointOf(Kind::DrawBolt, 8, 15, 0.2);
    j.gripMm = 30;
    j.headOutMm = 120;
    const JointMember insert = only(j);
    CHECK(insert.insertLengthMm == 12.7); // not the bore's 15
    CHECK(insert.insertMm == Approx(9.6));
    CHECK(insert.nutMm == 0);
    CHECK(insert.boreAboveMm == Approx(9.6 + 1)); // with its chamfer
    j.carrierAbove = true;
    CHECK(only(j).boreBelowMm == Approx(10.6));
    j.gripMm = 1; // no such bolt: it bears nothing
    CHECK(only(j).stressAreaMm2 == 0);
}
