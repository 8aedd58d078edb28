// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fastener_group.h"
#include "core/seam_strength.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <numbers>

using namespace quoin;
using namespace quoin::core;
using Kind = JointMember::Kind;
using mesh::Vec2;
using std::numbers::pi;

namespace {

/// A face of 100 x 60 in PLA, layers level with it, 8 kg m of nothing yet.
SeamLoad faceOf(std::vector<JointMember> members)
{
    SeamLoad load;
    load.region = {{{-50, -30}, {50, -30}, {50, 30}, {-50, 30}}};
    load.below = {1, findStrength("PLA"), 0};
    load.above = {2, findStrength("PLA"), 0};
    load.glueMpa = 2;
    load.members = std::move(members);
    return load;
}

JointMember screw(Vec2 at)
{
    JointMember m;
    m.kind = Kind::Screw;
    m.at = at;
    m.material = findStrength("PLA");
    m.depthMm = 22;
    m.thread = {20, 18, 15.5, 16, 18, 4, 4, 15 * pi / 180}; // Tr 20x4
    m.engagementMm = 20;
    return m;
}

JointMember dowel(Vec2 at, const char* material = "PLA")
{
    JointMember m;
    m.at = at;
    m.material = findStrength(material);
    m.diameterMm = 8;
    m.depthMm = 12;
    m.layerAngle = pi / 2;
    return m;
}

JointMember key(Vec2 at)
{
    JointMember m;
    m.kind = Kind::Key;
    m.at = at;
    m.material = findStrength("PLA");
    m.widthMm = m.heightMm = m.turnSideMm = 10;
    m.sectionMm2 = 100;
    m.depthMm = 20;
    m.torsionModulusMm3 = rectangleTorsionModulusMm3(10, 10);
    return m;
}

JointMember bolt(Vec2 at)
{
    JointMember m;
    m.kind = Kind::DrawBolt;
    m.at = at;
    m.material = findStrength("steel");
    m.diameterMm = 8;
    m.depthMm = 15;
    m.stressAreaMm2 = 36.6;
    m.boltClass = boltClass("8.8", 8);
    m.headMm = 13;
    m.headHoleMm = 9;
    m.headWallMm = 8;
    m.insertMm = 10;
    m.insertLengthMm = 12;
    return m;
}

const StrengthCheck* find(const SeamStrength& s, const std::string& name)
{
    const auto c = std::find_if(s.checks.begin(), s.checks.end(), [&](const auto& k) { return k.name == name; });
    return c == s.checks.end() ? nullptr : &*c;
}

SectionForces forces(double axial, Vec2 shear, Vec2 bending, double torsion)
{
    SectionForces f;
    f.axialN = axial;
    f.shearN = shear;
    f.bendingNmm = bending;
    f.torsionNmm = torsion;
    return f;
}

} // namespace

// Shigley, Mechanical Engineering Design, 10th ed., example 7-6 (from memory): a 3/8 in square key at 5850 lbf, of a
// material of 65 kpsi yield (37.5 kpsi in shear), is safe by 2.80 in shear when it is 1.16 in long, in crushing when it
// is 1.34 in long: half its height bears, as of a clocking key.
TEST_CASE("seam: a parallel key's shear and bearing are those of the handbook's example")
{
    constexpr double inch = 25.4, lbf = 4.4482216, kpsi = 6.894757;
    CHECK(keySheared(5850 * lbf, 0.375 * 1.16 * inch * inch, 37.5 * kpsi).safety == Approx(2.80).epsilon(0.01));
    CHECK(keyBearing(5850 * lbf, 1.34 * inch, 0.375 / 2 * inch, 65 * kpsi).safety == Approx(2.80).epsilon(0.01));
}

TEST_CASE("seam: a clocking key takes the torsion by its lever, and the screw its counterforce")
{
    JointMember clocking;
    clocking.kind = Kind::ClockingKey;
    clocking.at = {30, 0};
    clocking.material = findStrength("PLA");
    clocking.widthMm = clocking.heightMm = 20;
    clocking.depthMm = 4;
    clocking.sectionMm2 = 160;
    SeamLoad load = faceOf({screw({0, 0}), clocking});
    load.forces = forces(0, {0, 50}, {0, 0}, 6000);
    const SeamStrength s = seamStrength(load);
    REQUIRE(find(s, "clocking key sheared off") != nullptr);
    CHECK(find(s, "clocking key sheared off")->demand == Approx(200.0 / 160)); // 6000 N mm over 30 mm
    CHECK(find(s, "clocking key's side pressed")->demand == Approx(200.0 / (20 * 4)));
    // 50 N of shear along v, less 200 N that the key already pushes that way.
    CHECK(find(s, "screw sheared off")->demand == Approx(4.0 / 3 * 150 / (pi / 4 * 15.5 * 15.5)));
    CHECK(find(s, turnedByTorsion) == nullptr);
    // The other way round the screw bears both.
    load.forces.torsionNmm = -6000;
    CHECK(find(seamStrength(load), "screw sheared off")->demand == Approx(4.0 / 3 * 250 / (pi / 4 * 15.5 * 15.5)));
    // A key that points past the screw with no lever holds nothing.
    load.members[1].slideAngle = pi / 2;
    CHECK(find(seamStrength(load), turnedByTorsion) != nullptr);
    // Two share by their levers: 6000 = F1 30 + F2 15, F1 / F2 = 30 / 15.
    load.members[1].slideAngle = 0;
    load.members.push_back(load.members[1]);
    load.members[2].at = {-15, 0};
    CHECK(find(seamStrength(load), "clocking key sheared off")->demand == Approx(6000 * 30.0 / (900 + 225) / 160));
}

// Numbers by hand from the formulas of the parts (Shigley, Machinery's Handbook), each tested by itself elsewhere.
TEST_CASE("seam: a screw in the middle bears the pull by its threads and core, the pressed edge helps")
{
    SeamLoad load = faceOf({screw({0, 0})});
    load.forces = forces(100, {40, 0}, {6000, 0}, 0);
    const SeamStrength s = seamStrength(load);
    const double pull = 6000.0 / 30 + 100;
    CHECK(find(s, "screw's thread stripped")->demand == Approx(pull / (31.867 * 20)).epsilon(1e-4));
    CHECK(find(s, "screw's thread stripped")->capacity == Approx(0.57735 * 35).epsilon(1e-4));
    CHECK(find(s, "nut's thread stripped")->demand == Approx(pull / (39.834 * 20)).epsilon(1e-4));
    CHECK(find(s, "screw pulled apart at its core")->demand == Approx(pull / 188.69).epsilon(1e-4));
    CHECK(find(s, "screw pulled apart at its core")->capacity == Approx(35)); // printed upright
    CHECK(find(s, "screw's core while it is tightened")->demand > pull / 188.69);
    CHECK(find(s, "screw sheared off")->demand == Approx(4.0 / 3 * 40 / 188.69).epsilon(1e-4));
    CHECK(find(s, "glue pulled open") == nullptr);
    CHECK(find(s, "glue sheared") == nullptr);
    // Whole: 35 MPa * 100 * 60^2 / 6; joint: the core, 35 * 188.69 N on an arm of 30 mm.
    CHECK(s.bendingOfWhole == Approx(35 * 188.69 * 30 / (35 * 60000.0)).epsilon(1e-4));

    load.members[0].layerAngle = pi / 2; // a stud printed lying
    CHECK(find(seamStrength(load), "screw pulled apart at its core")->capacity == Approx(50));
}

TEST_CASE("seam: torsion turns a lone screw unless a key beside it holds")
{
    SeamLoad load = faceOf({screw({0, 0})});
    load.forces = forces(100, {0, 0}, {0, 0}, 5000);
    const SeamStrength alone = seamStrength(load);
    REQUIRE(find(alone, "screw turned by the torsion") != nullptr);
    CHECK(find(alone, "screw turned by the torsion")->demand == Approx(5000));
    CHECK(find(alone, "screw turned by the torsion")->capacity ==
          Approx(looseningTorqueNmm(load.members[0].thread, 100, printedThreadFriction)));
    load.members.push_back(key({30, 0}));
    const SeamStrength keyed = seamStrength(load);
    CHECK(find(keyed, "screw turned by the torsion") == nullptr);
    CHECK(find(keyed, "key twisted off") != nullptr);
    CHECK(find(keyed, "screw's thread stripped") != nullptr);
    CHECK(find(keyed, "screw sheared off") == nullptr); // the key locates, the screw pulls
}

TEST_CASE("seam: two dowels share shear and torsion, a lone one leaves the torsion to the glue")
{
    SeamLoad load = faceOf({dowel({-30, 0}), dowel({30, 0})});
    load.forces = forces(0, {0, 60}, {0, 0}, 3000);
    const SeamStrength s = seamStrength(load);
    const double most = 30 + 3000 / 60.0; // V/2 + T / distance
    CHECK(find(s, "dowel sheared off")->demand == Approx(4.0 / 3 * most / (pi * 16)));
    CHECK(find(s, "dowel's bore pressed, mean")->demand == Approx(most / 96));
    CHECK(find(s, "dowel's bore pressed at its mouth")->demand == Approx(4 * most / 96));
    CHECK(find(s, "dowel's bore pressed, mean")->capacity == Approx(50));
    CHECK(find(s, "glue sheared") == nullptr);

    load.members.pop_back();
    const SeamStrength lone = seamStrength(load);
    REQUIRE(find(lone, "glue sheared") != nullptr);
    // The shear acts at the face's middle, 30 mm from the dowel: that twists too.
    CHECK(find(lone, "glue sheared")->demand ==
          Approx((3000 + 60 * 30) / torsionModulusMm3(load.region, lone.section)));
}

TEST_CASE("seam: a dowel of wood gives way before the bore does, one of steel leaves it to the bore")
{
    SeamLoad load = faceOf({dowel({-30, 0}, "beech"), dowel({30, 0}, "beech")});
    load.forces = forces(0, {0, 60}, {0, 0}, 0);
    CHECK(find(seamStrength(load), "dowel's bore pressed, mean")->capacity == Approx(3.776).epsilon(1e-3));
    for (JointMember& m : load.members)
        m.material = findStrength("steel");
    const SeamStrength steel = seamStrength(load);
    CHECK(find(steel, "dowel's bore pressed, mean")->capacity == Approx(50));
    CHECK(find(steel, "dowel sheared off")->capacity == Approx(0.57735 * 235).epsilon(1e-4));
}

TEST_CASE("seam: a square key alone bears shear and torsion")
{
    SeamLoad load = faceOf({key({0, 0})});
    load.forces = forces(0, {80, 60}, {0, 0}, 2000);
    const SeamStrength s = seamStrength(load);
    CHECK(find(s, "key sheared off")->demand == Approx(1.0));
    CHECK(find(s, "key's side pressed")->demand == Approx(0.5));
    CHECK(find(s, "key twisted off")->demand == Approx(2000 / 208.0).epsilon(2e-3));
    CHECK(find(s, "key's corners pressed")->demand == Approx(3.0));
}

TEST_CASE("seam: a dovetail bears pull and shear across its slide, not along it")
{
    JointMember tail = key({0, 0});
    tail.kind = Kind::Dovetail;
    tail.torsionModulusMm3 = 0;
    tail.slideAngle = 0;
    SeamLoad load = faceOf({tail});
    load.forces = forces(500, {0, 60}, {0, 0}, 0);
    const SeamStrength across = seamStrength(load);
    CHECK(find(across, "key sheared off")->demand == Approx(0.6));
    CHECK(find(across, "dovetail's neck pulled apart")->demand == Approx(5));
    CHECK(find(across, "glue sheared") == nullptr);
    CHECK(find(across, "glue pulled open") == nullptr);
    load.forces.shearN = {60, 0};
    const SeamStrength along = seamStrength(load);
    CHECK(find(along, "key sheared off")->demand == Approx(0).margin(1e-9));
    REQUIRE(find(along, "glue sheared") != nullptr);
    CHECK(find(along, "glue sheared")->demand == Approx(1.5 * 60 / 6000));
}

TEST_CASE("seam: four bolts pull, the dowels among them push")
{
    SeamLoad load = faceOf({bolt({40, 25}), bolt({-40, 25}), bolt({-40, -25}), bolt({40, -25})});
    load.forces = forces(0, {0, 100}, {20000, 0}, 0);
    const SeamStrength s = seamStrength(load);
    CHECK(find(s, "bolt pulled")->demand == Approx(200 / 36.6)); // M y / sum(y^2), more than about the edge
    CHECK(find(s, "bolt sheared")->demand == Approx(25 / 36.6));
    CHECK(find(s, "bolt's head's seat pressed")->demand == Approx(200 / (pi / 4 * (169 - 81))));
    CHECK(find(s, "bolt's head punched through")->demand == Approx(200 / (pi * 13 * 8)));
    CHECK(find(s, "insert torn out")->demand == Approx(200 / (pi * 10 * 12)));
    CHECK(find(s, "nut's seat pressed") == nullptr);
    CHECK(s.bendingOfWhole > 0);
    load.members.push_back(dowel({0, 20}));
    load.members.push_back(dowel({0, -20}));
    const SeamStrength located = seamStrength(load);
    CHECK(find(located, "bolt sheared") == nullptr);
    CHECK(find(located, "dowel sheared off") != nullptr);
    load.members[0].nutMm = 12;
    load.members[0].nutHoleMm = 9;
    load.members[0].nutWallMm = 5;
    CHECK(find(seamStrength(load), "nut punched through")->demand > 200 / (pi * 13 * 8));
}

TEST_CASE("seam: the bores weaken the material beside the cut, on the side that they are in")
{
    SeamLoad load = faceOf({dowel({0, 20})});
    load.forces = forces(1000, {0, 0}, {0, 0}, 0);
    const auto pulled = [&](int piece) {
        return find(seamStrength(load), "piece " + std::to_string(piece) + " pulled apart beside the cut")->demand;
    };
    CHECK(pulled(1) == Approx(1000.0 / 6000));
    load.members[0].boreAboveMm = 16;
    CHECK(pulled(1) == Approx(1000.0 / 6000));
    // The hole, 20 above the middle, takes area and moves the centroid down: the pull bends the rest (Steiner).
    const double hole = pi * 64, area = 6000 - hole, down = hole * 20 / area;
    const double i = 100 * 216000 / 12.0 - (pi * 4096 / 4 + hole * 400) - area * down * down;
    CHECK(pulled(2) == Approx(1000 / area + 1000 * down * (30 + down) / i).epsilon(1e-3));
    load.members[0].at = {0, 0};
    CHECK(pulled(2) == Approx(1000 / area).epsilon(2e-4));
    CHECK(pulled(2) > 1000 / area);    // corners on the safe side of the circle
    load.members[0].boreBelowMm = 300; // nothing left
    CHECK(find(seamStrength(load), "piece 1 pulled apart beside the cut")->safety == Approx(0).margin(1e-9));
}

TEST_CASE("seam: forces may be given about any point")
{
    SeamLoad load = faceOf({});
    load.forces = forces(600, {0, 90}, {7000, -3000}, 500);
    const SeamStrength s = seamStrength(load);
    load.forces = load.forces.movedTo({300, -200});
    const SeamStrength moved = seamStrength(load);
    REQUIRE(s.checks.size() == moved.checks.size());
    for (std::size_t k = 0; k < s.checks.size(); ++k)
        CHECK(s.checks[k].demand == Approx(moved.checks[k].demand));
}

TEST_CASE("seam: each side is held against its own layers, the joint against the weaker")
{
    SeamLoad load = faceOf({});
    load.above.material = findStrength("ABS");
    load.above.layerAngle = pi / 2;
    load.forces = forces(600, {0, 0}, {0, 0}, 0);
    const SeamStrength s = seamStrength(load);
    CHECK(find(s, "piece 1 pulled apart beside the cut")->capacity == Approx(35));
    CHECK(find(s, "piece 2 pulled apart beside the cut")->capacity == Approx(28));
    CHECK(find(s, "glue pulled open")->demand == Approx(0.1));
    CHECK(s.bendingOfWhole == Approx(2 / 28.0));
}
