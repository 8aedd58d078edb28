// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/ui/application.h"
#include "ui/direction_edit.h"
#include "ui/quantity_edit.h"

#include <QComboBox>
#include <QSignalSpy>
#include <QTest>

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::ui;

namespace {

void type(QLineEdit& field, const QString& text)
{
    field.setFocus();
    field.selectAll();
    QTest::keyClicks(&field, text);
    QTest::keyClick(&field, Qt::Key_Return);
}

} // namespace

TEST_CASE("force field: newtons are shown, other units understood, nonsense kept with a reason")
{
    test::application();
    ForceEdit field;
    test::show(field, {200, 30});
    type(field, "5 kgf");
    CHECK(field.value() == Approx(49.03325)); // standard gravity, ISO 80000-3
    CHECK(field.text() == "49.033 N");
    type(field, "fifty");
    CHECK(field.value() == Approx(49.03325));
    CHECK(field.text() == "fifty");
    CHECK(field.problem().contains("is not a force"));
    type(field, "12");
    QTest::keyClick(&field, Qt::Key_Up);
    CHECK(field.value() == Approx(22));
}

TEST_CASE("unit fields: percent, megapascals and plain numbers")
{
    test::application();
    UnitEdit share(UnitEdit::share), stress(UnitEdit::stress), plain(UnitEdit::plain);
    for (UnitEdit* field : {&share, &stress, &plain})
        test::show(*field, {200, 30});
    type(share, "20");
    CHECK(share.value() == Approx(0.2));
    CHECK(share.text() == "20 %");
    type(share, "35 %");
    CHECK(share.value() == Approx(0.35));
    type(stress, "2.5 N/mm²");
    CHECK(stress.value() == Approx(2.5));
    CHECK(stress.text() == "2.5 MPa");
    type(plain, "-1.25");
    CHECK(plain.value() == -1.25);
    CHECK(plain.text() == "-1.25");
    type(plain, "1,5");
    CHECK(plain.problem().contains("decimal point"));
}

TEST_CASE("direction field: an axis by its name, or three numbers of one's own that keep their length")
{
    test::application();
    DirectionEdit edit("Direction of the force");
    test::show(edit, {360, 80});
    QSignalSpy spy(&edit, &DirectionEdit::edited);
    auto* axis = edit.findChild<QComboBox*>();
    CHECK(axis->currentText() == "down, −z");
    axis->setFocus();
    QTest::keyClicks(axis, "right");
    REQUIRE(spy.count() == 1);
    CHECK(edit.direction() == mesh::Vec3{1, 0, 0});
    QTest::qWait(QApplication::keyboardInputInterval() + 50);
    QTest::keyClicks(axis, "own");
    CHECK(spy.count() == 1); // the same way still
    const auto fields = edit.findChildren<UnitEdit*>();
    REQUIRE(fields.size() == 3);
    REQUIRE(fields[1]->isVisible());
    type(*fields[0], "3");
    type(*fields[1], "4");
    CHECK(edit.direction() == mesh::Vec3{3, 4, 0});
    edit.setDirection({0.6, 0.8, 0}); // as the force keeps it: the same way
    CHECK(fields[0]->value() == 3);
    edit.setDirection({0, 0, -2});
    CHECK(axis->currentText() == "down, −z");
    CHECK_FALSE(fields[0]->isVisible());
    CHECK(directionWords({0, 3, 4}) == "(0, 0.6, 0.8)");
}
