// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/beds_panel.h"
#include "ui/problem_line.h"
#include "ui/suggest_panel.h"
#include "ui/theme.h"

#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTest>

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::ui;

namespace {

/// A theme and a size of letters for as long as it lives.
struct Look {
    QFont font = QApplication::font();
    Look(bool dark, double times)
    {
        applyTheme(test::application(), dark ? Theme::Dark : Theme::Light);
        QFont larger = font;
        larger.setPointSizeF(font.pointSizeF() * times);
        QApplication::setFont(larger);
    }
    ~Look()
    {
        applyTheme(test::application(), Theme::Light);
        QApplication::setFont(font);
    }
};

/// No text of labels and buttons is cut off.
void checkNothingClipped(QWidget& panel)
{
    QCoreApplication::processEvents();
    for (const QPushButton* button : panel.findChildren<QPushButton*>())
        if (button->isVisible()) {
            INFO(button->objectName().toStdString());
            CHECK(button->width() >= button->sizeHint().width());
            CHECK(button->height() >= button->sizeHint().height());
        }
    for (const QLabel* label : panel.findChildren<QLabel*>())
        if (label->isVisible() && label->wordWrap()) {
            INFO(label->text().toStdString());
            CHECK(label->height() >= label->heightForWidth(label->width()));
        }
}

core::SuggestionTerms terms(int pieces, double areaCm2, double share)
{
    core::SuggestionTerms t;
    t.pieces = pieces;
    t.bound = {6, "volume: 5.21 beds"};
    t.seams = pieces + 3;
    t.cutAreaCm2 = areaCm2;
    t.seamsWithoutRoom = pieces > 8 ? 0 : 1;
    t.largestCm3 = 1832;
    t.smallestCm3 = share * 5400.0 / pieces;
    t.smallestShare = share;
    t.longestMm = 188;
    t.standFlat = pieces;
    return t;
}

void fill(SuggestPanel& panel)
{
    panel.setStart({"heron body",
                    {{"300x300x400", core::Bed::Shape::Rectangular, 300, 300, 400, 2},
                     {"tower", core::Bed::Shape::Round, 250, 250, 300, 1}},
                    5,
                    3,
                    1240,
                    8310});
    core::SuggestionTerms present = terms(4, 210, 0.9);
    present.tooLarge = 2;
    present.largestOverhangMm = 63.4;
    panel.setPresent(&present);
    panel.finish("a grid of 3 x 3 x 1 cells along the part's own axes", terms(9, 431, 0.55), 8, false);
    panel.finish("a grid of 2 x 4 x 1 cells", terms(8, 520, 0.08), 12, true);
}

} // namespace

TEST_CASE("suggest panel and beds panel: light, dark, 200 %", "[suggest_panel][beds_panel]")
{
    test::application();
    const auto [dark, times, name] = GENERATE(table<bool, double, const char*>(
        {{false, 1, "light"}, {true, 1, "dark"}, {false, 2, "light_200"}, {true, 2, "dark_200"}}));
    const Look look(dark, times);
    {
        SuggestPanel panel;
        fill(panel);
        test::show(panel, QSize(560, 720) * times);
        checkNothingClipped(panel);
        test::picture(panel, QStringLiteral("suggest_%1").arg(name));
        panel.begin();
        panel.setProgress(0.42, 12.6);
        panel.setBest(8, {6, "volume: 5.21 beds"}, 3.2);
        checkNothingClipped(panel);
        test::picture(panel, QStringLiteral("suggest_busy_%1").arg(name));
    }
    BedsPanel panel;
    panel.setShelf({{"big one", core::Bed::Shape::Rectangular, 600, 500, 800, 1}}, core::shippedBeds());
    panel.setChoice({{{"300x300x400", core::Bed::Shape::Rectangular, 300, 300, 400, 2},
                      {"tower", core::Bed::Shape::Round, 250, 250, 300, 1},
                      {"big one", core::Bed::Shape::Rectangular, 600, 500, 800, 1}},
                     5,
                     false,
                     true});
    test::show(panel, QSize(520, 620) * times);
    auto* typed = panel.findChild<QLineEdit*>("typed");
    typed->setFocus();
    QTest::keyClicks(typed, "300x300");
    QTest::keyClick(typed, Qt::Key_Return);
    checkNothingClipped(panel);
    test::picture(panel, QStringLiteral("beds_%1").arg(name));
}
