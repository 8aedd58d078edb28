// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint_tool.h"

#include "mesh/primitives.h"
#include "tests/support/shapes.h"
#include "tests/ui/view_fixture.h"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace quoin;
using mesh::Index;
using mesh::Vec3;

namespace {

struct PaintFixture : test::ViewFixture {
    struct Stroke {
        std::vector<Index> triangles;
        bool mark;
        std::size_t body;
    };
    ui::PaintTool tool;
    std::vector<Stroke> strokes;
    std::vector<Index> grown;

    PaintFixture()
    {
        QObject::connect(&tool, &ui::PaintTool::stroke, &tool,
                         [this](const auto& triangles, bool mark, std::size_t body) {
                             strokes.push_back({triangles, mark, body});
                         });
        QObject::connect(&tool, &ui::PaintTool::strokeGrown, &tool, [this](const auto& added, bool, std::size_t) {
            grown.insert(grown.end(), added.begin(), added.end());
        });
        view.setTool(&tool);
    }
};

} // namespace

TEST_CASE_METHOD(PaintFixture,
                 "paint tool: a stroke marks what the brush went over, without gaps, and doesn't turn the view")
{
    put({mesh::icosphere(100, 5)});
    view.lookFrom(ui::StandardView::Front, false);
    tool.setRadiusMm(8);
    const auto before = view.camera();
    // Two events only: a quick hand.
    const QPoint from = pixelOf({-60, -80, 0}), to = pixelOf({60, -80, 0});
    press(from);
    move(to, Qt::LeftButton);
    const QImage picture = shot("paint_stroke");
    release(to);
    CHECK(view.camera() == before);
    REQUIRE(strokes.size() == 1);
    CHECK(strokes[0].mark);
    CHECK(std::is_sorted(strokes[0].triangles.begin(), strokes[0].triangles.end()));
    std::sort(grown.begin(), grown.end());
    CHECK(grown == strokes[0].triangles);
    const auto& ball = *view.pickBodies()[0].mesh;
    for (const double x : {-50.0, -20.0, 0.0, 10.0, 45.0}) {
        const Vec3 on{x, -std::sqrt(10000 - x * x), 0};
        const auto hit = view.hitAt(*view.camera().project(on));
        REQUIRE(hit);
        CHECK(std::binary_search(strokes[0].triangles.begin(), strokes[0].triangles.end(), hit->triangle));
    }
    // Nothing far from the line is marked: the brush, a triangle (7 mm) and a pixel.
    for (const Index t : strokes[0].triangles)
        for (int k = 0; k < 3; ++k)
            CHECK(std::abs(ball.corner(t, k).z) < 8 + 7 + 1);
}

TEST_CASE_METHOD(PaintFixture, "paint tool: Shift takes marks away, the setting turns it round")
{
    put({mesh::icosphere(100, 4)});
    const QPoint at = pixelOf({57, -57, 57});
    drag(at, at + QPoint(20, 0), Qt::LeftButton, Qt::ShiftModifier);
    tool.setMarking(false);
    drag(at, at + QPoint(20, 0));
    drag(at, at + QPoint(20, 0), Qt::LeftButton, Qt::AltModifier);
    REQUIRE(strokes.size() == 3);
    CHECK_FALSE(strokes[0].mark);
    CHECK_FALSE(strokes[1].mark);
    CHECK(strokes[2].mark);
}

TEST_CASE_METHOD(PaintFixture, "paint tool: filling takes the smooth face up to its edges")
{
    put({mesh::cylinder(40, 100, 48, 6)});
    tool.setMode(ui::PaintTool::Mode::Fill);
    click(pixelOf({0, 0, 100}));
    REQUIRE(strokes.size() == 1);
    CHECK(strokes[0].triangles.size() == 48);
    click(pixelOf({28, -28, 50}));
    REQUIRE(strokes.size() == 2);
    CHECK(strokes[1].triangles.size() == 48 * 6 * 2);
}

TEST_CASE_METHOD(PaintFixture, "paint tool: the radius is in the scene's millimetres on a scaled body")
{
    put({mesh::icosphere(10, 5)}, mesh::Transform::scaling(10));
    tool.setRadiusMm(30);
    QTest::keyClick(&view, Qt::Key_Return);
    REQUIRE(strokes.size() == 1);
    const auto& ball = *view.pickBodies()[0].mesh;
    double area = 0;
    for (const Index t : strokes[0].triangles)
        area += length(cross(ball.corner(t, 1) - ball.corner(t, 0), ball.corner(t, 2) - ball.corner(t, 0))) / 2;
    // Archimedes: pi c^2 within a chord of c, and a rim of triangles.
    CHECK(area > 3.14159 * 9);
    CHECK(area < 3.14159 * 9 * 1.6);
}

TEST_CASE_METHOD(PaintFixture, "paint tool: brackets and Ctrl with the wheel change the radius; the bare wheel zooms")
{
    put({mesh::icosphere(100, 3)});
    tool.setRadiusMm(10);
    QTest::keyClick(&view, Qt::Key_BracketRight);
    CHECK(tool.radiusMm() == Approx(12));
    QTest::keyClick(&view, Qt::Key_BracketLeft);
    CHECK(tool.radiusMm() == Approx(10));
    const auto before = view.camera();
    wheel({400, 300}, 2, Qt::ControlModifier);
    CHECK(tool.radiusMm() == Approx(14.4));
    CHECK(view.camera() == before);
    wheel({400, 300}, 1);
    CHECK(view.camera().distanceMm < before.distanceMm);
    tool.setRadiusMm(-5);
    CHECK(tool.radiusMm() == ui::PaintTool::leastRadiusMm);
}

TEST_CASE_METHOD(PaintFixture, "paint tool: a drag beside the model turns; Escape drops a stroke; two bodies don't mix")
{
    put({mesh::icosphere(50, 4), test::moved(mesh::icosphere(50, 4), {105, 0, 0})});
    const auto before = view.camera();
    drag({4, 4}, {60, 30});
    CHECK(view.camera().azimuth != before.azimuth);
    view.lookFrom(ui::StandardView::Front, false);
    const QPoint from = pixelOf({30, -40, 0}), to = pixelOf({75, -40, 0});
    press(from);
    move(to, Qt::LeftButton);
    QTest::keyClick(&view, Qt::Key_Escape);
    release(to);
    CHECK(strokes.empty());
    drag(from, to);
    REQUIRE(strokes.size() == 1);
    CHECK(strokes[0].body == 0);
}
