// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/cuts_panel.h"
#include "ui/length_edit.h"
#include "ui/plane_editor.h"
#include "ui/theme.h"

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QMenu>
#include <QSignalSpy>
#include <QSlider>
#include <QTest>
#include <QToolButton>
#include <QTreeWidget>

#include <catch2/catch.hpp>

using namespace quoin;
using ui::CutKind;
using ui::CutRow;
using ui::CutsPanel;

namespace {

mesh::Box3 heronBox()
{
    mesh::Box3 box;
    box.add({-400, -150, 0});
    box.add({400, 150, 2100});
    return box;
}

std::vector<CutRow> heronCuts()
{
    return {{1, "waist", {{0, 0, 1}, 1050}, true, 0, false, 41000, 2, ""},
            {2, "", {{1, 0, 0}, 20}, true, 1, true, 900, 3, ""},
            {3, "neck", mesh::planeAt({1, 0, 1}, 1500), false, 1, true, 0, 0, ""},
            {4, "", {{0, 0, 1}, 2500}, true, 0, false, 0, 0, "It meets nothing of the part."}};
}

struct Window : test::WithApplication {
    Window()
    {
        ui::applyTheme(test::application(), ui::Theme::Light);
        panel.setRows(heronCuts(), heronBox());
        test::show(panel, {440, 640});
        tree = panel.findChild<QTreeWidget*>();
    }
    QTreeWidgetItem* item(int id) const
    {
        for (QTreeWidgetItemIterator it(tree); *it != nullptr; ++it)
            if ((*it)->data(0, Qt::UserRole).toInt() == id)
                return *it;
        return nullptr;
    }
    template <class T>
    T* named(const QString& name) const
    {
        for (T* widget : panel.findChildren<T*>())
            if (widget->accessibleName() == name)
                return widget;
        return nullptr;
    }
    void type(QLineEdit* field, const QString& text)
    {
        field->setFocus();
        field->selectAll();
        QTest::keyClicks(field, text);
        QTest::keyClick(field, Qt::Key_Return);
    }
    CutsPanel panel;
    QTreeWidget* tree = nullptr;
};

mesh::Plane planeIn(const QSignalSpy& spy)
{
    REQUIRE_FALSE(spy.isEmpty());
    return spy.back()[1].value<mesh::Plane>();
}

} // namespace

TEST_CASE("cuts panel: a cut of one side hangs below the cut that it is limited by")
{
    Window w;
    REQUIRE(w.item(2)->parent() == w.item(1));
    CHECK(w.item(4)->parent() == nullptr);
    CHECK(w.item(1)->text(0) == "waist");
    CHECK(w.item(2)->text(0) == "Cut 2");
    CHECK(w.item(1)->text(1) == "across z at 1050.0 mm");
    CHECK(w.item(2)->text(1) == "above: across x at 20.0 mm");
    CHECK(w.item(1)->text(2) == "410 cm²");
    CHECK(w.item(4)->toolTip(1).contains("meets nothing"));
    CHECK(w.item(4)->data(1, Qt::AccessibleTextRole).toString().contains("meets nothing"));
    CHECK(w.item(3)->checkState(0) == Qt::Unchecked);
}

TEST_CASE("cuts panel: check, rename, move and remove are asked for, and shown only when they are so")
{
    Window w;
    QSignalSpy enable(&w.panel, &CutsPanel::enableWanted), rename(&w.panel, &CutsPanel::renameWanted),
        move(&w.panel, &CutsPanel::moveWanted), remove(&w.panel, &CutsPanel::removeWanted);
    w.panel.select(2);
    w.tree->setFocus();
    QTest::keyClick(w.tree, Qt::Key_Space);
    REQUIRE(enable.count() == 1);
    CHECK(enable[0][0].toInt() == 2);
    CHECK(enable[0][1].toBool() == false);
    CHECK(w.item(2)->checkState(0) == Qt::Checked);

    QTest::keyClick(w.tree, Qt::Key_F2);
    auto* editor = w.tree->viewport()->findChild<QLineEdit*>();
    REQUIRE(editor != nullptr);
    editor->selectAll();
    QTest::keyClicks(editor, "left hip");
    QTest::keyClick(editor, Qt::Key_Return);
    REQUIRE(QTest::qWaitFor([&] { return rename.count() == 1; }));
    CHECK(rename[0][1].toString() == "left hip");
    CHECK(w.item(2)->text(0) == "Cut 2");

    QTest::keyClick(w.tree, Qt::Key_Up, Qt::AltModifier);
    QTest::keyClick(w.tree, Qt::Key_Down, Qt::AltModifier);
    REQUIRE(move.count() == 2);
    CHECK(move[0][1].toInt() == -1);
    CHECK(move[1][1].toInt() == 1);
    QTest::keyClick(w.tree, Qt::Key_Delete);
    REQUIRE(remove.count() == 1);
    CHECK(remove[0][0].toInt() == 2);
}

TEST_CASE("cuts panel: the first can't go earlier, and says so")
{
    Window w;
    QSignalSpy move(&w.panel, &CutsPanel::moveWanted);
    w.panel.select(1);
    w.tree->setFocus();
    QTest::keyClick(w.tree, Qt::Key_Up, Qt::AltModifier);
    CHECK(move.count() == 0);
    auto* earlier = w.named<QToolButton>("Cut earlier");
    REQUIRE(earlier != nullptr);
    CHECK_FALSE(earlier->isEnabled());
    CHECK(earlier->toolTip().contains("It is the first"));
}

TEST_CASE("cuts panel: a typed plane arrives as typed though its receiver shows the old list before reading it")
{
    Window w;
    w.panel.select(1);
    double arrived = 0;
    QObject::connect(&w.panel, &CutsPanel::planeWanted, &w.panel, [&](int, const mesh::Plane& plane) {
        w.panel.setRows(heronCuts(), heronBox());
        arrived = plane.offset;
    });
    w.type(w.named<ui::LengthEdit>("Position"), "30cm");
    CHECK(arrived == Approx(300));
}

TEST_CASE("cuts panel: a typed position, one outside the part is refused with its reach")
{
    Window w;
    QSignalSpy wanted(&w.panel, &CutsPanel::planeWanted);
    w.panel.select(1);
    auto* position = w.named<ui::LengthEdit>("Position");
    w.type(position, "1.2 m");
    REQUIRE(wanted.count() == 1);
    CHECK(wanted[0][0].toInt() == 1);
    CHECK(planeIn(wanted).offset == Approx(1200));
    w.type(position, "2101");
    CHECK(wanted.count() == 1);
    CHECK(position->problem().contains("from 0.0 mm to 2100.0 mm"));
}

TEST_CASE("cuts panel: steps and the slider snap, live first")
{
    Window w;
    QSignalSpy live(&w.panel, &CutsPanel::planeLive), wanted(&w.panel, &CutsPanel::planeWanted),
        snap(&w.panel, &CutsPanel::snapChanged);
    w.panel.select(2);
    auto* combo = w.named<QComboBox>("Snap");
    combo->setFocus();
    QTest::keyClick(combo, Qt::Key_End);
    REQUIRE(snap.count() >= 1);
    CHECK(snap.back()[0].toDouble() == 10);
    auto* position = w.named<ui::LengthEdit>("Position");
    position->setFocus();
    QTest::keyClick(position, Qt::Key_Up);
    REQUIRE(live.count() == 1);
    CHECK(planeIn(live).offset == Approx(30));
    REQUIRE(QTest::qWaitFor([&] { return wanted.count() == 1; }));
    auto* slider = w.panel.findChild<QSlider*>();
    slider->setSliderDown(true);
    slider->setSliderPosition(313); // -400 + 800 x 0.313 = -149.6
    CHECK(planeIn(live).offset == Approx(-150));
    CHECK(wanted.count() == 1);
    slider->setSliderDown(false);
    CHECK(wanted.count() == 2);
}

TEST_CASE("cuts panel: turned about the middle of the part, flipped in place")
{
    Window w;
    QSignalSpy wanted(&w.panel, &CutsPanel::planeWanted);
    w.panel.select(1);
    QTest::mouseClick(w.named<QToolButton>("Across x"), Qt::LeftButton);
    REQUIRE(wanted.count() == 1);
    CHECK(planeIn(wanted).normal == mesh::Vec3{1, 0, 0});
    CHECK(planeIn(wanted).offset == Approx(0).margin(1e-9)); // through the middle of -400..400
    w.type(w.named<ui::AngleEdit>("Tilt"), "45");
    CHECK(planeIn(wanted).normal.z == Approx(std::sqrt(0.5)));
    CHECK(planeIn(wanted).distance({0, 0, 1050}) == Approx(0).margin(1e-6));
    w.type(w.named<QLineEdit>("Normal"), "0, 3, 4");
    CHECK(planeIn(wanted).normal.y == Approx(0.6));
    CHECK(planeIn(wanted).normal.z == Approx(0.8));
    const mesh::Plane before = planeIn(wanted);
    QTest::mouseClick(w.named<QToolButton>("Flip direction"), Qt::LeftButton);
    CHECK(planeIn(wanted).normal == -before.normal);
    CHECK(planeIn(wanted).offset == -before.offset);
    const auto count = wanted.count();
    w.type(w.named<QLineEdit>("Normal"), "0 0 0");
    CHECK(wanted.count() == count);
    bool said = false;
    for (auto* label : w.panel.findChildren<QLabel*>())
        said = said || (label->isVisible() && label->text().contains("is not a direction"));
    CHECK(said);
}

TEST_CASE("cuts panel: a flipped cut is told by its coordinate all the same")
{
    Window w;
    auto rows = heronCuts();
    rows[0].plane = {{0, 0, -1}, -1050};
    w.panel.setRows(rows, heronBox());
    w.panel.select(1);
    QSignalSpy wanted(&w.panel, &CutsPanel::planeWanted);
    auto* position = w.named<ui::LengthEdit>("Position");
    CHECK(position->value() == Approx(1050));
    w.type(position, "1060");
    CHECK(planeIn(wanted).normal == mesh::Vec3{0, 0, -1});
    CHECK(planeIn(wanted).offset == Approx(-1060));
}

TEST_CASE("cuts panel: every kind of new cut, of the whole part or of a piece")
{
    Window w;
    QSignalSpy add(&w.panel, &CutsPanel::addWanted);
    QMenu* menu = nullptr;
    for (auto* button : w.panel.findChildren<QToolButton*>())
        if (button->menu() != nullptr)
            menu = button->menu();
    REQUIRE(menu != nullptr);
    QMenu* piece = nullptr;
    for (QAction* action : menu->actions())
        if (action->menu() != nullptr)
            piece = action->menu();
        else if (!action->isSeparator())
            action->trigger();
    REQUIRE(add.count() == 6);
    for (int i = 0; i < 6; ++i) {
        CHECK(add[i][0].value<CutKind>() == static_cast<CutKind>(i));
        CHECK(add[i][1].toBool());
    }
    REQUIRE(piece != nullptr);
    CHECK_FALSE(piece->menuAction()->isEnabled());
    CHECK(piece->menuAction()->text().contains("select a piece first"));
    w.panel.setPieceSelected(true);
    CHECK(piece->menuAction()->isEnabled());
    piece->actions().front()->trigger();
    CHECK_FALSE(add.back()[1].toBool());
}

TEST_CASE("cuts panel: selection stays when the rows come anew, and goes with its cut")
{
    Window w;
    QSignalSpy selected(&w.panel, &CutsPanel::selected);
    w.panel.select(3);
    auto rows = heronCuts();
    rows[2].plane.offset = 1400;
    w.panel.setRows(rows, heronBox());
    CHECK(w.panel.selectedId() == 3);
    std::swap(rows[1], rows[2]);
    w.panel.setRows(rows, heronBox());
    CHECK(w.panel.selectedId() == 3);
    rows.erase(rows.begin() + 1);
    w.panel.setRows(rows, heronBox());
    CHECK(w.panel.selectedId() == 0);
    CHECK(selected.count() == 0);
    CHECK_FALSE(w.panel.findChild<ui::PlaneEditor*>()->isVisible());
}

TEST_CASE("cuts panel: how it looks")
{
    for (const bool dark : {false, true}) {
        Window w;
        ui::applyTheme(test::application(), dark ? ui::Theme::Dark : ui::Theme::Light);
        w.panel.select(4);
        test::picture(w.panel, dark ? "cuts_panel_dark" : "cuts_panel_light");
    }
    ui::applyTheme(test::application(), ui::Theme::Light);
}
