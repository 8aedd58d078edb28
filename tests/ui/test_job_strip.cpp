// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/job_strip.h"
#include "ui/theme.h"

#include <QLabel>
#include <QProgressBar>
#include <QSignalSpy>
#include <QTest>
#include <QToolButton>
#include <QVBoxLayout>

#include <catch2/catch.hpp>

using namespace quoin;
using ui::durationText;
using ui::JobStrip;

namespace {

struct Window : test::WithApplication {
    Window()
    {
        ui::applyTheme(test::application(), ui::Theme::Light);
        auto* layout = new QVBoxLayout(&window);
        layout->addWidget(&strip);
        test::show(window, {760, 110});
    }
    bool says(const QString& words) const
    {
        for (auto* label : strip.findChildren<QLabel*>())
            if (label->isVisible() && label->text().contains(words))
                return true;
        return false;
    }
    QWidget window;
    JobStrip strip;
};

} // namespace

TEST_CASE("job strip: there only while something is going on")
{
    Window w;
    CHECK_FALSE(w.strip.isVisible());
    w.strip.start(7, "Cutting heron");
    CHECK(w.strip.isVisible());
    w.strip.start(8, "Reading wing.stl");
    w.strip.finish(7);
    CHECK(w.strip.isVisible());
    w.strip.finish(8);
    w.strip.finish(8);
    CHECK_FALSE(w.strip.isVisible());
}

TEST_CASE("job strip: stage in words, progress that never runs back")
{
    Window w;
    w.strip.start(7, "Cutting heron");
    auto* bar = w.strip.findChild<QProgressBar*>();
    REQUIRE(bar != nullptr);
    CHECK(bar->maximum() == 0); // not known yet
    w.strip.report(7, 0.4, "finding print poses");
    CHECK(w.says("finding print poses"));
    CHECK(bar->value() == 400);
    w.strip.report(7, 0.3, "laying out joints");
    CHECK(w.says("laying out joints"));
    CHECK(bar->value() == 400);
    w.strip.report(9, 0.5, "of no one"); // a late report of a job that is gone
    CHECK(w.strip.count() == 1);
    REQUIRE(QTest::qWaitFor([&] { return w.says("1 s"); }));
}

TEST_CASE("job strip: cancel is asked for once and says that it is on its way")
{
    Window w;
    QSignalSpy cancel(&w.strip, &JobStrip::cancelWanted);
    w.strip.start(7, "Cutting heron");
    QToolButton* button = nullptr;
    for (auto* b : w.strip.findChildren<QToolButton*>())
        if (b->accessibleName() == "Cancel: Cutting heron")
            button = b;
    REQUIRE(button != nullptr);
    QTest::mouseClick(button, Qt::LeftButton);
    QTest::mouseClick(button, Qt::LeftButton);
    REQUIRE(cancel.count() == 1);
    CHECK(cancel[0][0].toInt() == 7);
    w.strip.report(7, 0.5, "cutting");
    CHECK(w.says("stopping"));
    CHECK_FALSE(button->isEnabled());
    // A receiver may end the job at once, from within the click.
    w.strip.start(8, "Suggesting cuts");
    QObject::connect(&w.strip, &JobStrip::cancelWanted, &w.strip, &JobStrip::finish);
    for (auto* b : w.strip.findChildren<QToolButton*>())
        if (b->accessibleName() == "Cancel: Suggesting cuts")
            QTest::mouseClick(b, Qt::LeftButton);
    CHECK(w.strip.count() == 1);
}

TEST_CASE("job strip: many jobs take the room of few until all are asked for")
{
    Window w;
    const auto shown = [&] {
        int n = 0;
        for (auto* bar : w.strip.findChildren<QProgressBar*>())
            n += bar->isVisible();
        return n;
    };
    const auto more = [&]() -> QToolButton* {
        for (auto* b : w.strip.findChildren<QToolButton*>())
            if (b->isVisible() && (b->text().startsWith("and ") || b->text().startsWith("Show ")))
                return b;
        return nullptr;
    };
    for (int job = 1; job <= 5; ++job)
        w.strip.start(job, QString("Cutting part %1").arg(job));
    CHECK(w.strip.count() == 5);
    CHECK(shown() == 2);
    REQUIRE(more() != nullptr);
    CHECK(more()->text() == "and 3 more");
    QTest::mouseClick(more(), Qt::LeftButton);
    CHECK(shown() == 5);
    QTest::mouseClick(more(), Qt::LeftButton);
    CHECK(shown() == 2);
    w.strip.finish(1);
    CHECK(w.says("Cutting part 3"));
    w.strip.finish(2);
    w.strip.finish(3);
    CHECK(more() == nullptr);
    CHECK(shown() == 2);
}

TEST_CASE("job strip: durations in words")
{
    CHECK(durationText(0) == "0 s");
    CHECK(durationText(59999) == "59 s");
    CHECK(durationText(187000) == "3 min 07 s");
    CHECK(durationText(3725000) == "1 h 02 min");
}

TEST_CASE("job strip: how it looks")
{
    for (const bool dark : {false, true}) {
        Window w;
        ui::applyTheme(test::application(), dark ? ui::Theme::Dark : ui::Theme::Light);
        w.strip.start(7, "Cutting heron");
        w.strip.report(7, 0.62, "finding print poses");
        w.strip.start(8, "Reading wing.stl", false);
        test::picture(w.window, dark ? "job_strip_dark" : "job_strip_light");
    }
    ui::applyTheme(test::application(), ui::Theme::Light);
}
