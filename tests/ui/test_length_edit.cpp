// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/length_edit.h"
#include "ui/theme.h"

#include <QLabel>
#include <QShortcut>
#include <QSignalSpy>
#include <QTest>
#include <QVBoxLayout>
#include <QWheelEvent>

#include <catch2/catch.hpp>

using namespace quoin;
using ui::AngleEdit;
using ui::FactorEdit;
using ui::LengthEdit;
using ui::NumberEdit;

namespace {

/// A window with a field and another widget to leave it for.
template <class Field>
struct Form : test::WithApplication {
    Form()
    {
        auto* layout = new QVBoxLayout(&window);
        layout->addWidget(&field);
        layout->addWidget(&other);
        layout->addStretch();
        test::show(window, {320, 200});
        field.setFocus();
    }
    void type(const QString& text)
    {
        field.selectAll();
        for (const QChar c : text) { // QTest::keyClicks knows only ASCII
            QKeyEvent press(QEvent::KeyPress, 0, Qt::NoModifier, QString(c));
            QCoreApplication::sendEvent(&field, &press);
        }
        QTest::keyClick(&field, Qt::Key_Return);
    }

    QWidget window;
    Field field;
    QLineEdit other;
};

} // namespace

TEST_CASE("length edit: lengths as people type them")
{
    Form<LengthEdit> form;
    QSignalSpy edited(&form.field, &NumberEdit::edited);
    // SI prefixes; an inch is 25.4 mm exactly (international yard and pound agreement of 1959).
    const auto [text, mm] = GENERATE(table<const char*, double>(
        {{"1.8 m", 1800}, {"30cm", 300}, {"12\"", 304.8}, {"350", 350}, {" 2 ft", 609.6}, {"0.5mm", 0.5}}));
    form.type(text);
    REQUIRE(edited.count() == 1);
    CHECK(edited[0][0].toDouble() == Approx(mm));
    CHECK(form.field.value() == Approx(mm));
    CHECK(form.field.text().endsWith(" mm"));
}

TEST_CASE("length edit: a bare number is in the unit shown")
{
    Form<LengthEdit> form;
    form.field.setUnit(mesh::Unit::Inch);
    form.type("12");
    CHECK(form.field.value() == Approx(304.8));
    CHECK(form.field.text() == "12.00 in");
    form.field.setUnit(mesh::Unit::Metre);
    CHECK(form.field.text() == "0.3048 m");
    CHECK(form.field.value() == Approx(304.8));
}

TEST_CASE("length edit: what is no length stays, with a message that says what to type")
{
    Form<LengthEdit> form;
    form.field.setValue(350);
    QSignalSpy edited(&form.field, &NumberEdit::edited);
    const auto [text, word] = GENERATE(table<const char*, const char*>(
        {{"1,8 m", "decimal point"}, {"tall", "such as 1800mm"}, {"3 cubits", "no unit"}, {"nan", "such as"}}));
    form.type(text);
    CHECK(edited.count() == 0);
    CHECK(form.field.value() == 350);
    CHECK(form.field.text() == text);
    CHECK(form.field.problem().contains(word));
    CHECK(form.field.toolTip().contains(word));
    auto* message = form.window.findChild<QLabel*>("fieldMessage");
    REQUIRE(message != nullptr);
    CHECK(message->isVisible());
    CHECK(form.window.rect().contains(message->geometry()));
    QTest::keyClick(&form.field, Qt::Key_Escape);
    CHECK(form.field.problem().isEmpty());
    CHECK(form.field.text() == "350.0 mm");
    CHECK_FALSE(message->isVisible());
}

TEST_CASE("length edit: the range is refused with its limits and the reason")
{
    Form<LengthEdit> form;
    form.field.setRange(-20, 80, "the part reaches no further");
    form.type("-20.1");
    CHECK(form.field.problem().contains("too small"));
    CHECK(form.field.problem().contains("the part reaches no further"));
    CHECK(form.field.problem().contains("80.0 mm"));
    form.type(QString(QChar(0x2212)) + "20"); // a minus sign as printed
    CHECK(form.field.value() == -20);
}

TEST_CASE("length edit: keys step, live first and for good when they rest")
{
    Form<LengthEdit> form;
    form.field.setValue(350);
    QSignalSpy live(&form.field, &NumberEdit::liveEdited), edited(&form.field, &NumberEdit::edited);
    QTest::keyClick(&form.field, Qt::Key_Up);
    QTest::keyClick(&form.field, Qt::Key_Up, Qt::ShiftModifier);
    QTest::keyClick(&form.field, Qt::Key_Down, Qt::ControlModifier);
    CHECK(live.count() == 3);
    CHECK(edited.count() == 0);
    form.field.setValue(form.field.value()); // the echo from the document
    CHECK(form.field.value() == Approx(360.9));
    REQUIRE(QTest::qWaitFor([&] { return edited.count() == 1; }));
    CHECK(edited[0][0].toDouble() == Approx(360.9));
}

TEST_CASE("length edit: leaving the field takes the text over, once")
{
    Form<LengthEdit> form;
    QSignalSpy edited(&form.field, &NumberEdit::edited);
    form.field.selectAll();
    QTest::keyClicks(&form.field, "2 m");
    form.other.setFocus();
    REQUIRE(edited.count() == 1);
    CHECK(edited[0][0].toDouble() == 2000);
    form.field.setFocus();
    form.other.setFocus();
    CHECK(edited.count() == 1);
}

TEST_CASE("length edit: snapped steps land on whole multiples")
{
    Form<LengthEdit> form;
    form.field.setSnap(5);
    form.field.setValue(352.2);
    QTest::keyClick(&form.field, Qt::Key_Up);
    CHECK(form.field.value() == 355);
    QTest::keyClick(&form.field, Qt::Key_Up);
    CHECK(form.field.value() == 360);
    form.field.setValue(352.2);
    QTest::keyClick(&form.field, Qt::Key_Down);
    CHECK(form.field.value() == 350);
}

TEST_CASE("length edit: the wheel turns only a field that was chosen")
{
    Form<LengthEdit> form;
    form.field.setValue(350);
    const auto turn = [&form] {
        QWheelEvent event(QPointF(5, 5), form.field.mapToGlobal(QPointF(5, 5)), {}, {0, 120}, Qt::NoButton,
                          Qt::NoModifier, Qt::NoScrollPhase, false);
        QCoreApplication::sendEvent(&form.field, &event);
        return event.isAccepted();
    };
    form.other.setFocus();
    CHECK_FALSE(turn());
    CHECK(form.field.value() == 350);
    form.field.setFocus();
    CHECK(turn());
    CHECK(form.field.value() == 351);
}

TEST_CASE("length edit: undo is the document's while nothing is typed, the field's while something is")
{
    Form<LengthEdit> form;
    form.type("350");
    int undone = 0;
    QShortcut undo(QKeySequence::Undo, &form.window);
    QObject::connect(&undo, &QShortcut::activated, &form.window, [&undone] { ++undone; });
    QTest::keyClick(&form.field, Qt::Key_Z, Qt::ControlModifier);
    CHECK(undone == 1);
    form.field.selectAll();
    QTest::keyClicks(&form.field, "12");
    QTest::keyClick(&form.field, Qt::Key_Z, Qt::ControlModifier);
    CHECK(undone == 1);
}

TEST_CASE("length edit: text being typed survives the panel being shown anew")
{
    Form<LengthEdit> form;
    form.field.setValue(350);
    form.field.selectAll();
    QTest::keyClicks(&form.field, "12");
    form.field.setValue(350);
    CHECK(form.field.text() == "12");
    form.field.setValue(400);
    CHECK(form.field.text() == "400.0 mm");
}

TEST_CASE("angle edit: degrees")
{
    Form<AngleEdit> form;
    const auto [text, degrees] = GENERATE(table<const char*, double>({{"30", 30}, {"-12.5°", -12.5}, {"45 deg", 45}}));
    form.type(text);
    CHECK(form.field.value() == Approx(degrees));
    CHECK(form.field.problem().isEmpty());
    form.type("361");
    CHECK(form.field.problem().contains("360.0°"));
}

TEST_CASE("factor edit: times, per cent and drawing scales")
{
    Form<FactorEdit> form;
    // ISO 5455: 8:1 is an enlargement, 1:2 a reduction.
    const auto [text, factor] = GENERATE(table<const char*, double>(
        {{"8", 8}, {"8x", 8}, {"8 ×", 8}, {"800 %", 8}, {"8 times", 8}, {"8:1", 8}, {"1:2", 0.5}, {"0.25", 0.25}}));
    form.type(text);
    CHECK(form.field.value() == Approx(factor));
    for (const char* wrong : {"0", "-2", "1:0", "x", "8,5", "1:2:3"}) {
        CAPTURE(wrong);
        form.type(wrong);
        CHECK_FALSE(form.field.problem().isEmpty());
        CHECK(form.field.value() == Approx(factor));
    }
}

TEST_CASE("length edit: how it looks")
{
    for (const bool dark : {false, true}) {
        ui::applyTheme(test::application(), dark ? ui::Theme::Dark : ui::Theme::Light);
        Form<LengthEdit> form;
        form.type("1,8 m");
        test::picture(form.window, dark ? "length_edit_dark" : "length_edit_light");
    }
}
