// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/plate_picture.h"
#include "ui/theme.h"

#include <QSignalSpy>
#include <QTest>
#include <QVBoxLayout>

#include <catch2/catch.hpp>

using namespace quoin;
using ui::PlatePicture;

namespace {

mesh::Loop box(double x0, double y0, double x1, double y1)
{
    return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

ui::PlateShown plate(core::Bed::Shape shape = core::Bed::Shape::Rectangular)
{
    ui::PlateShown p;
    p.title = "Plate 3 on big one";
    p.bed = {"b", shape, 400, shape == core::Bed::Shape::Round ? 400.0 : 300.0, 400, 1};
    p.marginMm = 5;
    mesh::Loop hole = box(-120, -60, -40, 60);
    std::reverse(hole.begin(), hole.end());
    p.shapes = {{7, "1", "neck 3", {box(-160, -100, 0, 100), hole}, false}, // a frame
                {9, "2", "dowel", {box(-90, -20, -70, 20)}, false},         // in its hole
                {4, "3", "beak", {{{40, -90}, {150, -90}, {60, -60}, {60, 90}, {40, 90}}}, true}};
    return p;
}

struct PlateWindow : test::WithApplication {
    explicit PlateWindow(QSize size = {480, 420})
    {
        auto* layout = new QVBoxLayout(&window);
        layout->addWidget(&picture);
        picture.setPlate(plate());
        test::show(window, size);
    }
    void click(mesh::Vec2 mm) { QTest::mouseClick(&picture, Qt::LeftButton, {}, picture.pixelOf(mm).toPoint()); }
    QWidget window;
    PlatePicture picture;
};

} // namespace

TEST_CASE("plate picture: true in its proportions, the back of the plate on top")
{
    PlateWindow w;
    const QPointF middle = w.picture.pixelOf({0, 0});
    const QPointF right = w.picture.pixelOf({100, 0}) - middle, back = w.picture.pixelOf({0, 100}) - middle;
    CHECK(right.x() > 0);
    CHECK(back.y() == Approx(-right.x()));
    CHECK(w.picture.rect().contains(w.picture.pixelOf({-200, -150}).toPoint()));
    CHECK(w.picture.rect().contains(w.picture.pixelOf({200, 150}).toPoint()));
}

TEST_CASE("plate picture: a click chooses the piece that lies there, by its true outline")
{
    PlateWindow w;
    QSignalSpy chosen(&w.picture, &PlatePicture::selected);
    w.click({-150, 0});
    CHECK(w.picture.selectedId() == 7);
    CHECK(w.picture.accessibleDescription() == "neck 3");
    w.click({-80, 0});
    CHECK(w.picture.selectedId() == 9);
    w.click({-100, 40}); // in the hole of the frame: nothing is there
    CHECK(w.picture.selectedId() == -1);
    w.click({110, 0}); // in the beak's box, beside its outline
    CHECK(w.picture.selectedId() == -1);
    w.click({50, 0});
    CHECK(w.picture.selectedId() == 4);
    CHECK(chosen.count() == 4);
}

TEST_CASE("plate picture: keys go from piece to piece, and a new plate forgets a piece that isn't on it")
{
    PlateWindow w;
    QTest::keyClick(&w.picture, Qt::Key_Right);
    CHECK(w.picture.selectedId() == 7);
    QTest::keyClick(&w.picture, Qt::Key_Left);
    CHECK(w.picture.selectedId() == 4); // round and round
    QTest::keyClick(&w.picture, Qt::Key_Up);
    CHECK(w.picture.selectedId() == 9);
    w.picture.setPlate(plate());
    CHECK(w.picture.selectedId() == 9);
    w.picture.clear();
    CHECK(w.picture.selectedId() == -1);
    QTest::keyClick(&w.picture, Qt::Key_Right); // nothing there: nothing happens
    CHECK(w.picture.selectedId() == -1);
}

TEST_CASE("plate picture: how it looks")
{
    for (const bool dark : {false, true}) {
        ui::applyTheme(test::application(), dark ? ui::Theme::Dark : ui::Theme::Light);
        PlateWindow w;
        w.click({-150, 0});
        test::picture(w.window, dark ? "plate_picture_dark" : "plate_picture_light");
        w.picture.setPlate(plate(core::Bed::Shape::Round));
        test::picture(w.window, dark ? "plate_picture_round_dark" : "plate_picture_round_light");
    }
    ui::applyTheme(test::application(), ui::Theme::Light);
}
