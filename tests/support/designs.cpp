// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/designs.h"

#include "tests/support/shapes.h"

namespace quoin::test {

using namespace core;

namespace {

/// One joint of each kind, nothing in it as it is by default, and a second dowel that is.
std::vector<JointForm> oneOfEachKind()
{
    std::vector<JointForm> all{dowelForm({1, 2}, 6, 9, true, 0.75), dowelForm({-3, 4}, 5, 8)};
    all[0].rod = JointForm::Rod::Wood;
    for (const JointForm::Kind kind : allJointKinds) {
        if (kind == JointForm::Kind::Dowel)
            continue;
        JointForm f = dowelForm({10.5 * static_cast<double>(all.size()), 0.25}, 20, 30);
        f.kind = kind;
        f.angle = 1.25;
        f.carrierAbove = kind != JointForm::Kind::Stud && kind != JointForm::Kind::ClockingKey;
        f.integral = f.kind == JointForm::Kind::Key;
        if (kind == JointForm::Kind::Key) {
            f.section = JointForm::Section::Cross;
            f.taperMm = 0.5;
        }
        if (kind == JointForm::Kind::Screw || kind == JointForm::Kind::Stud)
            f.thread = {kind == JointForm::Kind::Screw, 4, 2, true};
        if (liesAlongFace(f))
            f.lengthMm = 44;
        if (kind == JointForm::Kind::DrawBolt) {
            f.gripMm = 17;
            f.hold = JointForm::Hold::SideNut;
        }
        all.push_back(f);
    }
    return all;
}

PartDesign firstPart()
{
    PartDesign p;
    p.id = 3;
    p.name = "neck \"quoted\" <tag> \xc3\xa4";
    p.sourceFile = "models/l\xe4nge.stl"; // Latin-1: no UTF-8
    p.sourceSha256 = std::string(60, 'a') + "0123";
    p.sourceUnit = mesh::Unit::Inch;
    p.repairs = {"2 holes closed", "1 sheet left out"};
    p.source = std::make_shared<const mesh::Mesh>(exploded(sphere({1, 2, 3}, 10.1, 2)));
    p.scale = 7.0 / 3;
    p.material = "PETG";
    p.quantity = 4;
    p.places = {{}, mesh::Transform::translation({1, 2, 3})};
    p.visible = false;
    p.cuts = {{2, "shoulder", mesh::planeAt({1, 2, 3}, 2.0 / 7), true, {}},
              {5, "", mesh::planeAt({0, 0, -1}, -4), false, {{2, true}}},
              {1, "tip", mesh::planeAt({-1, 0.5, 0}, 1e-9), true, {{2, false}, {5, true}}}};
    p.nextCut = 9;
    p.keepClear = {0, 1, 2, 7, 9, 10, 127};
    p.joints = {false, JointForm::Kind::Key, 3.25, {0.1, 0.125, 0.4, -0.05}, 0.05, false};
    p.machine = "big one";
    p.fits = {{"PETG", "big one", FitProcess::Thread, 0.6, 0.5, 0.4, 0.3, "coupon of May", "2026-05-04"}};
    p.fit = Fit::Snug;
    p.faces = {{2, {1.5, -2.5}, FaceChoice::How::ByHand, {}, {}, {}, oneOfEachKind()},
               {5, {0, 0.1}, FaceChoice::How::Plain, {}, {}, Fit::Press, {}},
               {1, {-7, 0}, FaceChoice::How::Automatic, JointForm::Kind::Stud, 4.5, Fit::Free, {}}};
    p.load = {1.5, {0.5, 0, -2}, {{{1, -2, 3.5}, {0, 4, -50}, 2}, {{7, 8, 9}, {-1, 0, 0}, 0}}, {2, 4}, 0.35, 2.5,
              0,   "A2-70"};
    p.suggestionWords = "3 planes along the axis";
    return p;
}

} // namespace

Design fullDesign()
{
    PartDesign second;
    second.id = 1;
    second.name = "base";
    second.source = std::make_shared<const mesh::Mesh>(cube({0, 0, 0}, 20));
    Design d;
    d.parts = {firstPart(), second};
    d.nextPart = 7;
    d.beds = {{"attic", Bed::Shape::Round, 250, 250, 300.5, 2}, {"cellar", Bed::Shape::Rectangular, 300, 200, 400, 1}};
    d.marginMm = 4.75;
    d.anyRotation = true;
    d.islandsApart = false;
    return d;
}

Design smallDesign()
{
    PartDesign part;
    part.name = "box";
    part.source = std::make_shared<const mesh::Mesh>(cuboid({0, 0, 0}, {120, 90, 80}));
    Design d;
    d.beds = {{"100x100x100", Bed::Shape::Rectangular, 100, 100, 100, 1}};
    return withPart(d, withCut(part, mesh::planeAt({1, 0, 0}, 60)));
}

} // namespace quoin::test
