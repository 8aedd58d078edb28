// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fastener_group.h"
#include "core/joint_strength.h"
#include "core/material.h"

#include <catch2/catch.hpp>

#include <numbers>

using namespace quoin;
using namespace quoin::core;
using mesh::Region;
using mesh::Vec2;
using std::numbers::pi;

namespace {

const std::vector<Vec2> four{{40, 25}, {-40, 25}, {-40, -25}, {40, -25}};
const Region face{{{-50, -30}, {50, -30}, {50, 30}, {-50, 30}}};

} // namespace

// Round bar: F/A and its 4/3 peak, F/(d t) (Shigley); numbers by hand.
TEST_CASE("dowel: pin of 12 mm under 1000 N")
{
    CHECK(dowelSheared(1000, 12, 30).demand == Approx(11.78926).epsilon(1e-6));
    CHECK(dowelSheared(1000, 12, 23.57852).safety == Approx(2));
    CHECK(dowelBearing(1000, 12, 20, 50).demand == Approx(4.16667).epsilon(1e-5));
    CHECK(dowelMouthBearing(1000, 12, 20, 50).demand == Approx(4 * 4.16667).epsilon(1e-5));
    CHECK(dowelSheared(0, 12, 30).safety > 1e300);
    CHECK(dowelBearing(1, 12, 0, 30).safety == Approx(0).margin(1e-9));
}

TEST_CASE("dowel: the pressure at the mouth balances the force without a moment")
{
    // p = p0 (1 - 3x/(2t)): its sum is F / d, its moment about the face nothing.
    const double d = 12, t = 20, p0 = dowelMouthBearing(1000, d, t, 50).demand;
    double force = 0, moment = 0;
    const int steps = 20000;
    for (int i = 0; i < steps; ++i) {
        const double x = (i + 0.5) * t / steps, p = p0 * (1 - 1.5 * x / t);
        force += p * d * t / steps;
        moment += p * x * d * t / steps;
    }
    CHECK(force == Approx(1000).epsilon(1e-3));
    CHECK(moment == Approx(0).margin(1));
}

// 50 N m on a shaft of 20 mm, key 6 x 6 x 20 (ISO 773): F = 2 T / d, worked by hand after Shigley, ch. 7.
TEST_CASE("key: shear, bearing and torsion")
{
    CHECK(keySheared(5000, 6 * 20, 100).demand == Approx(41.66667).epsilon(1e-6));
    CHECK(keyBearing(5000, 3, 20, 100).demand == Approx(83.33333).epsilon(1e-6));
    // Saint-Venant's factors of rectangles 1:1, 2:1, 10:1 (Timoshenko, Strength of Materials: 0.208, 0.246, 0.312).
    CHECK(rectangleTorsionModulusMm3(10, 10) == Approx(208).epsilon(2e-3));
    CHECK(rectangleTorsionModulusMm3(10, 20) == Approx(0.246 * 2000).epsilon(5e-3));
    CHECK(rectangleTorsionModulusMm3(100, 10) == Approx(0.312 * 10000).epsilon(5e-3));
    CHECK(rectangleTorsionModulusMm3(0, 10) == 0);
    CHECK(keyTwisted(1000, 208, 20).demand == Approx(4.8077).epsilon(1e-4));
    // Each side of a square of 10 x depth 20: half of it, rising to p at the corner, arm two thirds of 5 mm.
    const double p = squareKeyTurned(1000, 10, 20, 50).demand;
    CHECK(4 * (p * 5 / 2 * 20) * (2 * 5 / 3.0) == Approx(1000));
}

TEST_CASE("bolt: proof stress, seat and insert")
{
    const BoltClass c = boltClass("8.8", 8);
    CHECK(boltPulled(580 * 36.6, 36.6, c).safety == Approx(1));
    CHECK(boltSheared(1000, 36.6, c).capacity == Approx(0.57735 * 640).epsilon(1e-5));
    CHECK(seatPressed(1000, 13, 9, 50).demand == Approx(1000 / (pi / 4 * (169 - 81))));
    CHECK(seatPunched(1000, 13, 6, 28).demand == Approx(1000 / (pi * 13 * 6)));
    CHECK(insertPulled(1000, 7, 12, 20).demand == Approx(1000 / (pi * 7 * 12)));
}

// Nominal values that the class names spell out, and those of the table where it is higher or lower: ISO 898-1 as
// quoted by usefastener.com and bbshalmstad.se.
TEST_CASE("bolt: classes of ISO 898-1")
{
    CHECK(boltClass("8.8", 16).tensileMpa == 800);
    CHECK(boltClass("8.8", 16).yieldMpa == 640);
    CHECK(boltClass("8.8", 16).proofMpa == 580);
    CHECK(boltClass("8.8", 20).proofMpa == 600);
    CHECK(boltClass("10.9", 8).proofMpa == 830);
    CHECK(boltClass("12.9", 8).proofMpa == 970);
    CHECK(boltClass("4.6", 8).proofMpa == 225);
    CHECK(boltClass("5.8", 8).proofMpa == 380);
    CHECK(boltClass("9.9", 8).name.empty());
}

// Eccentric shear and bending of four fasteners at (+-40, +-25): worked by hand after Shigley, ch. 8.
TEST_CASE("group: four fasteners share torsion and shear")
{
    SectionForces f;
    f.torsionNmm = 50000;
    for (const Vec2 v : groupShear(four, f))
        CHECK(length(v) == Approx(265.0).epsilon(1e-4));
    f.shearN = {0, 400};
    const std::vector<Vec2> each = groupShear(four, f);
    CHECK(each[0].y == Approx(100 + 50000.0 * 40 / 8900));
    CHECK(each[1].y == Approx(100 - 50000.0 * 40 / 8900));
    CHECK(each[0].x == Approx(-50000.0 * 25 / 8900));
    Vec2 sum{0, 0};
    double torque = 0;
    for (std::size_t i = 0; i < 4; ++i) {
        sum = sum + each[i];
        torque += cross(four[i], each[i]);
    }
    CHECK(sum.x == Approx(0).margin(1e-9));
    CHECK(sum.y == Approx(400));
    CHECK(torque == Approx(50000));
    // Shear beside the group's centroid twists it as well.
    SectionForces beside;
    beside.shearN = {0, 100};
    beside.about = {30, 0};
    CHECK(groupShear(four, beside)[0].y == Approx(25 + 3000.0 * 40 / 8900));
    CHECK_FALSE(takesTorsion({{3, 4}}));
    CHECK(groupShear({{3, 4}}, f)[0].y == Approx(400));
}

TEST_CASE("group: four fasteners bent about their centroid and about the pressed edge")
{
    SectionForces f;
    f.bendingNmm = {20000, 0};
    const std::vector<double> centroid = groupPullAboutCentroid(four, f).value();
    CHECK(centroid[0] == Approx(200)); // M y / sum(y^2) = 20000 * 25 / 2500
    CHECK(centroid[3] == Approx(-200));
    // From the edge at -30: y = 55, 55, 5, 5; sum(y^2) = 6100.
    const std::vector<double> edge = groupPullAboutEdge(four, face, f);
    CHECK(edge[0] == Approx(20000.0 * 55 / 6100));
    CHECK(edge[3] == Approx(20000.0 * 5 / 6100));
    CHECK(groupPull(four, face, f)[0] == Approx(200));
    CHECK(groupPull(four, face, f)[3] == Approx(20000.0 * 5 / 6100));
    CHECK(momentByEdgeNmm(four, face, {0, 1}, 20000.0 * 55 / 6100) == Approx(20000));

    // Turned by 90 degrees the other pair of sides carries it, turned about the other way the other edge is pressed.
    f.bendingNmm = {0, 20000};
    CHECK(groupPullAboutCentroid(four, f).value()[1] == Approx(20000.0 * 40 / 6400));
    CHECK(groupPullAboutEdge(four, face, f)[1] == Approx(20000.0 * 90 / (2 * (90 * 90 + 100))));
}

TEST_CASE("group: one screw in the middle holds by its edge, and nothing opens under pressure")
{
    const std::vector<Vec2> one{{0, 0}};
    SectionForces f;
    f.bendingNmm = {6000, 0};
    CHECK_FALSE(groupPullAboutCentroid(one, f).has_value());
    CHECK(groupPull(one, face, f)[0] == Approx(6000.0 / 30));
    f.axialN = 50;
    CHECK(groupPull(one, face, f)[0] == Approx(6000.0 / 30 + 50));
    f.axialN = -300; // more than the moment needs: pressed all over
    CHECK(groupPull(one, face, f)[0] == 0);
    CHECK(groupPull(four, face, f)[0] == 0);
    f.axialN = -220; // the group alone would feel 60 - 55 N, the face is still pressed to its edge
    CHECK(groupPullAboutCentroid(four, f).value()[0] == Approx(5));
    CHECK(groupPull(four, face, f)[0] == 0);
    SectionForces pull;
    pull.axialN = 80;
    CHECK(groupPull(one, face, pull)[0] == Approx(80));
    CHECK(groupPullAboutCentroid(four, pull).value()[2] == Approx(20));
}

TEST_CASE("group: a row bears a moment along it only")
{
    const std::vector<Vec2> row{{-30, 0}, {0, 0}, {30, 0}};
    SectionForces f;
    f.bendingNmm = {0, -3000};
    CHECK(groupPullAboutCentroid(row, f).value()[2] == Approx(3000.0 * 30 / 1800));
    f.bendingNmm = {3000, 0};
    CHECK_FALSE(groupPullAboutCentroid(row, f).has_value());
    CHECK(groupPull(row, face, f)[1] == Approx(3000.0 / 90));
}

TEST_CASE("layers: strength across, along and between")
{
    const MaterialStrength& pla = *findStrength("pla");
    CHECK(tensileAt(pla, 0) == Approx(pla.tensileAcrossMpa));
    CHECK(tensileAt(pla, pi / 2) == Approx(pla.tensileAlongMpa));
    // By hand at 45 degrees: 1/sqrt(.25/50^2 + .25 (1/20.207^2 - 1/50^2) + .25/35^2) = 34.99.
    CHECK(tensileAt(pla, pi / 4) == Approx(35.0).epsilon(1e-3));
    for (double a = 0; a <= pi / 2; a += 0.05) {
        CHECK(tensileAt(pla, a) <= tensileByHankinson(pla, a) * (1 + 1e-12));
        CHECK(tensileAt(pla, a) == Approx(tensileAt(pla, -a)));
        // Alike in every direction, alike at every angle: the von Mises ratio is the one for which this holds.
        CHECK(tensileAt(*findStrength("steel"), a) == Approx(235));
    }
    // Hankinson at 45 degrees: 2 A C / (A + C).
    CHECK(tensileByHankinson(pla, pi / 4) == Approx(2 * 50 * 35 / 85.0));
    CHECK(sectionPulled(7, pla, 0).safety == Approx(5));
    CHECK(sectionPulled(-7, pla, 0).safety > 1e300);
}

TEST_CASE("section and glue: shear with torsion")
{
    CHECK(sectionSheared(50, 0, 600, 0, 20).demand == Approx(0.125)); // 1.5 V/A, Roark: 20 x 30 under 50 N
    CHECK(sectionSheared(50, 100, 600, 2000, 20).demand == Approx(0.175));
    CHECK(glueSheared(50, 100, 600, 2000, 2).safety == Approx(2 / 0.175));
    CHECK(gluePulled(0.5, 2).safety == Approx(4));
}

// Ranges: additive.tools for PLA and PETG, the others from memory; test that the values are in them, not points.
TEST_CASE("materials: every printed material has cautious strengths with their sources")
{
    for (const Material& m : shippedMaterials()) {
        const MaterialStrength* s = findStrength(m.name);
        REQUIRE(s != nullptr);
        CHECK(s->printed);
        CHECK(s->tensileAcrossMpa < s->tensileAlongMpa);
        CHECK(s->tensileAlongMpa < s->tensileAlongHighMpa);
        CHECK(s->tensileAcrossMpa < s->tensileAcrossHighMpa);
        CHECK(s->shearAlongMpa == Approx(0.577 * s->tensileAlongMpa).epsilon(1e-3));
        CHECK(s->shearAcrossMpa == Approx(0.577 * s->tensileAcrossMpa).epsilon(1e-3));
        CHECK(s->densityGPerCm3 == m.densityGPerCm3);
        CHECK(s->modulusMpa > 500);
        CHECK_FALSE(s->source.empty());
        CHECK_FALSE(s->shearRule.empty());
        CHECK_FALSE(s->bearingRule.empty());
    }
    CHECK(findStrength("PLA")->tensileAlongMpa == 50);
    CHECK(findStrength("PETG")->tensileAcrossMpa == 25);
    CHECK(findStrength("oak") == nullptr);
    const MaterialStrength& beech = *findStrength("beech"); // averages 13.9 and 7.0 MPa less 23 % and 46 %
    CHECK(beech.shearAcrossMpa == Approx(10.70).epsilon(1e-3));
    CHECK(beech.bearingMpa == Approx(3.776).epsilon(1e-3));
}
