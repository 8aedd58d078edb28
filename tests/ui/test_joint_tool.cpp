// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/joint_tool.h"

#include "tests/support/shapes.h"
#include "tests/ui/view_fixture.h"

#include <catch2/catch.hpp>

using namespace quoin;
using mesh::Vec2;
using mesh::Vec3;

namespace {

/// A face at z = 60 of 100 by 80 mm; axes may stand 15 mm from its outline.
struct JointFixture : test::ViewFixture {
    ui::JointTool tool;
    mesh::PlaneFrame frame = mesh::frameOf({{0, 0, 1}, 60});
    mesh::Region allowed;
    std::vector<int> chosen;
    int cleared = 0;
    std::vector<Vec2> moves, ends;
    std::vector<std::optional<Vec2>> added;
    std::vector<int> removed;
    std::vector<double> turned;

    JointFixture()
    {
        put({test::cuboid({0, 0, 0}, {100, 80, 60})});
        mesh::Loop loop;
        for (const Vec3 p : {Vec3{15, 15, 60}, Vec3{85, 15, 60}, Vec3{85, 65, 60}, Vec3{15, 65, 60}})
            loop.push_back(frame.flat(p));
        allowed = {loop};
        tool.setAllowed(allowed, frame);
        tool.setJoints({{7, {30, 40, 60}, 8, frame, true, {}},
                        {9, {92, 40, 60}, 8, frame, false, "Too near to the outline by 7.0 mm"}});
        tool.setVerdict([this](int, Vec2 at) {
            return mesh::contains(allowed, at) ? QString() : QStringLiteral("Too near to the outline");
        });
        QObject::connect(&tool, &ui::JointTool::selected, &tool, [this](int id) { chosen.push_back(id); });
        QObject::connect(&tool, &ui::JointTool::deselected, &tool, [this] { ++cleared; });
        QObject::connect(&tool, &ui::JointTool::moved, &tool, [this](int, Vec2 at) { moves.push_back(at); });
        QObject::connect(&tool, &ui::JointTool::moveFinished, &tool, [this](int, Vec2 at) { ends.push_back(at); });
        QObject::connect(&tool, &ui::JointTool::addWanted, &tool,
                         [this](std::optional<Vec2> at) { added.push_back(at); });
        QObject::connect(&tool, &ui::JointTool::removeWanted, &tool, [this](int id) { removed.push_back(id); });
        QObject::connect(&tool, &ui::JointTool::turnWanted, &tool,
                         [this](int, double radians) { turned.push_back(radians); });
        view.setTool(&tool);
    }
};

} // namespace

TEST_CASE_METHOD(JointFixture, "joint tool: a click chooses, and moves nothing")
{
    click(pixelOf({33, 42, 60}));
    CHECK(chosen == std::vector<int>{7});
    CHECK(moves.empty());
    CHECK(ends.empty());
    click({4, 4});
    CHECK(cleared == 1);
    CHECK_FALSE(tool.selectedId());
}

TEST_CASE_METHOD(JointFixture, "joint tool: a drag moves on the face, keeping where it was taken hold of")
{
    const QPoint from = pixelOf({33, 42, 60}), to = pixelOf({63, 32, 60});
    const auto camera = view.camera();
    drag(from, to);
    CHECK(view.camera() == camera);
    REQUIRE(ends.size() == 1);
    CHECK(moves.size() > 3);
    const Vec3 at = frame.space(ends[0]);
    CHECK(length(at - Vec3{60, 30, 60}) < 0.6);
}

TEST_CASE_METHOD(JointFixture, "joint tool: a bad place is said while dragging")
{
    const QPoint from = pixelOf({30, 40, 60});
    press(from);
    move(pixelOf({30, 20, 60}), Qt::LeftButton);
    const QImage good = shot("joint_good");
    move(pixelOf({30, 8, 60}), Qt::LeftButton);
    const QImage bad = shot("joint_bad");
    CHECK(good != bad);
    QTest::keyClick(&view, Qt::Key_Escape);
    REQUIRE_FALSE(moves.empty());
    CHECK(length(frame.space(moves.back()) - Vec3{30, 40, 60}) < 1e-9);
    release(pixelOf({30, 8, 60}));
    CHECK(ends.empty());
}

TEST_CASE_METHOD(JointFixture, "joint tool: keys go from joint to joint, move by 1 and 0.1 mm, and let go")
{
    QTest::keyClick(&view, Qt::Key_N);
    QTest::keyClick(&view, Qt::Key_N);
    QTest::keyClick(&view, Qt::Key_N);
    QTest::keyClick(&view, Qt::Key_N, Qt::ShiftModifier);
    CHECK(chosen == std::vector<int>{7, 9, 7, 9});
    tool.setSelected(7);
    view.lookFrom(ui::StandardView::Top, false);
    QTest::keyClick(&view, Qt::Key_Right);
    CHECK(length(frame.space(ends.back()) - Vec3{31, 40, 60}) < 1e-9);
    QTest::keyClick(&view, Qt::Key_Up, Qt::AltModifier);
    CHECK(length(frame.space(ends.back()) - Vec3{30, 40.1, 60}) < 1e-9);
    QTest::keyClick(&view, Qt::Key_Escape);
    CHECK_FALSE(tool.selectedId());
    const double azimuth = view.camera().azimuth;
    key(Qt::Key_Right);
    CHECK(view.camera().azimuth != azimuth);
}

TEST_CASE_METHOD(JointFixture, "joint tool: a joint that goes away while it is dragged ends the drag")
{
    const QPoint from = pixelOf({30, 40, 60});
    press(from);
    move(from + QPoint(20, 0), Qt::LeftButton);
    tool.setJoints({});
    move(from + QPoint(40, 0), Qt::LeftButton);
    release(from + QPoint(40, 0));
    CHECK(ends.empty());
    CHECK_FALSE(tool.selectedId());
}

TEST_CASE_METHOD(JointFixture, "joint tool: a face seen edge on can't be dragged on, and nothing leaps")
{
    view.lookFrom(ui::StandardView::Front, false);
    ui::OrbitCamera camera = view.camera();
    camera.target.z = 60;
    view.setCamera(camera, false);
    const QPoint from = pixelOf({30, 40, 60});
    drag(from, from + QPoint(60, 0));
    CHECK(ends.empty());
}

TEST_CASE_METHOD(JointFixture, "joint tool: Ctrl and a click wish for a joint there, on the face alone")
{
    QTest::mouseClick(&view, Qt::LeftButton, Qt::ControlModifier, pixelOf({60, 20, 60}));
    CHECK(added.empty()); // no face was given yet
    mesh::Loop outline;
    for (const Vec3 p : {Vec3{0, 0, 60}, Vec3{100, 0, 60}, Vec3{100, 80, 60}, Vec3{0, 80, 60}})
        outline.push_back(frame.flat(p));
    tool.setFace({outline}, frame);
    QTest::mouseClick(&view, Qt::LeftButton, Qt::ControlModifier, pixelOf({60, 20, 60}));
    REQUIRE(added.size() == 1);
    REQUIRE(added[0]);
    CHECK(length(frame.space(*added[0]) - Vec3{60, 20, 60}) < 0.6);
    QTest::mouseClick(&view, Qt::LeftButton, Qt::ControlModifier, pixelOf({108, 20, 60}));
    CHECK(added.size() == 1);
    CHECK(tool.hint().contains("Ctrl and click"));
    QTest::keyClick(&view, Qt::Key_Insert);
    REQUIRE(added.size() == 2);
    CHECK_FALSE(added[1]);
}

TEST_CASE_METHOD(JointFixture, "joint tool: keys turn and remove the chosen joint, and none while none is chosen")
{
    QTest::keyClick(&view, Qt::Key_R);
    QTest::keyClick(&view, Qt::Key_Delete);
    CHECK(turned.empty());
    CHECK(removed.empty());
    tool.setSelected(9);
    QTest::keyClick(&view, Qt::Key_R);
    QTest::keyClick(&view, Qt::Key_R, Qt::ShiftModifier);
    QTest::keyClick(&view, Qt::Key_R, Qt::AltModifier);
    REQUIRE(turned.size() == 3);
    CHECK(turned[0] == Approx(M_PI / 12));
    CHECK(turned[1] == Approx(-M_PI / 12));
    CHECK(turned[2] == Approx(M_PI / 180));
    QTest::keyClick(&view, Qt::Key_Delete);
    CHECK(removed == std::vector<int>{9});
}

TEST_CASE_METHOD(JointFixture, "joint tool: which way a joint points is drawn")
{
    const QImage round = shot("joint_round");
    tool.setJoints({{7, {30, 40, 60}, 8, frame, true, {}, Vec2{0, 30}, 6}});
    CHECK(shot("joint_points") != round);
}
