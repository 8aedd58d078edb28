// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/length_edit.h"
#include "ui/scale_panel.h"
#include "ui/theme.h"

#include <QCheckBox>
#include <QComboBox>
#include <QPushButton>
#include <QSignalSpy>
#include <QTest>
#include <QToolButton>
#include <QWheelEvent>

#include <catch2/catch.hpp>

using namespace quoin;
using ui::LengthEdit;
using ui::ScalePanel;

namespace {

/// A closed box of 100 x 50 x 200 mm with walls of 2 mm, as the health check would report it.
ui::ScaleSubject heron()
{
    ui::ScaleSubject subject;
    subject.id = 1;
    subject.name = "heron";
    subject.material = "PLA";
    subject.health.extentsMm = {100, 50, 200};
    subject.health.volumeMm3 = 1e6;
    subject.health.areaMm2 = 70000;
    mesh::BodyHealth body;
    body.thinnestWallMm = 2;
    subject.health.bodies.push_back(body);
    return subject;
}

struct Window : test::WithApplication {
    Window()
    {
        ui::applyTheme(test::application(), ui::Theme::Light);
        panel.setBeds(core::shippedBeds());
        panel.setSubject(heron());
        test::show(panel, {360, 720});
    }
    ui::NumberEdit* field(const QString& name) const
    {
        for (auto* f : panel.findChildren<ui::NumberEdit*>())
            if (f->accessibleName() == name)
                return f;
        return nullptr;
    }
    void type(const QString& name, const QString& text)
    {
        field(name)->setFocus();
        field(name)->selectAll();
        QTest::keyClicks(field(name), text);
        QTest::keyClick(field(name), Qt::Key_Return);
    }
    bool says(const QString& words) const { return panel.effects().join('\n').contains(words); }
    ScalePanel panel;
};

} // namespace

TEST_CASE("scale panel: one side typed, the others and the factor follow")
{
    Window w;
    QSignalSpy wanted(&w.panel, &ScalePanel::scaleWanted);
    w.type("Wanted height", "1.8 m");
    REQUIRE(wanted.count() == 1);
    CHECK(wanted[0][0].toDouble() == Approx(9));
    CHECK(w.field("Scale factor")->value() == Approx(9));
    CHECK(w.field("Wanted width")->value() == Approx(900));
    CHECK(w.field("Wanted depth")->value() == Approx(450));
    w.type("Scale factor", "1:2");
    REQUIRE(wanted.count() == 2);
    CHECK(wanted[1][0].toDouble() == Approx(0.5));
    CHECK(w.field("Wanted height")->value() == Approx(100));
}

TEST_CASE("scale panel: stepping is live, then wanted once, and survives the document's echo")
{
    Window w;
    QSignalSpy live(&w.panel, &ScalePanel::scaleLive), wanted(&w.panel, &ScalePanel::scaleWanted);
    QObject::connect(&w.panel, &ScalePanel::scaleLive, &w.panel, [&w](double factor) {
        ui::ScaleSubject echo = heron();
        echo.factor = factor;
        w.panel.setSubject(echo);
    });
    w.field("Wanted width")->setFocus();
    QTest::keyClick(w.field("Wanted width"), Qt::Key_Up, Qt::ShiftModifier);
    QTest::keyClick(w.field("Wanted width"), Qt::Key_Up, Qt::ShiftModifier);
    CHECK(live.count() == 2);
    CHECK(live[1][0].toDouble() == Approx(1.2));
    CHECK(w.field("Wanted height")->value() == Approx(240));
    CHECK(wanted.count() == 0);
    REQUIRE(QTest::qWaitFor([&] { return wanted.count() == 1; }));
    CHECK(wanted[0][0].toDouble() == Approx(1.2));
}

TEST_CASE("scale panel: the effects are those of the square-cube law, in the material chosen")
{
    Window w;
    w.type("Scale factor", "10");
    // Galileo 1638: sizes by the factor, surfaces by its square, masses by its cube. PLA 1.24 g/cm3: 1000 cm3 are
    // 1.24 kg, a thousand times that 1240 kg.
    CHECK(w.says("1000 times"));
    CHECK(w.says("100 times"));
    CHECK(w.says("wind force"));
    CHECK(w.says("0.2 mm of play becomes 2.00 mm"));
    CHECK(w.says("from 2 to 20 mm"));
    CHECK(w.says("1.24 kg become 1240 kg"));
    CHECK(w.says("1000 cm³ become 1000000 cm³"));
}

TEST_CASE("scale panel: a handy height")
{
    Window w;
    QSignalSpy wanted(&w.panel, &ScalePanel::scaleWanted);
    for (auto* button : w.panel.findChildren<QToolButton*>())
        if (button->text().contains("person"))
            QTest::mouseClick(button, Qt::LeftButton);
    REQUIRE(wanted.count() == 1);
    CHECK(wanted[0][0].toDouble() == Approx(1750.0 / 200));
    CHECK(w.field("Wanted height")->value() == Approx(1750));
}

TEST_CASE("scale panel: the largest for a bed, and why not")
{
    Window w;
    QSignalSpy largest(&w.panel, &ScalePanel::largestWanted);
    auto* button = w.panel.findChild<QPushButton*>();
    w.panel.findChild<QComboBox*>()->setCurrentIndex(1);
    QTest::mouseClick(button, Qt::LeftButton);
    REQUIRE(largest.count() == 1);
    CHECK(largest[0][0].toInt() == 1);
    w.panel.setSearching(true);
    CHECK_FALSE(button->isEnabled());
    CHECK(button->toolTip().contains("being worked out"));
    w.panel.setSearching(false);
    w.panel.setBeds({});
    CHECK_FALSE(button->isEnabled());
    CHECK(button->toolTip().contains("no bed yet"));
}

TEST_CASE("scale panel: the wheel passes over a box that was not chosen")
{
    Window w;
    auto* bed = w.panel.findChild<QComboBox*>();
    const auto turn = [bed] {
        QWheelEvent event(QPointF(5, 5), bed->mapToGlobal(QPointF(5, 5)), {}, {0, -120}, Qt::NoButton, Qt::NoModifier,
                          Qt::NoScrollPhase, false);
        QCoreApplication::sendEvent(bed, &event);
    };
    w.field("Scale factor")->setFocus();
    turn();
    CHECK(bed->currentIndex() == 0);
    bed->setFocus();
    turn();
    CHECK(bed->currentIndex() == 1);
}

TEST_CASE("scale panel: nothing selected, and a model without thickness")
{
    Window w;
    ui::ScaleSubject flat = heron();
    flat.health.extentsMm.z = 0;
    w.panel.setSubject(flat);
    CHECK_FALSE(w.field("Wanted height")->isEnabled());
    CHECK(w.field("Wanted height")->toolTip().contains("no size this way"));
    CHECK(w.field("Wanted width")->isEnabled());
    w.panel.setSubject({});
    CHECK_FALSE(w.field("Scale factor")->isEnabled());
    CHECK(w.field("Scale factor")->toolTip() == "Select a part first.");
    CHECK(w.panel.effects().isEmpty());
}

TEST_CASE("scale panel: how it looks")
{
    for (const bool dark : {false, true}) {
        Window w;
        ui::applyTheme(test::application(), dark ? ui::Theme::Dark : ui::Theme::Light);
        w.type("Wanted height", "1.8 m");
        test::picture(w.panel, dark ? "scale_panel_dark" : "scale_panel_light");
    }
    ui::applyTheme(test::application(), ui::Theme::Light);
}

TEST_CASE("scale panel: handy heights mean the whole sculpture while its parts are scaled together")
{
    Window w;
    w.panel.setOthers(3, 3);
    w.panel.setWhole(mesh::Vec3{300, 200, 400});
    QSignalSpy wanted(&w.panel, &ScalePanel::scaleWanted);
    QToolButton* table = nullptr;
    for (auto* b : w.panel.findChildren<QToolButton*>())
        if (b->text().startsWith("a table"))
            table = b;
    REQUIRE(table != nullptr);
    table->click();
    REQUIRE(wanted.count() == 1);
    CHECK(wanted[0][0].toDouble() == Approx(750.0 / 400));
    w.panel.findChild<QCheckBox*>()->setChecked(false);
    table->click();
    REQUIRE(wanted.count() == 2);
    CHECK(wanted[1][0].toDouble() == Approx(750.0 / 200));
}
