// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/measure_tool.h"

#include "mesh/primitives.h"
#include "tests/support/shapes.h"
#include "tests/ui/view_fixture.h"
#include "ui/select_tool.h"

#include <QClipboard>

#include <catch2/catch.hpp>

using namespace quoin;
using Kind = ui::MeasureTool::Kind;
using mesh::Vec3;

namespace {

struct MeasureFixture : test::ViewFixture {
    ui::MeasureTool tool;
    QStringList said, refusals;

    MeasureFixture()
    {
        QObject::connect(&tool, &ui::MeasureTool::measured, &tool, [this](const QString& text) { said << text; });
        QObject::connect(&tool, &ui::MeasureTool::refused, &tool, [this](const QString& why) { refusals << why; });
        view.setTool(&tool);
    }
};

} // namespace

TEST_CASE_METHOD(MeasureFixture, "measure tool: distance between corners that the pointer is near to")
{
    put({test::cuboid({0, 0, 0}, {120, 70, 40})});
    move(pixelOf({0, 0, 40}) + QPoint(3, -2));
    click(pixelOf({0, 0, 40}) + QPoint(3, -2));
    CHECK(said.isEmpty());
    click(pixelOf({120, 0, 40}) + QPoint(-2, -3));
    REQUIRE(said.size() == 1);
    CHECK(said[0] == "120.0 mm");
    CHECK(tool.results()[0].picks[1].snapped == ui::SnapPlace::Kind::Corner);
    // From the middle of an edge to the middle of another.
    click(pixelOf({60, 0, 40}) + QPoint(0, -4));
    click(pixelOf({60, 70, 40}) + QPoint(0, 4));
    REQUIRE(said.size() == 2);
    CHECK(said[1] == "70.0 mm");
    shot("measure_distance");
}

TEST_CASE_METHOD(MeasureFixture, "measure tool: dragging still turns the view and measures nothing")
{
    put({test::cube({0, 0, 0}, 60)});
    const double azimuth = view.camera().azimuth;
    drag(pixelOf({30, 0, 30}), pixelOf({30, 0, 30}) + QPoint(60, 0));
    CHECK(view.camera().azimuth != azimuth);
    CHECK(tool.picks().empty());
}

TEST_CASE_METHOD(MeasureFixture, "measure tool: angles from three points and between faces")
{
    put({test::cuboid({0, 0, 0}, {100, 100, 40})});
    tool.setKind(Kind::Angle);
    click(pixelOf({100, 0, 40}) + QPoint(-2, -2));
    click(pixelOf({0, 0, 40}) + QPoint(3, 0));
    click(pixelOf({100, 100, 40}) + QPoint(-3, 1));
    REQUIRE(said.size() == 1);
    CHECK(said[0] == "45.0°");
    tool.setKind(Kind::FaceAngle);
    click(pixelOf({50, 50, 40}));
    click(pixelOf({50, 0, 20}));
    REQUIRE(said.size() == 2);
    CHECK(said[1] == "90.0°");
    shot("measure_angles");
}

TEST_CASE_METHOD(MeasureFixture, "measure tool: radius through three points and of a round")
{
    put({mesh::cylinder(30, 80, 64, 8)});
    tool.setKind(Kind::ThreePoints);
    const auto rim = [](int corner) {
        const double angle = 2 * 3.14159265358979 * corner / 64;
        return Vec3{30 * std::cos(angle), 30 * std::sin(angle), 80};
    };
    for (const int corner : {0, 50, 56})
        click(pixelOf(rim(corner)) + QPoint(0, -1));
    REQUIRE(said.size() == 1);
    CHECK(said[0] == "R 30.0 mm");
    tool.setKind(Kind::Round);
    click(pixelOf({30 * std::cos(-0.8), 30 * std::sin(-0.8), 40}));
    REQUIRE(said.size() == 2);
    CHECK(said[1] == "R 30.0 mm (round, fits within 0.01 mm)");
    shot("measure_radius");
    click(pixelOf({0, 0, 80}));
    CHECK(said.size() == 2);
    REQUIRE(refusals.size() == 1);
    CHECK(refusals[0].contains("flat"));
}

TEST_CASE_METHOD(MeasureFixture, "measure tool: a scaled body is measured as large as it is shown")
{
    put({mesh::cylinder(3, 8, 64, 8)}, mesh::Transform::scaling(50));
    tool.setKind(Kind::Round);
    click(pixelOf({150 * std::cos(-0.8), 150 * std::sin(-0.8), 200}));
    REQUIRE(said.size() == 1);
    CHECK(said[0].startsWith("R 150.0 mm"));
}

TEST_CASE_METHOD(MeasureFixture,
                 "measure tool: Delete takes back, Escape clears, Ctrl+C copies, Enter takes the middle")
{
    put({test::cuboid({0, 0, 0}, {120, 70, 40})});
    click(pixelOf({0, 0, 40}) + QPoint(3, -2));
    QTest::keyClick(&view, Qt::Key_Delete);
    CHECK(tool.picks().empty());
    for (int i = 0; i < 2; ++i) {
        click(pixelOf({0, 0, 40}) + QPoint(3, -2));
        click(pixelOf({120, 0, 40}) + QPoint(-2, -3));
    }
    REQUIRE(tool.results().size() == 2);
    QTest::keyClick(&view, Qt::Key_C, Qt::ControlModifier);
    CHECK(QGuiApplication::clipboard()->text() == "120.0 mm\n120.0 mm");
    QTest::keyClick(&view, Qt::Key_Delete);
    CHECK(tool.results().size() == 1);
    QTest::keyClick(&view, Qt::Key_Return);
    CHECK(tool.picks().size() == 1);
    QTest::keyClick(&view, Qt::Key_Escape);
    CHECK(tool.picks().empty());
    CHECK(tool.results().size() == 1);
    QTest::keyClick(&view, Qt::Key_Escape);
    CHECK(tool.results().empty());
}

TEST_CASE_METHOD(MeasureFixture, "measure tool: a click on the ground and points on a line are refused in words")
{
    put({test::cuboid({0, 0, 0}, {120, 70, 40})});
    click({3, 3});
    REQUIRE(refusals.size() == 1);
    tool.setKind(Kind::ThreePoints);
    click(pixelOf({0, 0, 40}) + QPoint(3, -2));
    click(pixelOf({60, 0, 40}) + QPoint(0, -4));
    click(pixelOf({120, 0, 40}) + QPoint(-2, -3));
    REQUIRE(refusals.size() == 2);
    CHECK(refusals[1].contains("line"));
    CHECK(tool.results().empty());
    CHECK(tool.hint() == refusals[1]);
}

TEST_CASE_METHOD(test::ViewFixture, "select tool: clicks pick, hovering tells once, keys step")
{
    put({test::cube({0, 0, 0}, 40), test::cube({60, 0, 0}, 40)});
    ui::SelectTool tool;
    view.setTool(&tool);
    std::vector<std::optional<ui::ViewHit>> picked;
    std::vector<Qt::KeyboardModifiers> keys;
    std::vector<std::optional<std::size_t>> over;
    int steps = 0;
    QObject::connect(&tool, &ui::SelectTool::picked, &view, [&](const auto& hit, Qt::KeyboardModifiers modifiers) {
        picked.push_back(hit);
        keys.push_back(modifiers);
    });
    QObject::connect(&tool, &ui::SelectTool::bodyHovered, &view, [&](auto body) { over.push_back(body); });
    QObject::connect(&tool, &ui::SelectTool::stepWanted, &view, [&](int by) { steps += by; });
    click(pixelOf({80, 20, 40}), Qt::ControlModifier);
    REQUIRE(picked.size() == 1);
    CHECK(picked[0]->body == 1);
    CHECK(keys[0] == Qt::ControlModifier);
    move(pixelOf({20, 20, 40}));
    move(pixelOf({22, 20, 40}));
    move({3, 3});
    REQUIRE(over.size() >= 2);
    CHECK(over[over.size() - 2] == 0u);
    CHECK_FALSE(over.back());
    QTest::keyClick(&view, Qt::Key_PageDown);
    QTest::keyClick(&view, Qt::Key_PageDown);
    QTest::keyClick(&view, Qt::Key_PageUp);
    CHECK(steps == 1);
    QTest::keyClick(&view, Qt::Key_Escape);
    CHECK_FALSE(picked.back());
}
