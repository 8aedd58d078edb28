// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/model_view.h"

#include "mesh/primitives.h"
#include "tests/support/shapes.h"
#include "tests/ui/view_fixture.h"
#include "ui/draw_mesh.h"

#include <QSignalSpy>

#include <catch2/catch.hpp>
#include <numbers>

using namespace quoin;
using mesh::Vec3;
using test::apart;
using test::ViewFixture;

namespace {

constexpr double pi = std::numbers::pi;

/// Steps, so that it looks different from all sides.
mesh::Mesh stairs()
{
    const mesh::Region outline{{{0, 0}, {120, 0}, {120, 30}, {80, 30}, {80, 60}, {40, 60}, {40, 90}, {0, 90}}};
    return mesh::transformed(mesh::prism(outline, 70), mesh::Transform::rotation({1, 0, 0}, pi / 2));
}

void drawSolid(ui::ModelView& view, ui::RenderThread& thread, const mesh::Mesh& solid)
{
    ui::ViewScene scene;
    ui::ViewItem item;
    item.mesh = ui::drawMeshOf(solid);
    item.colour = ui::pieceColours()[0];
    scene.items.push_back(item);
    view.drawWith(&thread);
    view.setScene(std::make_shared<const ui::ViewScene>(scene));
}

} // namespace

TEST_CASE_METHOD(ViewFixture, "model view: a left drag turns about what was under the pointer")
{
    put({stairs()});
    const Vec3 corner{120, -70, 30};
    const QPoint from = pixelOf({110, -60, 30});
    const auto before = view.camera();
    const auto hit = view.hitAt(place(from));
    REQUIRE(hit);
    drag(from, from + QPoint(-80, 0));
    CHECK(std::remainder(view.camera().azimuth - before.azimuth - 80 / 150.0, 2 * pi) == Approx(0).margin(0.02));
    CHECK(view.camera().elevation == Approx(before.elevation));
    CHECK(apart(pixelOf(hit->point), from) < 2);
    CHECK(apart(pixelOf(corner), pixel(*before.project(corner))) > 2);
    const auto turned = view.camera();
    drag({5, 300}, {5, 360});
    CHECK(view.camera().elevation > turned.elevation + 0.2);
}

TEST_CASE_METHOD(ViewFixture,
                 "model view: middle drag and Shift and left drag pan, the place staying under the pointer")
{
    put({stairs()});
    for (const bool middle : {true, false}) {
        const QPoint from = pixelOf({110, -60, 30}), to = from + QPoint(70, -45);
        const auto hit = view.hitAt(place(from));
        REQUIRE(hit);
        const double azimuth = view.camera().azimuth;
        drag(from, to, middle ? Qt::MiddleButton : Qt::LeftButton, middle ? Qt::NoModifier : Qt::ShiftModifier);
        CHECK(apart(pixelOf(hit->point), to) < 2);
        CHECK(view.camera().azimuth == azimuth);
    }
}

TEST_CASE_METHOD(ViewFixture, "model view: the wheel zooms towards the pointer, a right drag about where it began")
{
    put({stairs()});
    const QPoint at = pixelOf({110, -60, 30});
    const auto hit = view.hitAt(place(at));
    REQUIRE(hit);
    const double before = view.camera().mmPerPixel(hit->point);
    wheel(at, 2);
    CHECK(view.camera().mmPerPixel(hit->point) == Approx(before * 0.85 * 0.85));
    CHECK(apart(pixelOf(hit->point), at) < 2);
    wheel(at, -2);
    CHECK(view.camera().mmPerPixel(hit->point) == Approx(before));
    drag(at, at + QPoint(0, 150), Qt::RightButton);
    CHECK(view.camera().mmPerPixel(hit->point) == Approx(before * std::exp(1)));
    CHECK(apart(pixelOf(hit->point), at) < 2);
}

TEST_CASE_METHOD(ViewFixture, "model view: a double click sets the turning centre; one on the ground lifts it")
{
    put({stairs()});
    const QPoint at = pixelOf({110, -60, 30});
    const auto hit = view.hitAt(place(at));
    REQUIRE(hit);
    QTest::mouseDClick(&view, Qt::LeftButton, {}, at);
    settle();
    CHECK(apart(pixelOf(hit->point), {400, 300}) < 2);
    drag({20, 40}, {90, 60});
    CHECK(apart(pixelOf(hit->point), {400, 300}) < 2);
    key(Qt::Key_Left);
    CHECK(apart(pixelOf(hit->point), {400, 300}) < 2);
    QTest::mouseDClick(&view, Qt::LeftButton, {}, {3, 3});
    key(Qt::Key_Left);
    CHECK(apart(pixelOf(hit->point), {400, 300}) > 5);
}

TEST_CASE_METHOD(ViewFixture, "model view: keys turn, pan, zoom, fit and look from all sides")
{
    put({stairs()});
    auto before = view.camera();
    key(Qt::Key_Right);
    CHECK(std::remainder(before.azimuth - view.camera().azimuth, 2 * pi) == Approx(pi / 12));
    key(Qt::Key_Down);
    CHECK(view.camera().elevation == Approx(before.elevation + pi / 12));
    before = view.camera();
    key(Qt::Key_Left, Qt::ShiftModifier);
    CHECK(before.project(view.camera().target)->x == Approx(400 + 60).margin(0.5));
    before = view.camera();
    key(Qt::Key_Plus);
    CHECK(view.camera().distanceMm < before.distanceMm);
    key(Qt::Key_Minus);
    CHECK(view.camera().distanceMm == Approx(before.distanceMm));
    key(Qt::Key_F);
    CHECK(view.camera() == before.fittedTo(mesh::bounds(stairs())));
    const Vec3 sides[] = {{0, -1, 0}, {0, 1, 0}, {-1, 0, 0}, {1, 0, 0}, {0, 0, 1}, {0, 0, -1}};
    for (int i = 0; i < 6; ++i) {
        key(static_cast<Qt::Key>(Qt::Key_1 + i));
        CHECK(length(view.camera().towardsViewer() - sides[i]) < 1e-9);
    }
    key(Qt::Key_7);
    CHECK(view.camera().elevation == Approx(std::atan(std::sqrt(0.5))));
    QSignalSpy parallel(&view, &ui::ModelView::parallelChanged);
    key(Qt::Key_P);
    CHECK(view.camera().parallel);
    CHECK(parallel.count() == 1);
}

TEST_CASE_METHOD(ViewFixture, "model view: a click says what it hit, a drag says nothing")
{
    put({test::cube({0, 0, 0}, 40), test::cube({60, 0, 0}, 40)});
    std::vector<std::optional<ui::ViewHit>> hits;
    QObject::connect(&view, &ui::ModelView::clicked, &view, [&](const auto& hit) { hits.push_back(hit); });
    click(pixelOf({80, 20, 40}));
    REQUIRE(hits.size() == 1);
    REQUIRE(hits[0]);
    CHECK(hits[0]->body == 1);
    CHECK(hits[0]->normal == Vec3{0, 0, 1});
    CHECK(hits[0]->point.z == Approx(40));
    click({3, 3});
    REQUIRE(hits.size() == 2);
    CHECK_FALSE(hits[1]);
    drag({300, 300}, {350, 300});
    CHECK(hits.size() == 2);
    int menus = 0;
    QObject::connect(&view, &ui::ModelView::menuWanted, &view, [&] { ++menus; });
    QTest::mouseClick(&view, Qt::RightButton, {}, QPoint(400, 300));
    CHECK(menus == 1);
}

TEST_CASE_METHOD(ViewFixture, "model view: bodies are hit where they are placed, mirrored and scaled ones too")
{
    const auto placement =
        mesh::Transform::translation({500, 0, 0}) * mesh::Transform::fromColumns({-3, 0, 0}, {0, 3, 0}, {0, 0, 3});
    put({test::cube({0, 0, 0}, 40)}, placement);
    const auto hit = view.hitAt(*view.camera().project({440, 60, 120}));
    REQUIRE(hit);
    CHECK(length(hit->point - Vec3{440, 60, 120}) < 1e-6);
    CHECK(length(hit->normal - Vec3{0, 0, 1}) < 1e-12);
}

TEST_CASE_METHOD(ViewFixture, "model view: a badge is seen on the near side and hidden behind the model")
{
    put({test::cube({0, 0, 0}, 40)});
    view.lookFrom(ui::StandardView::Front, false);
    view.setBadges({{{20, 0, 20}, "1", {}, false}, {{20, 40, 20}, "2", {}, false}});
    CHECK(view.badgeSeen(0));
    CHECK_FALSE(view.badgeSeen(1));
    view.lookFrom(ui::StandardView::Back, false);
    CHECK_FALSE(view.badgeSeen(0));
    CHECK(view.badgeSeen(1));
}

TEST_CASE_METHOD(ViewFixture, "model view: a resized view keeps its camera and takes the new size")
{
    put({stairs()});
    const auto before = view.camera();
    view.resize(500, 400);
    CHECK(QTest::qWaitFor([&] { return view.size() == QSize(500, 400); }));
    CHECK(view.camera().widthPx == 500);
    CHECK(view.camera().heightPx == 400);
    CHECK(view.camera().distanceMm == before.distanceMm);
}

TEST_CASE_METHOD(ViewFixture, "model view: it has a name and a description for those who can't see it")
{
    CHECK_FALSE(view.accessibleName().isEmpty());
    CHECK(view.accessibleDescription().contains("arrow", Qt::CaseInsensitive));
    CHECK(view.focusPolicy() == Qt::StrongFocus);
}

TEST_CASE_METHOD(ViewFixture, "model view: shows pictures with everything over them in its place")
{
    put({stairs()});
    ui::RenderThread thread;
    int frames = 0;
    QString trouble;
    QObject::connect(&thread, &ui::RenderThread::frameReady, &view,
                     [&](const ui::Frame& frame) { frames += frame.fine && frame.camera == view.camera() ? 1 : 0; });
    QObject::connect(&thread, &ui::RenderThread::failed, &view, [&](const QString& why) { trouble = why; });
    drawSolid(view, thread, stairs());
    view.setBadges({{{100, -70, 15}, "12", ui::pieceColours()[1], false},
                    {{60, -70, 30}, "3", ui::pieceColours()[5], true},
                    {{20, 0, 45}, "hidden", ui::pieceColours()[2], false}});
    view.setNotes({{{60, -35, 100}, "The words beside it", false}});
    REQUIRE(QTest::qWaitFor([&] { return frames > 0 || !trouble.isEmpty(); }, 20000));
    INFO(trouble.toStdString());
    REQUIRE(frames > 0);
    const QImage picture = test::picture(view, "model_view");
    // The model's colour where the model is, the ground's beside it.
    const QColor on = picture.pixelColor(pixelOf({100, -20, 30})), off = picture.pixelColor(5, 5);
    CHECK(on.blue() > on.red() + 40);
    CHECK(std::abs(off.blue() - off.red()) < 15);
}
