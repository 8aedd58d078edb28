// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// Pictures of the window at every step, to be looked at by people: large in light colours and small in dark ones; the
// other two as well when QUOIN_ALL_PICTURES is set. What a program can see of them is checked.
#include "tests/support/shapes.h"
#include "tests/ui/window_fixture.h"
#include "ui/suggest_panel.h"
#include "ui/theme.h"

#include <QScrollArea>
#include <QScrollBar>
#include <QSpinBox>
#include <QSplitter>
#include <QTabWidget>
#include <QToolButton>

#include <catch2/catch.hpp>

#include <set>

using namespace quoin;
using test::WindowFixture;

namespace {

/// A lamp post with an arm and a foot: a model that is not a box.
mesh::Mesh lamp()
{
    return test::weldedTogether({test::ring(60, 14, 48, 24), test::moved(test::ring(30, 10, 40, 20), {200, 0, 0})});
}

struct PictureWindow : WindowFixture {
    PictureWindow(QSize size, bool isDark) : WindowFixture(size), dark(isDark), large(size.width() > 1200)
    {
        action(dark ? "dark" : "light").trigger();
    }
    ~PictureWindow() { action("system").trigger(); }

    QImage take(const QString& what)
    {
        const QString name =
            QStringLiteral("steps_%1_%2_%3").arg(what, large ? "large" : "small", dark ? "dark" : "light");
        const QImage image = shot(name);
        if (view().isVisible())
            checkView(image, what);
        checkWords(what);
        return image;
    }
    /// The model is seen: the view has many colours, and its corners are background.
    void checkView(const QImage& image, const QString& what)
    {
        CAPTURE(what.toStdString());
        const QRect where(view().mapTo(&window(), QPoint()), view().size());
        std::set<QRgb> colours;
        for (int y = where.top(); y < where.bottom(); y += 3)
            for (int x = where.left(); x < where.right(); x += 3)
                colours.insert(image.pixel(x, y));
        CHECK(colours.size() > 200);
        // The ground is seen at some corner at least.
        bool ground = false;
        for (const QPoint at : {where.topLeft() + QPoint(6, 6), where.topRight() + QPoint(-6, 6),
                                where.bottomLeft() + QPoint(6, -6), where.bottomRight() + QPoint(-6, -6)})
            ground = ground || (dark ? qGray(image.pixel(at)) < 110 : qGray(image.pixel(at)) > 190);
        CHECK(ground);
        // The view has the largest part of the window.
        CHECK(where.width() > (large ? 0.4 : 0.3) * window().width());
    }
    /// No label or button that can be seen has less room than its words need.
    void checkWords(const QString& what)
    {
        for (const QWidget* widget : window().findChildren<QWidget*>()) {
            const auto* label = qobject_cast<const QLabel*>(widget);
            const auto* button = qobject_cast<const QAbstractButton*>(widget);
            if (!widget->isVisible() || (label == nullptr && button == nullptr))
                continue;
            const QString text = label != nullptr ? label->text() : button->text();
            if (text.isEmpty() || widget->objectName() == "hint" || widget->visibleRegion().isEmpty())
                continue;
            CAPTURE(what.toStdString(), text.toStdString(), widget->width(), widget->sizeHint().width());
            if (label != nullptr && label->wordWrap())
                CHECK(widget->height() + 1 >= label->heightForWidth(widget->width()));
            else
                CHECK(widget->width() + 1 >= widget->minimumSizeHint().width());
        }
    }

    bool dark, large;
};

void takeAll(QSize size, bool dark)
{
    PictureWindow w(size, dark);
    w.take("1_start");
    w.open(lamp(), "lamp.stl");
    w.take("2_model");
    w.goTo(ui::JobStep::Scale);
    w.bench().document().editPart("Scale", core::withScale(w.part(), 6));
    w.take("3_size");
    w.goTo(ui::JobStep::Cut);
    auto* tabs = w.find<QTabWidget>("cutTabs");
    tabs->setCurrentIndex(0);
    w.take("4_beds");
    tabs->setCurrentIndex(1);
    w.take("5_suggest");
    for (const char* id : {"cutX", "cutY"}) {
        w.action(id).trigger();
        REQUIRE(w.settle());
    }
    w.take("6_cuts");
    core::Design next = w.design();
    next.beds = {{"large", core::Bed::Shape::Rectangular, 900, 900, 400, 1}};
    w.document().edit("Beds", next);
    w.goTo(ui::JobStep::Joint);
    w.take("7_joints");
    w.goTo(ui::JobStep::Prove);
    w.take("8_proof");
    next = w.design();
    next.beds = {{"large", core::Bed::Shape::Rectangular, 1200, 1200, 1200, 2}};
    w.document().edit("Beds", next);
    REQUIRE(w.settle());
    w.goTo(ui::JobStep::Plan);
    w.take("9_plan");
    auto* planTabs = w.find<QTabWidget>("planTabs");
    for (const auto& [tab, name] : {std::pair{1, "9_estimates"}, {2, "9_ticks"}, {3, "9_scaling"}}) {
        planTabs->setCurrentIndex(tab);
        w.take(name);
    }
}

} // namespace

TEST_CASE("window: pictures of all steps, large and light")
{
    takeAll({1440, 900}, false);
}

TEST_CASE("window: pictures of all steps, small and dark")
{
    takeAll({1000, 700}, true);
}

TEST_CASE("window: pictures of all steps, large and dark, small and light")
{
    if (!qEnvironmentVariableIsSet("QUOIN_ALL_PICTURES"))
        return;
    takeAll({1440, 900}, true);
    takeAll({1000, 700}, false);
}

TEST_CASE("window: pictures of suggestions and their terms by cut")
{
    if (!qEnvironmentVariableIsSet("QUOIN_ALL_PICTURES"))
        return;
    for (const QSize size : {QSize(1600, 1000), QSize(1000, 700)})
        for (const bool dark : {false, true}) {
            PictureWindow w(size, dark);
            w.open(lamp(), "lamp.stl");
            w.bench().document().editPart("Scale", core::withScale(w.part(), 3));
            core::Design next = w.design();
            next.beds = {{"small", core::Bed::Shape::Rectangular, 250, 210, 210, 1}};
            w.document().edit("Beds", next);
            w.goTo(ui::JobStep::Cut);
            w.find<QTabWidget>()->setCurrentIndex(1);
            auto& panel = *w.find<ui::SuggestPanel>();
            panel.findChild<QSpinBox*>("seconds")->setValue(8);
            panel.findChild<QToolButton*>("weights")->click();
            w.take("suggest_weights");
            panel.findChild<QAbstractButton*>("start")->click();
            REQUIRE(w.settle(60000));
            panel.findChild<QToolButton*>("weights")->click();
            w.take("suggest_found");
            auto& byCut = *panel.findChild<ui::TermsTable*>();
            byCut.selectRow(1);
            QWidget* inside = &byCut;
            while (inside != nullptr && qobject_cast<QScrollArea*>(inside) == nullptr)
                inside = inside->parentWidget();
            REQUIRE(inside != nullptr);
            auto* area = qobject_cast<QScrollArea*>(inside);
            area->verticalScrollBar()->setValue(area->verticalScrollBar()->maximum());
            w.take("suggest_by_cut");
        }
}

TEST_CASE("window: the columns beside the view are as wide as they must be, no wider")
{
    WindowFixture w({1440, 900});
    w.open(lamp(), "lamp.stl");
    const QList<int> sizes = w.find<QSplitter>("across")->sizes();
    CAPTURE(sizes[0], sizes[1], sizes[2]);
    CHECK(sizes[0] <= 360);
    CHECK(sizes[2] <= 400);
    CHECK(sizes[1] >= 0.45 * w.window().width());
}
