// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_layout.h"
#include "core/strength.h"
#include "core/thread.h"
#include "mesh/primitives.h"

#include <catch2/catch.hpp>

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

TEST_CASE("members: keys by their section, loose or grown")
{
    Joint j = jointOf(Kind::Key, 20, 20, 0.2);
    const JointMember square = only(j);
    CHECK(square.widthMm == Approx(20 / std::sqrt(2.0)));
    CHECK(square.sectionMm2 == Approx(200));
    CHECK(square.torsionModulusMm3 == Approx(0.208 * std::pow(20 / std::sqrt(2.0), 3)).epsilon(2e-3));
    CHECK(square.boreBelowMm == Approx(20.4));
    CHECK(square.boreAboveMm == Approx(20.4));
    j.integral = true;
    CHECK(only(j).boreBelowMm == 0);
    j.carrierAbove = true;
    CHECK(only(j).boreAboveMm == 0);
    j.section = JointForm::Section::Cross;
    CHECK(only(j).sectionMm2 < 200);
    CHECK(only(j).torsionModulusMm3 < square.torsionModulusMm3);
}

TEST_CASE("members: a dovetail slides along its angle and pulls in its middle")
{
    Joint j = jointOf(Kind::Dovetail, 20, 10, 0.2);
    j.lengthMm = 30;
    j.angle = pi / 2;
    const JointMember m = only(j);
    CHECK(m.at.y == Approx(55));
    CHECK(m.at.x == Approx(40));
    CHECK(m.slideAngle == Approx(pi / 2));
    CHECK(m.sectionMm2 == Approx(300));
}

// Head ISO 4762 dk, hole ISO 273 medium, nut ISO 4032 dw, all from memory: what is reckoned with lies on the safe side.
TEST_CASE("members: bolts by their metric size, seats never larger than the standards'")
{
    const double sizes[][4] = {{3, 5.5, 3.4, 4.6},   {4, 7, 4.5, 5.9},     {5, 8.5, 5.5, 6.9},
                               {6, 10, 6.6, 8.9},    {8, 13, 9, 11.6},     {10, 16, 11, 14.6},
                               {12, 18, 13.5, 16.6}, {16, 24, 17.5, 22.5}, {20, 30, 22, 27.7}};
    for (const auto& s : sizes) {
        Joint j = jointOf(Kind::DrawBolt, s[0], 15, 0.2);
        j.gripMm = 10;
        j.hold = JointForm::Hold::FarNut;
        const JointMember m = only(j);
        CHECK(m.headMm <= s[1]);
        CHECK(m.headHoleMm >= s[2]);
        CHECK(m.nutMm <= s[3]);
        CHECK(m.nutMm > m.nutHoleMm);
        CHECK(m.stressAreaMm2 == Approx(metricThread(s[0])->stressAreaMm2));
        CHECK(m.boltClass.name == "8.8");
        CHECK(m.headWallMm == 10);
        CHECK(m.nutWallMm == 15);
        CHECK(m.depthMm == 10);
        CHECK(m.insertMm == 0);
    }
    Joint j = jointOf(Kind::DrawBolt, 8, 15, 0.2);
    j.gripMm = 30;
    const JointMember insert = only(j);
    CHECK(insert.insertLengthMm == 15);
    CHECK(insert.nutMm == 0);
    CHECK(insert.boreAboveMm > insert.boreBelowMm); // the head is below
}
