// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_defaults.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace quoin;
using namespace quoin::core;
using Kind = JointForm::Kind;

namespace {

JointForm of(Kind kind, const JointSpace& space = {})
{
    return jointFor(kind, {0, 0}, space);
}

bool has(const std::vector<double>& sizes, double size)
{
    return std::ranges::any_of(sizes, [&](double s) { return std::abs(s - size) < 1e-9; });
}

} // namespace

TEST_CASE("joint defaults: every kind starts with sizes that exist and fit the room, wherever there is any")
{
    const Kind kind = GENERATE(from_range(allJointKinds));
    const double radius = GENERATE(5.0, 12.0, 30.0, 90.0, 400.0);
    const double depth = GENERATE(15.0, 60.0, 500.0);
    const JointForm form = of(kind, {radius, depth, depth});
    CAPTURE(kindName(kind), radius, depth, form.diameterMm, form.depthMm);
    CHECK(form.kind == kind);
    CHECK(has(sizesOf(form), form.diameterMm));
    const Status sound = checkForm(form);
    CAPTURE(sound ? "" : sound.problem().sentence());
    CHECK(sound.ok());
    if (radius >= 12)
        CHECK(form.diameterMm <= 2 * radius);
    CHECK(form.depthMm > 0);
    if (radius <= 30 || depth >= 60)
        CHECK(form.depthMm <= depth);
    if (kind == Kind::Screw || kind == Kind::Stud) {
        CHECK(dimensionsOf(threadOf(form)));
        CHECK(form.depthMm >= form.thread.leadMm()); // a turn at least is in engagement
    }
    if (kind == Kind::Key) {
        CHECK(form.taperMm > 0);
        CHECK(form.taperMm < form.depthMm / 10);
    }
    if (kind == Kind::Dovetail)
        CHECK(form.lengthMm > form.diameterMm);
    if (kind == Kind::DrawBolt)
        CHECK(form.gripMm >= form.diameterMm);
}

TEST_CASE("joint defaults: more room means no smaller a joint")
{
    const Kind kind = GENERATE(from_range(allJointKinds));
    double before = 0;
    for (double radius = 4; radius < 300; radius *= 1.3) {
        const double now = of(kind, {radius, 400, 400}).diameterMm;
        CAPTURE(kindName(kind), radius);
        CHECK(now >= before);
        before = now;
    }
    CHECK(before >= 10); // the largest insert
}

TEST_CASE("joint defaults: another kind keeps its place, its angle, the carrier and the thread's hand")
{
    JointForm screw = changedTo(dowelForm({3, -4}, 8, 12, true, 0.7), Kind::Screw, {40, 100, 100});
    CHECK(screw.at == quoin::mesh::Vec2{3, -4});
    CHECK(screw.angle == 0.7);
    CHECK_FALSE(screw.keyed);
    CHECK(screw.diameterMm == 50); // 1.4 times 40 is 56: the size below it
    CHECK(screw.thread.pitchMm == 8);
    screw.carrierAbove = true;
    screw.thread.leftHand = true;
    screw.thread.starts = 2;
    const JointForm stud = changedTo(screw, Kind::Stud, {40, 100, 100});
    CHECK(stud.carrierAbove);
    CHECK(stud.thread.leftHand);
    CHECK(stud.thread.starts == 2);
    CHECK(changedTo(stud, Kind::Stud, {1, 1, 1}) == stud);
}

TEST_CASE("joint defaults: what is grown on one piece goes by the room in the other")
{
    const JointSpace shallowAbove{60, 200, 30};
    JointForm form;
    const JointForm below = changedTo(form, Kind::Screw, shallowAbove);
    CHECK(below.depthMm <= 30);
    form.carrierAbove = true;
    const JointForm above = changedTo(form, Kind::Screw, shallowAbove);
    CHECK(above.depthMm > 30);
    CHECK(changedTo(form, Kind::Stud, shallowAbove).depthMm <= 30); // reaches into both
}

TEST_CASE("joint defaults: a thread's pitch goes with its diameter, unless it is the maker's own")
{
    // ISO 2902: Tr 40 has 10, 7 and 3 mm, 7 the usual one; Tr 50 has 12, 8 and 3; Tr 44 has 12, 7 and 3.
    JointForm form = withProfile(of(Kind::Screw, {29, 100, 100}), true);
    CHECK(form.diameterMm == 40);
    CHECK(sizeName(form) == "Tr 40x7");
    CHECK(pitchesOf(form) == std::vector<double>{3, 7, 10});
    CHECK(sizeName(withDiameter(form, 50)) == "Tr 50x8");
    form.thread.pitchMm = 3;
    CHECK(sizeName(withDiameter(form, 50)) == "Tr 50x3");
    form.thread.pitchMm = 10;
    CHECK(sizeName(withDiameter(form, 44)) == "Tr 44x7");
    form.thread.starts = 2;
    CHECK(sizeName(form) == "Tr 40x20(P10)");
    CHECK(withDiameter(form, 40).thread.starts == 2);
    const JointForm printable = withProfile(form, false);
    CHECK(printable.diameterMm == 40);
    CHECK(printable.thread.pitchMm == printableThread(40).pitchMm);
    CHECK(has(pitchesOf(printable), printable.thread.pitchMm));
    CHECK(withProfile(printable, false) == printable);
}

TEST_CASE("joint defaults: every size and pitch offered makes a thread")
{
    for (const bool trapezoidal : {false, true}) {
        JointForm form = withProfile(of(Kind::Stud), trapezoidal);
        for (const double d : sizesOf(form)) {
            const JointForm at = withDiameter(form, d);
            for (const double pitch : pitchesOf(at)) {
                Thread thread = threadOf(at);
                thread.pitchMm = pitch;
                CAPTURE(designation(thread));
                CHECK(dimensionsOf(thread));
            }
        }
    }
}

TEST_CASE("joint defaults: starts that a thinner core can't have are dropped")
{
    JointForm form = of(Kind::Screw, {100, 200, 200});
    form.thread.starts = 4;
    REQUIRE(dimensionsOf(threadOf(form)));
    const JointForm thin = withDiameter(form, 6); // 12 mm of lead round a core of 4 mm: 43 degrees
    CHECK(thin.thread.starts < 4);
    CHECK(dimensionsOf(threadOf(thin)));
}

TEST_CASE("joint defaults: bolts are metric, an insert's depth goes with the size")
{
    JointForm bolt = of(Kind::DrawBolt, {7, 100, 100});
    CHECK(sizeName(bolt) == "M4"); // 0.6 times 7 is 4.2
    CHECK(bolt.hold == JointForm::Hold::Insert);
    CHECK(withDiameter(bolt, 10).depthMm > bolt.depthMm);
    CHECK_FALSE(has(sizesOf(bolt), 12)); // no insert is that large
    bolt = withHold(bolt, JointForm::Hold::SideNut);
    CHECK(checkForm(bolt).ok());
    bolt.depthMm = 40;
    CHECK(withDiameter(bolt, 12).depthMm == 40);
    CHECK(withHold(bolt, JointForm::Hold::SideNut) == bolt);
    CHECK(has(sizesOf(bolt), 20));
    const JointForm small = withHold(withDiameter(bolt, 20), JointForm::Hold::Insert);
    CHECK(small.diameterMm == 10);
    CHECK(checkForm(small).ok());
    CHECK_FALSE(checkForm(withDiameter(small, 12)).ok());
}

TEST_CASE("joint defaults: a bought rod is round and of a size that is sold")
{
    const JointForm pin = dowelForm({0, 0}, 27, 30, true);
    CHECK(checkForm(pin).ok());
    const JointForm wood = withRod(pin, JointForm::Rod::Wood), steel = withRod(pin, JointForm::Rod::Steel);
    CHECK(wood.diameterMm == 28);
    CHECK(steel.diameterMm == 25);
    CHECK_FALSE(wood.keyed);
    CHECK(checkForm(wood).ok());
    CHECK(checkForm(steel).ok());
    CHECK(withRod(pin, JointForm::Rod::Printed) == pin);
}

TEST_CASE("joint defaults: what can't be made is refused in words")
{
    JointForm tail = of(Kind::Dovetail);
    tail.lengthMm = 2;
    CHECK(checkForm(tail).problem().sentence().find("long") != std::string::npos);
    JointForm key = of(Kind::Key);
    key.taperMm = key.diameterMm;
    CHECK_FALSE(checkForm(key).ok());
    JointForm screw = of(Kind::Screw);
    screw.thread.starts = 5;
    CHECK_FALSE(checkForm(screw).ok());
    CHECK_FALSE(checkForm(dowelForm({0, 0}, 8, 1)).ok()); // its chamfers would meet
}

TEST_CASE("joint defaults: a depth follows the diameter only while it is the usual one")
{
    JointForm dowel = dowelForm({0, 0}, 8, 12); // 1.5 diameters: the usual one
    CHECK(withDiameter(dowel, 10).depthMm == 15);
    dowel.depthMm = 20;
    CHECK(withDiameter(dowel, 10).depthMm == 20);
    CHECK(withDiameter(dowel, 100).depthMm == 25); // a quarter of the diameter, or its chamfers meet
}

TEST_CASE("joint defaults: turns to the seat")
{
    JointForm form = of(Kind::Screw);
    form.depthMm = 32;
    form.thread.pitchMm = 4;
    CHECK(turnsOf(form) == 8);
    form.thread.starts = 2;
    CHECK(turnsOf(form) == 4);
}
