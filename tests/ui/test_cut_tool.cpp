// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/cut_tool.h"

#include "tests/support/shapes.h"
#include "tests/ui/view_fixture.h"

#include <catch2/catch.hpp>
#include <numbers>

using namespace quoin;
using Grip = ui::CutTool::Grip;
using mesh::Plane;
using mesh::Vec3;

namespace {

constexpr double degree = std::numbers::pi / 180;

struct CutFixture : test::ViewFixture {
    ui::CutTool tool;
    int started = 0;
    std::vector<Plane> live, finished;

    CutFixture()
    {
        put({test::cuboid({0, 0, 0}, {100, 80, 120})});
        QObject::connect(&tool, &ui::CutTool::dragStarted, &tool, [this] { ++started; });
        QObject::connect(&tool, &ui::CutTool::planeMoved, &tool, [this](const Plane& p) { live.push_back(p); });
        QObject::connect(&tool, &ui::CutTool::dragFinished, &tool, [this](const Plane& p) { finished.push_back(p); });
        view.setTool(&tool);
        setPlane({{0, 0, 1}, 60});
    }
    void setPlane(const Plane& plane)
    {
        mesh::Box3 box;
        box.add({0, 0, 0});
        box.add({100, 80, 120});
        tool.setPlane(plane, {50, 40, 60}, box);
    }
    void free() { tool.setSnaps({0, {}, false, {}}); }
    QPoint grip(Grip g) const { return pixel(tool.gripPlace(g, view.camera()).value()); }
};

} // namespace

TEST_CASE_METHOD(CutFixture, "cut tool: dragging the arrow moves the plane with the pointer")
{
    free();
    const QPoint from = grip(Grip::Arrow);
    const QPoint to = from + (pixelOf({50, 40, 85}) - pixelOf({50, 40, 60}));
    const auto camera = view.camera();
    drag(from, to);
    CHECK(view.camera() == camera);
    CHECK(started == 1);
    REQUIRE(finished.size() == 1);
    REQUIRE_FALSE(live.empty());
    CHECK(finished[0].normal == Vec3{0, 0, 1});
    CHECK(finished[0].offset == Approx(85).margin(3));
    CHECK(live.back().offset == finished[0].offset);
    CHECK(live.size() > 4);
    CHECK(tool.centre().z == Approx(finished[0].offset));
}

TEST_CASE_METHOD(CutFixture, "cut tool: snaps to steps and to named places; Ctrl frees it")
{
    tool.setSnaps({5, {{72.3, "middle"}}, true, {}});
    const QPoint from = grip(Grip::Arrow);
    const auto to = [&](double mm) { return from + (pixelOf({50, 40, 60 + mm}) - pixelOf({50, 40, 60})); };
    press(from);
    move(to(21), Qt::LeftButton);
    CHECK(std::remainder(tool.plane()->offset, 5) == Approx(0).margin(1e-9));
    CHECK(tool.plane()->offset > 75);
    move(to(12), Qt::LeftButton);
    CHECK(tool.plane()->offset == 72.3);
    shot("cut_arrow_snapped");
    move(to(12), Qt::LeftButton, Qt::ControlModifier);
    CHECK(tool.plane()->offset != 72.3);
    CHECK(tool.plane()->offset == Approx(72).margin(2));
    release(to(12));
}

TEST_CASE_METHOD(CutFixture, "cut tool: dragging an arc tilts about the handle's middle")
{
    free();
    for (const Grip arc : {Grip::ArcU, Grip::ArcV}) {
        setPlane({{0, 0, 1}, 60});
        const Vec3 centre = tool.centre();
        const QPoint from = grip(arc);
        drag(from, from + QPoint(25, 20));
        REQUIRE_FALSE(finished.empty());
        const Plane& p = finished.back();
        CHECK(length(p.normal) == Approx(1));
        CHECK(p.normal.z < std::cos(4 * degree));
        CHECK(p.distance(centre) == Approx(0).margin(1e-9));
    }
    CHECK(finished.size() == 2);
    // About different axes.
    CHECK(std::abs(dot(normalized(Vec3{live.front().normal.x, live.front().normal.y, 0}),
                       normalized(Vec3{live.back().normal.x, live.back().normal.y, 0}))) < 0.05);
}

TEST_CASE_METHOD(CutFixture, "cut tool: tilting snaps to 15 degree marks and to given normals")
{
    const auto frame = mesh::frameOf({{0, 0, 1}, 60});
    const Vec3 side = cross(frame.u, frame.normal);
    const Vec3 one = std::cos(21 * degree) * frame.normal + std::sin(21 * degree) * side;
    const Vec3 other = std::cos(21 * degree) * frame.normal - std::sin(21 * degree) * side;
    tool.setSnaps({1, {}, true, {{one, "flat face"}, {-other, "flat face"}}});
    const QPoint from = grip(Grip::ArcU);
    press(from);
    bool marked = false;
    for (int i = 1; i < 120; ++i) {
        move(from + QPoint(i, i / 2), Qt::LeftButton);
        const double tilt = ui::anglesOf(*tool.plane()).tiltDegrees;
        marked = marked || std::abs(tilt - 15) < 1e-9;
    }
    shot("cut_tilt");
    release(from + QPoint(120, 60));
    CHECK(marked);
    bool faced = false;
    for (const Plane& p : live)
        faced = faced || length(p.normal - one) < 1e-12 || length(p.normal - other) < 1e-12;
    CHECK(faced);
}

TEST_CASE_METHOD(CutFixture, "cut tool: seen along the normal the handle still works")
{
    free();
    view.lookFrom(ui::StandardView::Top, false);
    const QPoint middle = pixelOf(tool.centre());
    CHECK(tool.gripAt(place(middle), view.camera()) == Grip::Arrow);
    shot("cut_end_on");
    drag(middle, middle + QPoint(0, -50));
    REQUIRE(finished.size() == 1);
    const double mm = view.camera().mmPerPixel({50, 40, 60});
    CHECK(finished[0].offset == Approx(60 + 50 * mm).epsilon(0.02));
}

TEST_CASE_METHOD(CutFixture, "cut tool: Escape puts the plane back")
{
    free();
    const QPoint from = grip(Grip::Arrow);
    press(from);
    move(from + QPoint(0, -60), Qt::LeftButton);
    CHECK(tool.plane()->offset > 70);
    QTest::keyClick(&view, Qt::Key_Escape);
    CHECK(tool.plane()->offset == 60);
    REQUIRE(finished.size() == 1);
    CHECK(finished[0].offset == 60);
    move(from + QPoint(0, -90), Qt::LeftButton);
    release(from + QPoint(0, -90));
    CHECK(finished.size() == 1);
    CHECK(tool.plane()->offset == 60);
}

TEST_CASE_METHOD(CutFixture, "cut tool: keys move by a step and tilt by a degree, with the same signals")
{
    tool.setSnaps({5, {}, true, {}});
    QTest::keyClick(&view, Qt::Key_Up);
    CHECK(finished.back().offset == Approx(65));
    QTest::keyClick(&view, Qt::Key_PageDown);
    CHECK(finished.back().offset == Approx(15));
    QTest::keyClick(&view, Qt::Key_Up, Qt::AltModifier);
    CHECK(ui::anglesOf(finished.back()).tiltDegrees == Approx(1));
    CHECK(finished.back().distance(tool.centre()) == Approx(0).margin(1e-9));
    CHECK(started == 3);
    CHECK(live.size() == 3);
    // Left and right are the view's.
    const double azimuth = view.camera().azimuth;
    key(Qt::Key_Left);
    CHECK(view.camera().azimuth != azimuth);
}

TEST_CASE_METHOD(CutFixture,
                 "cut tool: a press beside the handle turns the view; what is hovered shows; no plane, no handle")
{
    move(grip(Grip::ArcU));
    CHECK(view.cursor().shape() == Qt::OpenHandCursor);
    shot("cut_hover");
    const double azimuth = view.camera().azimuth;
    drag({10, 20}, {70, 20});
    CHECK(view.camera().azimuth != azimuth);
    CHECK(started == 0);
    tool.clearPlane();
    CHECK(tool.gripAt({400, 300}, view.camera()) == Grip::None);
    QTest::keyClick(&view, Qt::Key_Up);
    CHECK(started == 0);
}

TEST_CASE_METHOD(CutFixture, "cut tool: what the host sends back while dragging doesn't disturb the drag")
{
    free();
    QObject::connect(&tool, &ui::CutTool::planeMoved, &tool, [this](const Plane& p) {
        setPlane({p.normal, std::round(p.offset / 100) * 100});
    });
    const QPoint from = grip(Grip::Arrow);
    drag(from, from + (pixelOf({50, 40, 85}) - pixelOf({50, 40, 60})));
    CHECK(finished.back().offset == Approx(85).margin(3));
}
