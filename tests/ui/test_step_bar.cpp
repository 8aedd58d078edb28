// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/step_bar.h"

#include <QSignalSpy>
#include <QTest>
#include <QVBoxLayout>

#include <catch2/catch.hpp>

using namespace quoin;
using ui::StepBar;
using ui::StepState;

namespace {

struct Window : test::WithApplication {
    Window()
    {
        auto* layout = new QVBoxLayout(&window);
        layout->addWidget(&bar);
        bar.setState(StepBar::Load, {StepState::Progress::Done, "2 parts, both sound", {}});
        bar.setState(StepBar::Cut, {StepState::Progress::Attention, "2 pieces don't fit a bed", {}});
        bar.setState(StepBar::Prove, {StepState::Progress::Open, {}, "2 pieces don't fit a bed. Cut them first."});
        test::show(window, {760, 80});
    }
    QWidget window;
    StepBar bar;
};

} // namespace

TEST_CASE("step bar: a click and Ctrl with a digit ask for a step")
{
    Window w;
    QSignalSpy wanted(&w.bar, &StepBar::stepWanted);
    QTest::mouseClick(w.bar.button(StepBar::Scale), Qt::LeftButton);
    REQUIRE(wanted.count() == 1);
    CHECK(wanted[0][0].toInt() == 2);
    // Nothing is current until the window says so.
    CHECK(w.bar.current() == StepBar::Load);
    CHECK(w.bar.button(StepBar::Load)->isChecked());
    CHECK_FALSE(w.bar.button(StepBar::Scale)->isChecked());
    QTest::keyClick(&w.window, Qt::Key_3, Qt::ControlModifier);
    REQUIRE(wanted.count() == 2);
    CHECK(wanted[1][0].toInt() == 3);
    QTest::keyClick(&w.window, Qt::Key_6, Qt::ControlModifier);
    REQUIRE(wanted.count() == 3);
    CHECK(wanted[2][0].toInt() == StepBar::Plan);
    w.bar.setCurrent(StepBar::Cut);
    CHECK(w.bar.button(StepBar::Cut)->isChecked());
}

TEST_CASE("step bar: a step that can't be taken says why, to the mouse and to a screen reader")
{
    Window w;
    QSignalSpy wanted(&w.bar, &StepBar::stepWanted);
    QTest::keyClick(&w.window, Qt::Key_5, Qt::ControlModifier);
    QTest::mouseClick(w.bar.button(StepBar::Prove), Qt::LeftButton);
    CHECK(wanted.count() == 0);
    CHECK(w.bar.button(StepBar::Prove)->toolTip().contains("Cut them first"));
    CHECK(w.bar.button(StepBar::Prove)->accessibleDescription().contains("Cut them first"));
    CHECK(w.bar.button(StepBar::Cut)->toolTip().contains("2 pieces don't fit"));
    CHECK(w.bar.button(StepBar::Cut)->isEnabled());
}

TEST_CASE("step bar: arrow keys pass over what is disabled")
{
    Window w;
    w.bar.setState(StepBar::Scale, {StepState::Progress::Open, {}, "no part yet"});
    w.bar.button(StepBar::Load)->setFocus();
    QTest::keyClick(w.bar.button(StepBar::Load), Qt::Key_Right);
    CHECK(w.bar.button(StepBar::Cut)->hasFocus());
    QTest::keyClick(w.bar.button(StepBar::Cut), Qt::Key_Left);
    CHECK(w.bar.button(StepBar::Load)->hasFocus());
    QSignalSpy wanted(&w.bar, &StepBar::stepWanted);
    QTest::keyClick(w.bar.button(StepBar::Load), Qt::Key_Space);
    CHECK(wanted.count() == 1);
}

TEST_CASE("step bar: how it looks")
{
    for (const bool dark : {false, true}) {
        ui::applyTheme(test::application(), dark ? ui::Theme::Dark : ui::Theme::Light);
        Window w;
        w.bar.setCurrent(StepBar::Cut);
        test::picture(w.window, dark ? "step_bar_dark" : "step_bar_light");
    }
    ui::applyTheme(test::application(), ui::Theme::Light);
}
