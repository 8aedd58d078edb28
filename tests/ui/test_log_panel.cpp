// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/log_panel.h"
#include "ui/theme.h"

#include <QClipboard>
#include <QScrollBar>
#include <QSignalSpy>
#include <QTest>
#include <QToolButton>
#include <QTreeView>

#include <catch2/catch.hpp>

using namespace quoin;
using ui::LogLine;
using ui::LogModel;
using ui::LogPanel;

namespace {

struct Window : test::WithApplication {
    Window()
    {
        ui::applyTheme(test::application(), ui::Theme::Light);
        const QDateTime start(QDate(2026, 5, 1), QTime(10, 12, 13));
        panel.append(LogLine{start, Note::Severity::Info, "heron.stl opened: 1 body, 48 212 triangles"});
        panel.append(LogLine{start.addSecs(2), Note::Severity::Warning, "3 holes closed"});
        panel.append(
            LogLine{start.addSecs(65), Note::Severity::Error, "wing.stl: the file ends inside facet 17 of 200"});
        test::show(panel, {640, 240});
        view = panel.findChild<QTreeView*>();
    }
    QToolButton* button(const QString& name) const
    {
        for (auto* b : panel.findChildren<QToolButton*>())
            if (b->text().remove('&') == name)
                return b;
        return nullptr;
    }
    static QString clipboard() { return QGuiApplication::clipboard()->text(); }
    LogPanel panel;
    QTreeView* view = nullptr;
};

} // namespace

TEST_CASE("log panel: all lines are copied with time, word and text")
{
    Window w;
    QTest::mouseClick(w.button("Copy all"), Qt::LeftButton);
    CHECK(Window::clipboard() == "2026-05-01 10:12:13  note  heron.stl opened: 1 body, 48 212 triangles\n"
                                 "2026-05-01 10:12:15  warning  3 holes closed\n"
                                 "2026-05-01 10:13:18  error  wing.stl: the file ends inside facet 17 of 200");
}

TEST_CASE("log panel: selected lines are copied in their order")
{
    Window w;
    CHECK_FALSE(w.button("Copy selected")->isEnabled());
    CHECK(w.button("Copy selected")->toolTip().contains("Select lines first"));
    const auto click = [&w](int row, Qt::KeyboardModifiers keys) {
        QTest::mouseClick(w.view->viewport(), Qt::LeftButton, keys,
                          w.view->visualRect(w.view->model()->index(row, 2)).center());
    };
    click(2, {});
    click(0, Qt::ControlModifier);
    w.view->setFocus();
    QTest::keyClick(w.view, Qt::Key_C, Qt::ControlModifier);
    const QStringList lines = Window::clipboard().split('\n');
    REQUIRE(lines.size() == 2);
    CHECK(lines[0].contains("heron.stl"));
    CHECK(lines[1].contains("wing.stl"));
}

TEST_CASE("log panel: cleared, notes and problems put in words")
{
    Window w;
    QSignalSpy cleared(&w.panel, &LogPanel::cleared);
    QTest::mouseClick(w.button("Clear"), Qt::LeftButton);
    CHECK(cleared.count() == 1);
    CHECK(w.panel.lineCount() == 0);
    CHECK_FALSE(w.button("Copy all")->isEnabled());
    w.panel.append(Note{Note::Severity::Warning, "two bodies overlap", "(1.0, 2.0, 3.0) mm"});
    w.panel.append(Problem{Reason::FileMissing, "there is no such file", "wing.stl", "", "Check the name."});
    CHECK(w.panel.allText().contains("warning  two bodies overlap at (1.0, 2.0, 3.0) mm"));
    CHECK(w.panel.allText().contains("Check the name."));
}

TEST_CASE("log panel: follows the end unless scrolled away, and forgets the oldest")
{
    Window w;
    for (int i = 0; i < 200; ++i)
        w.panel.append(LogLine{QDateTime::currentDateTime(), Note::Severity::Info, QString("line %1").arg(i)});
    QCoreApplication::processEvents();
    QScrollBar* bar = w.view->verticalScrollBar();
    REQUIRE(bar->maximum() > 0);
    CHECK(bar->value() == bar->maximum());
    bar->setValue(10);
    w.panel.append(LogLine{QDateTime::currentDateTime(), Note::Severity::Info, "one more"});
    QCoreApplication::processEvents();
    CHECK(bar->value() == 10);
    for (int i = 0; i < LogModel::mostLines; ++i)
        w.panel.append(LogLine{QDateTime::currentDateTime(), Note::Severity::Info, QString("later %1").arg(i)});
    CHECK(w.panel.lineCount() == LogModel::mostLines);
    CHECK_FALSE(w.panel.allText().contains("one more"));
}

TEST_CASE("log panel: how it looks")
{
    for (const bool dark : {false, true}) {
        Window w;
        ui::applyTheme(test::application(), dark ? ui::Theme::Dark : ui::Theme::Light);
        test::picture(w.panel, dark ? "log_panel_dark" : "log_panel_light");
    }
    ui::applyTheme(test::application(), ui::Theme::Light);
}
