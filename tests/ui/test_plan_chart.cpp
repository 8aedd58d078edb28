// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/chart_style.h"
#include "ui/plan_chart.h"
#include "ui/plan_time.h"

#include <QScrollBar>
#include <QSignalSpy>
#include <QTest>
#include <QVBoxLayout>
#include <QWheelEvent>

#include <catch2/catch.hpp>

using namespace quoin;
using ui::ChartBar;
using ui::CivilMinute;
using ui::PlanChart;

namespace {

/// 2026-12-01 is a Tuesday: the Gregorian calendar.
CivilMinute at(int day, int hour, int minute = 0)
{
    return ui::minuteOf(QDateTime(QDate(2026, 12, day), QTime(hour, minute), Qt::UTC));
}

ui::ChartData twoMachines()
{
    ui::ChartData d;
    d.from = at(1, 0);
    d.to = at(15, 0);
    for (const char* name : {"big one", "small one"}) {
        ui::ChartRow row{name, QString("%1: attended mon-fri 8-18").arg(name), {}};
        for (int day = 1; day < 15; ++day)
            if (QDate(2026, 12, day).dayOfWeek() < 6)
                row.attended.emplace_back(at(day, 8), at(day, 18));
        d.rows.push_back(row);
    }
    d.bars = {{10, 0, at(1, 8), at(1, 12), at(1, 12), "1", "plate 1", ChartBar::Kind::TestFit},
              {11, 0, at(1, 13), at(3, 2), at(3, 8), "3", "plate 3", ChartBar::Kind::Ordinary},
              {12, 0, at(3, 9), at(7, 12), at(7, 12), "5", "plate 5", ChartBar::Kind::Ordinary},
              {20, 1, at(1, 9), at(2, 9), at(2, 9), "2", "plate 2", ChartBar::Kind::Wished},
              {21, 1, at(2, 10), at(9, 17), at(9, 17), "4", "plate 4", ChartBar::Kind::Ordinary}};
    d.deadline = at(12, 18);
    d.now = at(2, 15);
    return d;
}

struct ChartWindow : test::WithApplication {
    ChartWindow()
    {
        auto* layout = new QVBoxLayout(&window);
        layout->addWidget(&chart, 1);
        layout->addWidget(&legend);
        chart.setData(twoMachines());
        test::show(window, {900, 260});
    }
    void key(Qt::Key key) { QTest::keyClick(&chart, key); }
    void click(int id)
    {
        QTest::mouseClick(chart.viewport(), Qt::LeftButton, {}, chart.barRect(id).center().toPoint());
    }
    QWidget window;
    PlanChart chart;
    ui::ChartLegend legend;
};

} // namespace

TEST_CASE("plan chart: bars lie where their hours are, on the row of their machine")
{
    ChartWindow w;
    const QRectF first = w.chart.barRect(10), long3 = w.chart.barRect(11), other = w.chart.barRect(20);
    CHECK(long3.width() / first.width() == Approx(37.0 / 4).epsilon(0.01));
    CHECK(long3.left() - first.left() == Approx(5 * w.chart.pixelsPerHour()).margin(0.01));
    CHECK(first.top() == long3.top());
    CHECK(other.top() > first.bottom());
    CHECK(w.chart.barRect(99).isEmpty());
    // All of it is there at first.
    CHECK(w.chart.showsAll());
    CHECK(w.chart.horizontalScrollBar()->maximum() == 0);
    CHECK(w.chart.barRect(21).right() < w.chart.viewport()->width());
}

TEST_CASE("plan chart: clicks and arrow keys choose a print")
{
    ChartWindow w;
    QSignalSpy chosen(&w.chart, &PlanChart::selected);
    w.click(11);
    REQUIRE(chosen.count() == 1);
    CHECK(chosen.last()[0].toInt() == 11);
    CHECK(w.chart.accessibleDescription() == "plate 3");
    w.key(Qt::Key_Right);
    CHECK(w.chart.selectedId() == 12);
    w.key(Qt::Key_Right);
    CHECK(w.chart.selectedId() == 12); // the last of its row
    w.key(Qt::Key_Down);
    CHECK(w.chart.selectedId() == 21); // the nearest in time
    w.key(Qt::Key_Left);
    CHECK(w.chart.selectedId() == 20);
    w.key(Qt::Key_Up);
    CHECK(w.chart.selectedId() == 10);
    w.key(Qt::Key_End);
    CHECK(w.chart.selectedId() == 21);
    const auto before = chosen.count();
    w.chart.select(10); // told, not asked
    CHECK(chosen.count() == before);
    CHECK(w.chart.selectedId() == 10);
    QTest::mouseClick(w.chart.viewport(), Qt::LeftButton, {},
                      QPoint(w.chart.viewport()->width() - 5, w.chart.viewport()->height() / 3));
    CHECK(w.chart.selectedId() == -1);
}

TEST_CASE("plan chart: zooming keeps what is under the pointer, and what is chosen by keys comes into sight")
{
    ChartWindow w;
    const QPointF at = w.chart.barRect(12).center();
    const double before = w.chart.pixelsPerHour();
    QWheelEvent wheel(at, w.chart.viewport()->mapToGlobal(at), {}, QPoint(0, 480), Qt::NoButton, Qt::ControlModifier,
                      Qt::NoScrollPhase, false);
    QCoreApplication::sendEvent(w.chart.viewport(), &wheel);
    CHECK(w.chart.pixelsPerHour() == Approx(before * 1.25 * 1.25 * 1.25 * 1.25));
    CHECK(w.chart.barRect(12).center().x() == Approx(at.x()).margin(1));
    CHECK(w.chart.horizontalScrollBar()->maximum() > 0);
    w.key(Qt::Key_Home);
    CHECK(w.chart.barRect(10).left() >= 0);
    CHECK(w.chart.barRect(10).right() < w.chart.viewport()->width());
    w.key(Qt::Key_0);
    CHECK(w.chart.showsAll());
    w.key(Qt::Key_Plus);
    CHECK(w.chart.pixelsPerHour() == Approx(before * 1.25));
    for (int i = 0; i < 5; ++i)
        w.key(Qt::Key_Minus);
    CHECK(w.chart.showsAll()); // never less than all
}

TEST_CASE("plan chart: a new plan keeps the selection while its print is there")
{
    ChartWindow w;
    w.click(20);
    ui::ChartData less = twoMachines();
    less.bars.pop_back();
    w.chart.setData(less);
    CHECK(w.chart.selectedId() == 20);
    less.bars.pop_back();
    w.chart.setData(less);
    CHECK(w.chart.selectedId() == -1);
}

TEST_CASE("plan chart: numbers on bars are readable, in light and dark")
{
    // WCAG 2.1, success criterion 1.4.6: 7:1 for text; 1.4.11: 3:1 for what tells something.
    for (const QPalette& palette : {ui::lightPalette(), ui::darkPalette()}) {
        const ui::ChartStyle s(palette);
        CHECK(ui::contrastRatio(s.onFill, s.fill) >= 7);
        CHECK(ui::contrastRatio(s.deadline, s.ground) >= 3);
        CHECK(ui::contrastRatio(s.deadline, s.attended) >= 3);
        CHECK(ui::contrastRatio(s.now, s.attended) >= 3);
        CHECK(ui::contrastRatio(s.ink, s.attended) >= 7);
        CHECK(ui::contrastRatio(s.select, s.ground) >= 3);
    }
}

TEST_CASE("plan chart: how it looks")
{
    for (const bool dark : {false, true}) {
        ui::applyTheme(test::application(), dark ? ui::Theme::Dark : ui::Theme::Light);
        ChartWindow w;
        w.click(11);
        test::picture(w.window, dark ? "plan_chart_dark" : "plan_chart_light");
    }
    ui::applyTheme(test::application(), ui::Theme::Light);
}

TEST_CASE("plan time: moments and hours in words")
{
    CHECK(ui::momentWords(at(1, 8, 30)) == "Tue 1 Dec 08:30");
    CHECK(ui::dateTimeOf(at(1, 8, 30)).time() == QTime(8, 30));
    CHECK(ui::minuteOf(ui::dateTimeOf(at(5, 1))) == at(5, 1));
    CHECK(at(1, 0) == 20788LL * 24 * 60); // days from 1970-01-01 to 2026-12-01: 56 years of 365 and 14 leap days, 334
    CHECK(ui::hoursWords(0.5) == "30 min");
    CHECK(ui::hoursWords(5.2) == "5.2 h");
    CHECK(ui::hoursWords(38.4) == "38 h");
    CHECK(ui::hoursWords(292) == "12 d 4 h");
    CHECK(ui::hoursWords(240) == "10 d");
}
