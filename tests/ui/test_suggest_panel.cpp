// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/problem_line.h"
#include "ui/suggest_panel.h"

#include <QComboBox>
#include <QDoubleSpinBox>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QRadioButton>
#include <QSpinBox>
#include <QTest>
#include <QToolButton>

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::ui;

namespace {

core::SuggestionTerms terms(int pieces, double areaCm2)
{
    core::SuggestionTerms t;
    t.pieces = pieces;
    t.bound = {6, "volume: 5.21 beds"};
    t.seams = pieces + 2;
    t.cutAreaCm2 = areaCm2;
    t.seamsWithoutRoom = pieces > 8 ? 0 : 1;
    t.largestCm3 = 1832;
    t.smallestCm3 = 5400.0 / pieces / 2;
    t.smallestShare = 0.5;
    t.longestMm = 188;
    t.standFlat = pieces;
    return t;
}

struct Fixture : test::WithApplication {
    SuggestPanel panel;
    SuggestStart start{"heron body", {{"300x300x400", core::Bed::Shape::Rectangular, 300, 300, 400, 2}}, 5, 3, 1240,
                       8310};
    std::vector<SuggestWish> wishes;
    std::vector<int> previews, accepted, discarded, picked;
    int cancels = 0, clears = 0, beds = 0;

    Fixture()
    {
        QObject::connect(&panel, &SuggestPanel::startWanted, [this](const SuggestWish& w) { wishes.push_back(w); });
        QObject::connect(&panel, &SuggestPanel::cancelWanted, [this] { ++cancels; });
        QObject::connect(&panel, &SuggestPanel::clearMarksWanted, [this] { ++clears; });
        QObject::connect(&panel, &SuggestPanel::bedsWanted, [this] { ++beds; });
        QObject::connect(&panel, &SuggestPanel::previewWanted, [this](int id) { previews.push_back(id); });
        QObject::connect(&panel, &SuggestPanel::acceptWanted, [this](int id) { accepted.push_back(id); });
        QObject::connect(&panel, &SuggestPanel::cutPicked, [this](int node) { picked.push_back(node); });
        QObject::connect(&panel, &SuggestPanel::discarded, [this](int id) { discarded.push_back(id); });
        panel.setStart(start);
        test::show(panel, {560, 760});
    }
    template <class T>
    T& child(const char* name)
    {
        T* found = panel.findChild<T*>(name);
        REQUIRE(found);
        return *found;
    }
    QPushButton& button(const char* name) { return child<QPushButton>(name); }
    void click(const char* name)
    {
        // The layout first: a button that moves between press and release isn't clicked.
        QCoreApplication::processEvents();
        QTest::mouseClick(&button(name), Qt::LeftButton);
    }
    SuggestionTable& table() { return child<SuggestionTable>("suggestions"); }
    QString cell(const char* term, int column)
    {
        for (int row = 0; row < table().rowCount(); ++row)
            if (table().verticalHeaderItem(row)->text() == term)
                return table().item(row, column)->text();
        return {};
    }
};

} // namespace

TEST_CASE_METHOD(Fixture, "suggest panel: what it starts from is said in words", "[suggest_panel]")
{
    CHECK(child<QLabel>("bedWords").text() == "300 × 300 × 400 mm, 2 machines; margin 5 mm");
    CHECK(child<QLabel>("markWords").text().contains("83 cm²"));
    CHECK(child<QRadioButton>("keepOwn").text().contains("3 cuts"));
    CHECK(child<QSpinBox>("seconds").value() == 30);
    click("clearMarks");
    click("changeBeds");
    CHECK(clears == 1);
    CHECK(beds == 1);
    click("start");
    REQUIRE(wishes.size() == 1);
    CHECK(wishes[0].seconds == 30);
    CHECK(wishes[0].keepOwnCuts);
    QTest::mouseClick(&child<QRadioButton>("afresh"), Qt::LeftButton, {},
                      {8, child<QRadioButton>("afresh").height() / 2});
    child<QSpinBox>("seconds").setFocus();
    child<QSpinBox>("seconds").selectAll();
    QTest::keyClicks(&child<QSpinBox>("seconds"), "90");
    click("start");
    REQUIRE(wishes.size() == 2);
    CHECK(wishes[1].seconds == 90);
    CHECK_FALSE(wishes[1].keepOwnCuts);
}

TEST_CASE_METHOD(Fixture, "suggest panel: what can't be done says why", "[suggest_panel]")
{
    CHECK_FALSE(button("cancel").isEnabled());
    CHECK_FALSE(button("cancel").toolTip().isEmpty());
    CHECK_FALSE(button("accept").isEnabled());
    CHECK(button("accept").toolTip().contains("select a suggestion"));
    SuggestStart bare{"heron body", {}, 5, 0, 0, 0};
    panel.setStart(bare);
    CHECK_FALSE(button("start").isEnabled());
    CHECK(button("start").toolTip().contains("choose a bed"));
    CHECK_FALSE(button("clearMarks").isEnabled());
    CHECK(button("clearMarks").toolTip().contains("Nothing is marked"));
    CHECK_FALSE(child<QRadioButton>("keepOwn").isEnabled());
    CHECK(child<QRadioButton>("keepOwn").toolTip().contains("no cuts yet"));
    CHECK_FALSE(panel.wish().keepOwnCuts);
    panel.setStart({});
    CHECK(button("start").toolTip().contains("choose a part"));
}

TEST_CASE_METHOD(Fixture, "suggest panel: progress with the best so far, and stopping", "[suggest_panel]")
{
    auto& bar = *panel.findChild<QProgressBar*>();
    CHECK_FALSE(bar.isVisible());
    panel.begin();
    CHECK(bar.isVisible());
    CHECK_FALSE(button("start").isEnabled());
    CHECK(button("cancel").toolTip().contains("No way of cutting has been found"));
    panel.setProgress(0.4, 7.4);
    panel.setBest(9, {6, "volume: 5.21 beds"}, 3.2);
    CHECK(bar.value() == 400);
    CHECK(child<QLabel>("best").text() ==
          "Best so far: 9 pieces, found after 3.2 s. No way needs fewer than 6 (volume: "
          "5.21 beds).");
    CHECK(button("cancel").toolTip().contains("keeps the best"));
    click("cancel");
    CHECK(cancels == 1);
    CHECK_FALSE(button("cancel").isEnabled());
    const int id = panel.finish("a grid of 3 x 3 x 1 cells along the part's own axes", terms(9, 431), 8, true);
    CHECK_FALSE(panel.busy());
    CHECK_FALSE(bar.isVisible());
    CHECK(table().selectedId() == id);
    CHECK(previews == std::vector<int>{id});
    CHECK(table().horizontalHeaderItem(0)->toolTip().contains("stopped before"));
}

TEST_CASE_METHOD(Fixture, "suggest panel: refusals are shown, cancelling is none", "[suggest_panel]")
{
    panel.begin();
    panel.fail(
        {Reason::DoesNotFit, "marked places stand in the way", {}, "(1.0, 2.0, 3.0) mm", "Take some marks off."});
    CHECK(child<ProblemLine>("problem").words() ==
          "Marked places stand in the way, at (1.0, 2.0, 3.0) mm. Take some marks off.");
    panel.begin();
    CHECK_FALSE(child<ProblemLine>("problem").isVisible());
    panel.fail({Reason::Cancelled, "cancelled", {}, {}, {}});
    CHECK_FALSE(child<ProblemLine>("problem").isVisible());
    CHECK(button("start").isEnabled());
}

TEST_CASE_METHOD(Fixture, "suggest panel: suggestions are compared with the selected one by word and shape",
                 "[suggest_panel]")
{
    panel.begin();
    const int a = panel.finish("a grid", terms(9, 431), 8, false);
    panel.begin();
    const int b = panel.finish("another", terms(8, 520), 9, false);
    REQUIRE(table().columnCount() == 2);
    CHECK(table().selectedId() == b);
    CHECK(cell("Pieces", 0) == "9, worse");
    CHECK(cell("Cut area", 0) == "431 cm², better");
    CHECK(cell("Too small to joint", 0) == "none, better");
    CHECK(cell("Largest piece", 0) == "1832 cm³");
    CHECK(cell("Smallest piece", 0).endsWith("differs"));
    CHECK(cell("Pieces", 1) == "8");
    CHECK_FALSE(table().item(0, 0)->icon().isNull());
    CHECK(table().item(0, 1)->icon().isNull());
    // By keyboard to the other one.
    table().setFocus();
    QTest::keyClick(&table(), Qt::Key_Left);
    CHECK(table().selectedId() == a);
    CHECK(previews.back() == a);
    CHECK(cell("Pieces", 1) == "8, better");
    const core::SuggestionTerms present = terms(4, 100);
    panel.setPresent(&present);
    CHECK(table().columnCount() == 3);
    CHECK(table().selectedId() == a);
    CHECK(table().horizontalHeaderItem(0)->text() == "As it is");
    table().select(0);
    CHECK_FALSE(button("accept").isEnabled());
    CHECK(button("accept").toolTip().contains("present cuts"));
    CHECK(previews.back() == 0);
}

TEST_CASE_METHOD(Fixture, "suggest panel: accepting, discarding, and no more than six", "[suggest_panel]")
{
    std::vector<int> ids;
    for (int i = 0; i < 6; ++i) {
        panel.begin();
        ids.push_back(panel.finish("a grid", terms(9 + i, 431), 8, false));
    }
    CHECK_FALSE(button("start").isEnabled());
    CHECK(button("start").toolTip().contains("Discard one"));
    CHECK(panel.addOther("no room for it", terms(20, 1), 8) == 0);
    table().select(ids[1]);
    click("accept");
    CHECK(accepted == std::vector<int>{ids[1]});
    click("discard");
    CHECK(discarded == std::vector<int>{ids[1]});
    CHECK(table().columnCount() == 5);
    CHECK(table().selectedId() == -1);
    CHECK(previews.back() == 0);
    CHECK(button("start").isEnabled());
    SuggestStart other = start;
    other.part = "left wing";
    panel.setStart(other);
    CHECK(table().columnCount() == 0);
    CHECK_FALSE(table().isVisible());
}

TEST_CASE_METHOD(Fixture, "suggest panel: a preference sets the weights, own ones are named so", "[suggest_panel]")
{
    auto& preference = child<QComboBox>("preference");
    CHECK(panel.wish().weights == core::CutWeights{});
    CHECK(panel.wish().morePieces == 0);
    CHECK(panel.wish().alternatives == 3);
    CHECK(preference.currentText() == "Fewest pieces");
    preference.setFocus();
    QTest::keyClick(&preference, Qt::Key_Down);
    CHECK(preference.currentText() == "Hidden seams");
    CHECK(panel.wish().weights == core::weightsFor(core::CutPreference::HiddenSeams));
    CHECK_FALSE(child<QWidget>("eachWeight").isVisible());
    QCoreApplication::processEvents();
    QTest::mouseClick(&child<QToolButton>("weights"), Qt::LeftButton);
    CHECK(child<QWidget>("eachWeight").isVisible());
    for (const core::CutTermKind& kind : core::cutTermKinds()) {
        auto& box = child<QDoubleSpinBox>((std::string("weight_") + kind.key).c_str());
        CHECK(box.value() == core::weightsFor(core::CutPreference::HiddenSeams).*kind.weight);
        CHECK_FALSE(box.toolTip().isEmpty());
    }
    auto& area = child<QDoubleSpinBox>("weight_area");
    area.setFocus();
    area.selectAll();
    QTest::keyClicks(&area, QLocale().toString(1.5));
    QTest::keyClick(&area, Qt::Key_Tab);
    CHECK(preference.currentText() == "Own weights");
    core::CutWeights own = core::weightsFor(core::CutPreference::HiddenSeams);
    own.area = 1.5;
    CHECK(panel.wish().weights == own);
    child<QSpinBox>("morePieces").setValue(2);
    CHECK(panel.wish().morePieces == 2);
    preference.setFocus();
    QTest::keyClick(&preference, Qt::Key_Home);
    CHECK(preference.count() == 4);
    CHECK(panel.wish().weights == core::CutWeights{});
}

TEST_CASE_METHOD(Fixture, "suggest panel: the terms of the selected one by cut", "[suggest_panel]")
{
    auto& byCut = child<TermsTable>("termsByCut");
    panel.begin();
    panel.finish("a grid", terms(9, 431), 8, false);
    CHECK_FALSE(byCut.isVisible()); // not reckoned
    core::SuggestionTerms judged = terms(8, 520);
    judged.judged.judged = true;
    judged.judged.cuts.resize(2);
    judged.judged.cuts[1].seams = 0.25;
    judged.judged.total.seams = 0.25;
    panel.begin();
    const int found = panel.finish("another", judged, 9, false);
    judged.judged.cuts.resize(3);
    const int other = panel.addOther("a third", judged, 9);
    CHECK(other == found + 1);
    CHECK(table().selectedId() == found);
    CHECK(cell("Seams seen", 1) == "0.25");
    CHECK(cell("Seams seen", 0) == "not reckoned");
    REQUIRE(byCut.isVisible());
    REQUIRE(byCut.rowCount() == 4);
    CHECK(byCut.verticalHeaderItem(0)->text() == "Cut 1");
    CHECK(byCut.verticalHeaderItem(2)->text() == "All cuts");
    CHECK(byCut.item(1, 0)->text() == QString::number(0.25, 'f', 2));
    CHECK(byCut.item(3, 0)->text().startsWith("× "));
    byCut.selectRow(1);
    CHECK(picked == std::vector<int>{1});
    byCut.selectRow(2);
    CHECK(picked.back() == -1);
    table().select(other);
    CHECK(byCut.rowCount() == 5);
}
