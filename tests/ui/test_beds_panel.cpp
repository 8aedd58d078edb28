// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/bed_words.h"
#include "ui/beds_panel.h"
#include "ui/length_edit.h"
#include "ui/problem_line.h"

#include <QCheckBox>
#include <QComboBox>
#include <QLineEdit>
#include <QPushButton>
#include <QSpinBox>
#include <QTableWidget>
#include <QTest>

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::ui;
using core::Bed;

namespace {

struct Fixture : test::WithApplication {
    BedsPanel panel;
    std::vector<BedsChoice> told;
    std::vector<Bed> kept;
    QStringList forgotten;

    Fixture()
    {
        panel.setShelf({{"big one", Bed::Shape::Rectangular, 600, 600, 800, 1}}, core::shippedBeds());
        QObject::connect(&panel, &BedsPanel::changed, [this](const BedsChoice& c) { told.push_back(c); });
        QObject::connect(&panel, &BedsPanel::keepWanted, [this](const Bed& b) { kept.push_back(b); });
        QObject::connect(&panel, &BedsPanel::forgetWanted, [this](const QString& n) { forgotten << n; });
        test::show(panel, {520, 620});
    }
    template <class T>
    T& child(const char* name)
    {
        T* found = panel.findChild<T*>(name);
        REQUIRE(found);
        return *found;
    }
    void click(const char* name)
    {
        // The layout first: a button that moves between press and release isn't clicked.
        QCoreApplication::processEvents();
        QTest::mouseClick(&child<QPushButton>(name), Qt::LeftButton);
    }
    void type(const char* text)
    {
        child<QLineEdit>("typed").setFocus();
        QTest::keyClicks(&child<QLineEdit>("typed"), text);
        QTest::keyClick(&child<QLineEdit>("typed"), Qt::Key_Return);
    }
    QTableWidget& table() { return child<QTableWidget>("beds"); }
};

} // namespace

TEST_CASE("bed words: sizes, names, machines", "[beds_panel]")
{
    const Bed box{"300x300x400", Bed::Shape::Rectangular, 300, 300, 400, 1};
    CHECK(bedWords(box) == "300 × 300 × 400 mm");
    CHECK(bedWords({"tower", Bed::Shape::Round, 250, 250, 300, 2}) ==
          "tower (round, 250 mm across, 300 mm high), 2 machines");
}

TEST_CASE_METHOD(Fixture, "beds panel: a typed size is added, with its machines", "[beds_panel]")
{
    type("300x300x400*2");
    type("d250x300");
    type("30x30x40cm");
    // The third is the first again.
    REQUIRE(told.size() == 2);
    REQUIRE(panel.choice().beds.size() == 2);
    CHECK(panel.choice().beds[0].machines == 2);
    CHECK(panel.choice().beds[1].shape == Bed::Shape::Round);
    CHECK(child<ProblemLine>("typedProblem").words().contains("in the list already"));
    CHECK(table().item(1, 1)->text() == "round, 250 mm across, 300 mm high");
}

TEST_CASE_METHOD(Fixture, "beds panel: what is no bed is explained beside the field and left to be mended",
                 "[beds_panel]")
{
    type("300x300");
    CHECK(told.empty());
    CHECK(child<ProblemLine>("typedProblem").isVisible());
    CHECK(child<ProblemLine>("typedProblem").words().contains("2 lengths, not 3"));
    CHECK(child<QLineEdit>("typed").text() == "300x300");
    QTest::keyClicks(&child<QLineEdit>("typed"), "x400");
    CHECK_FALSE(child<ProblemLine>("typedProblem").isVisible());
    QTest::keyClick(&child<QLineEdit>("typed"), Qt::Key_Return);
    CHECK(panel.choice().beds.size() == 1);
}

TEST_CASE_METHOD(Fixture, "beds panel: beds come from the shelf, own ones and shipped ones", "[beds_panel]")
{
    auto& shelf = child<QComboBox>("shelf");
    CHECK(shelf.currentIndex() == 0);
    CHECK(shelf.itemText(0) == "big one (600 × 600 × 800 mm)");
    click("addShelf");
    shelf.setCurrentIndex(shelf.findText("120 × 120 × 120 mm"));
    click("addShelf");
    shelf.setCurrentIndex(shelf.count() - 1);
    click("addShelf");
    REQUIRE(panel.choice().beds.size() == 3);
    CHECK(panel.choice().beds[0].name == "big one");
    CHECK(panel.choice().beds[1].widthMm == 120);
    CHECK(panel.choice().beds[2].name == core::shippedBeds().back().name);
}

TEST_CASE_METHOD(Fixture, "beds panel: machines, renaming, removing", "[beds_panel]")
{
    type("200x200x200");
    type("d180x300");
    auto* machines = qobject_cast<QSpinBox*>(table().cellWidget(0, 2));
    REQUIRE(machines);
    // The document sends back what it was told, while the field is in use.
    QObject::connect(&panel, &BedsPanel::changed, &panel, [this](const BedsChoice& c) { panel.setChoice(c); });
    machines->setFocus();
    QTest::keyClick(machines, Qt::Key_Up);
    QTest::keyClick(machines, Qt::Key_Up);
    CHECK(panel.choice().beds[0].machines == 3);
    table().item(0, 0)->setText("left one");
    CHECK(panel.choice().beds[0].name == "left one");
    CHECK(told.back().beds[0].name == "left one");
    const std::size_t before = told.size();
    table().item(0, 0)->setText("a*b");
    CHECK(child<ProblemLine>("nameProblem").isVisible());
    CHECK(table().item(0, 0)->text() == "left one");
    table().item(0, 0)->setText("d180x300");
    CHECK(child<ProblemLine>("nameProblem").words().contains("Another bed"));
    CHECK(told.size() == before);
    table().selectRow(0);
    table().setFocus();
    QTest::keyClick(&table(), Qt::Key_Delete);
    REQUIRE(panel.choice().beds.size() == 1);
    CHECK(panel.choice().beds[0].name == "d180x300");
    click("remove");
    CHECK(panel.choice().beds.empty());
    CHECK_FALSE(child<QPushButton>("remove").isEnabled());
    CHECK(child<QPushButton>("remove").toolTip().contains("select a bed"));
}

TEST_CASE_METHOD(Fixture, "beds panel: own beds are kept on the shelf and taken off it", "[beds_panel]")
{
    type("310x310x310");
    CHECK(child<QPushButton>("keep").isEnabled());
    click("keep");
    REQUIRE(kept.size() == 1);
    CHECK(kept[0].widthMm == 310);
    panel.setShelf(kept, core::shippedBeds());
    CHECK_FALSE(child<QPushButton>("keep").isEnabled());
    CHECK(child<QPushButton>("keep").toolTip().contains("already"));
    click("forget");
    CHECK(forgotten == QStringList{"310x310x310"});
    type("120x120x120");
    CHECK_FALSE(child<QPushButton>("forget").isEnabled());
    CHECK(child<QPushButton>("forget").toolTip().contains("comes with the program"));
    panel.showShelfProblem("The list of beds can't be written.");
    CHECK(child<ProblemLine>("shelfProblem").isVisible());
}

TEST_CASE_METHOD(Fixture, "beds panel: margin and how pieces lie", "[beds_panel]")
{
    auto& margin = child<LengthEdit>("margin");
    const auto typeMargin = [&](const char* text) {
        margin.setFocus();
        margin.selectAll();
        QTest::keyClicks(&margin, text);
        QTest::keyClick(&margin, Qt::Key_Return);
    };
    typeMargin("1 cm");
    CHECK(panel.choice().marginMm == 10);
    typeMargin("wide");
    CHECK_FALSE(margin.problem().isEmpty());
    CHECK(panel.choice().marginMm == 10);
    typeMargin("-3");
    CHECK_FALSE(margin.problem().isEmpty());
    typeMargin("0");
    CHECK(panel.choice().marginMm == 0);
    CHECK(margin.problem().isEmpty());
    CHECK(told.size() == 2);
    const std::size_t before = told.size();
    child<QCheckBox>("anyRotation").click();
    child<QCheckBox>("islandsApart").click();
    CHECK(told.size() == before + 2);
    CHECK(panel.choice().anyRotation);
    CHECK_FALSE(panel.choice().islandsApart);
    panel.setChoice({});
    CHECK(told.size() == before + 2);
    CHECK_FALSE(child<QCheckBox>("anyRotation").isChecked());
}
