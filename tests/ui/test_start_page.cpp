// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/start_page.h"
#include "ui/theme.h"

#include <QDir>
#include <QDropEvent>
#include <QGroupBox>
#include <QMimeData>
#include <QPushButton>
#include <QSignalSpy>
#include <QTest>
#include <QToolButton>
#include <QUrl>

#include <catch2/catch.hpp>

using namespace quoin;
using ui::DropArea;
using ui::StartPage;

namespace {

struct Window : test::WithApplication {
    Window()
    {
        ui::applyTheme(test::application(), ui::Theme::Light);
        const QDateTime when(QDate(2026, 5, 1), QTime(10, 12));
        page.setRecent({{"models/heron/heron.quoin", when, {}},
                        {"old/gearwheel.stl", when.addDays(-3), "The file is not there any more."}});
        page.setRecovery({{"r1", "heron, 12 cuts, from today 10:12"}});
        test::show(page, {820, 640});
    }
    template <class T>
    T* named(const QString& name) const
    {
        for (T* widget : page.findChildren<T*>())
            if (widget->accessibleName() == name || widget->text().remove('&') == name)
                return widget;
        return nullptr;
    }
    StartPage page;
};

} // namespace

TEST_CASE("start page: the ways in")
{
    Window w;
    QSignalSpy demo(&w.page, &StartPage::demoWanted), open(&w.page, &StartPage::openWanted),
        files(&w.page, &StartPage::filesWanted);
    CHECK(w.named<QPushButton>("Try it with the heron")->isDefault());
    QTest::mouseClick(w.named<QPushButton>("Try it with the heron"), Qt::LeftButton);
    QTest::keyClick(w.named<QPushButton>("Open a model or project…"), Qt::Key_Space);
    QTest::mouseClick(w.named<QToolButton>("Open heron.quoin"), Qt::LeftButton);
    CHECK(demo.count() == 1);
    CHECK(open.count() == 1);
    REQUIRE(files.count() == 1);
    CHECK(files[0][0].toStringList() == QStringList{"models/heron/heron.quoin"});
}

TEST_CASE("start page: a missing file is grey, says why, and can be forgotten")
{
    Window w;
    QSignalSpy files(&w.page, &StartPage::filesWanted), forget(&w.page, &StartPage::forgetWanted);
    auto* gone = w.named<QToolButton>("Open gearwheel.stl");
    CHECK_FALSE(gone->isEnabled());
    CHECK(gone->toolTip().contains("not there any more"));
    QTest::mouseClick(gone, Qt::LeftButton);
    CHECK(files.count() == 0);
    QTest::mouseClick(w.named<QToolButton>("Forget gearwheel.stl"), Qt::LeftButton);
    REQUIRE(forget.count() == 1);
    CHECK(forget[0][0].toString() == "old/gearwheel.stl");
}

TEST_CASE("start page: recovery is offered, and the receiver may take the offer away at once")
{
    Window w;
    QSignalSpy recover(&w.page, &StartPage::recoverWanted), discard(&w.page, &StartPage::discardWanted);
    QObject::connect(&w.page, &StartPage::discardWanted, &w.page, [&w] { w.page.setRecovery({}); });
    const QString text = "heron, 12 cuts, from today 10:12";
    QTest::mouseClick(w.named<QPushButton>("Restore " + text), Qt::LeftButton);
    REQUIRE(recover.count() == 1);
    CHECK(recover[0][0].toString() == "r1");
    QTest::mouseClick(w.named<QPushButton>("Discard " + text), Qt::LeftButton);
    CHECK(discard.count() == 1);
    QCoreApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
    CHECK(w.named<QPushButton>("Restore " + text) == nullptr);
    CHECK_FALSE(w.page.findChildren<QGroupBox*>().front()->isVisible());
}

TEST_CASE("start page: files dropped, things that are no files refused")
{
    Window w;
    QSignalSpy files(&w.page, &StartPage::filesWanted);
    auto* area = w.page.findChild<DropArea*>();
    const auto drop = [area](const QList<QUrl>& urls) {
        QMimeData data;
        data.setUrls(urls);
        QDragEnterEvent enter(QPoint(10, 10), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
        enter.ignore();
        QCoreApplication::sendEvent(area, &enter);
        if (enter.isAccepted()) {
            QDropEvent event(QPointF(10, 10), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
            QCoreApplication::sendEvent(area, &event);
        }
        return enter.isAccepted();
    };
    const QString path = QDir::temp().filePath("wing.stl");
    CHECK(drop({QUrl::fromLocalFile(path)}));
    REQUIRE(files.count() == 1);
    CHECK(files[0][0].toStringList() == QStringList{path});
    CHECK_FALSE(drop({QUrl("https://example.org/wing.stl")}));
    CHECK(files.count() == 1);
}

TEST_CASE("start page: the text of the primary button can be read on it")
{
    for (const bool dark : {false, true}) {
        Window w;
        ui::applyTheme(test::application(), dark ? ui::Theme::Dark : ui::Theme::Light);
        QCoreApplication::processEvents();
        auto* button = w.named<QPushButton>("Try it with the heron");
        const QImage image = button->grab().toImage();
        for (int y = image.height() / 4; y < image.height() * 3 / 4; ++y) // beside the text
            CHECK(ui::contrastRatio(image.pixelColor(image.width() / 20, y),
                                    button->palette().color(QPalette::ButtonText)) >= 4.5); // WCAG 2.1, 1.4.3
    }
}

TEST_CASE("start page: how it looks")
{
    for (const bool dark : {false, true}) {
        Window w;
        ui::applyTheme(test::application(), dark ? ui::Theme::Dark : ui::Theme::Light);
        test::picture(w.page, dark ? "start_page_dark" : "start_page_light");
    }
    ui::applyTheme(test::application(), ui::Theme::Light);
}
