// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/ui/application.h"
#include "ui/strength_panel.h"
#include "ui/theme.h"

#include <QLabel>
#include <QSignalSpy>
#include <QTest>
#include <QTreeWidget>

#include <catch2/catch.hpp>

#include <limits>

using namespace quoin;
using namespace quoin::ui;

namespace {

FaceStrength strength(const char* mark, double safety, bool low)
{
    core::StrengthCheck shear = core::checked("dowel sheared off", 10, 10 * safety, "MPa", "F / A with F = 785 N",
                                              "Shigley, ch. 3; PLA, a handbook");
    core::StrengthCheck bearing = core::checked("wall pressed", 1, 90, "MPa", "F / (d t)", "Shigley, ch. 8");
    return {safety, low, QString("seam %1 (piece 2 on 1): 3 kg hang on it").arg(mark), mark, {shear, bearing}};
}

struct Panel : test::WithApplication {
    StrengthPanel panel;
    Panel()
    {
        test::show(panel, {380, 900});
        panel.setRows({{0, "A", 1, 2, strength("A", 8, false)},
                       {1, "B", 2, 3, strength("B", 1.7, true)},
                       {2, "C", 3, 4, std::nullopt}},
                      3, {"Load: own weight in PLA times 2 for shocks."});
    }
    QTreeWidget& list() { return *panel.findChild<QTreeWidget*>(); }
    bool says(const QString& words)
    {
        for (const QLabel* label : panel.findChildren<QLabel*>())
            if (label->isVisible() && label->text().contains(words))
                return true;
        return false;
    }
};

} // namespace

TEST_CASE_METHOD(Panel, "strength panel: the weakest face stands first, with its number and its check")
{
    REQUIRE(list().topLevelItemCount() == 3);
    CHECK(list().topLevelItem(0)->text(0) == "B,  2 | 3");
    CHECK(list().topLevelItem(0)->text(1) == "1.7");
    CHECK(list().topLevelItem(0)->text(2) == "dowel sheared off");
    CHECK_FALSE(list().topLevelItem(0)->icon(1).isNull());
    CHECK(list().topLevelItem(2)->text(1) == "no load");
    CHECK(says("Weakest: face B, safety 1.7. One is below 3."));
}

TEST_CASE_METHOD(Panel, "strength panel: every check of the chosen face is told with numbers, formula and source")
{
    QSignalSpy spy(&panel, &StrengthPanel::faceSelected);
    list().setFocus();
    QTest::keyClick(&list(), Qt::Key_Down);
    QTest::keyClick(&list(), Qt::Key_Up);
    REQUIRE(spy.count() >= 1);
    CHECK(spy.back()[0].toInt() == 1);
    const QString detail = panel.detail();
    for (const char* words :
         {"Face B: safety 1.7, below 3", "3 kg hang on it", "Dowel sheared off: safety 1.7, too low",
          "Asked: 10 MPa. It bears: 17 MPa.", "F / A with F = 785 N", "Shigley, ch. 3", "Wall pressed: safety 90.0",
          "own weight in PLA times 2"}) {
        CAPTURE(words, detail.toStdString());
        CHECK(detail.contains(words));
    }
    test::picture(panel, "strength-panel");
    applyTheme(test::application(), Theme::Dark);
    test::picture(panel, "strength-panel-dark");
    applyTheme(test::application(), Theme::Light);
    panel.select(2);
    CHECK(panel.detail().contains("Nothing hangs on this face"));
    CHECK(list().currentItem()->text(0) == "C,  3 | 4");
}

TEST_CASE_METHOD(Panel, "strength panel: while figures are reckoned anew, and when there are none")
{
    panel.setBusy(true);
    CHECK(says("Being reckoned anew"));
    panel.setBusy(false);
    CHECK_FALSE(says("Being reckoned"));
    panel.setWhyNone("No figures: there is no piece 9 to hold the part by.");
    CHECK(says("there is no piece 9"));
    CHECK(list().isHidden());
    CHECK(panel.detail().isEmpty());
}
