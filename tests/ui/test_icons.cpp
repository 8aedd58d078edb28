// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/icons.h"
#include "ui/theme.h"

#include <QGridLayout>
#include <QLabel>

#include <catch2/catch.hpp>

#include <vector>

using namespace quoin;

namespace {

QImage drawn(ui::Icon which, int side, QIcon::Mode mode = QIcon::Normal)
{
    return ui::icon(which).pixmap(QSize(side, side), 1, mode).toImage().convertToFormat(QImage::Format_ARGB32);
}

int inked(const QImage& image)
{
    int count = 0;
    for (int y = 0; y < image.height(); ++y)
        for (int x = 0; x < image.width(); ++x)
            count += qAlpha(image.pixel(x, y)) > 128;
    return count;
}

} // namespace

TEST_CASE("icons: each drawn inside its square, no two alike")
{
    ui::applyTheme(test::application(), ui::Theme::Light);
    std::vector<QImage> seen;
    for (int i = 0; i < ui::iconCount; ++i) {
        CAPTURE(i);
        // With a border of nothing around: what would be cut off shows as ink on the rim.
        const QImage image = drawn(static_cast<ui::Icon>(i), 48);
        CHECK(inked(image) > 60);
        for (int k = 0; k < 48; ++k)
            for (const QPoint& rim : {QPoint(k, 0), QPoint(k, 47), QPoint(0, k), QPoint(47, k)})
                CHECK(qAlpha(image.pixel(rim)) == 0);
        for (const QImage& other : seen)
            CHECK(other != image);
        seen.push_back(image);
    }
}

TEST_CASE("icons: drawn anew at twice the size, grey when disabled")
{
    ui::applyTheme(test::application(), ui::Theme::Light);
    const QImage small = drawn(ui::Icon::Open, 24), large = drawn(ui::Icon::Open, 96);
    CHECK(inked(large) > 10 * inked(small));
    const auto darkest = [](const QImage& image) {
        int least = 255;
        for (int y = 0; y < image.height(); ++y)
            for (int x = 0; x < image.width(); ++x)
                if (qAlpha(image.pixel(x, y)) == 255)
                    least = std::min(least, qGray(image.pixel(x, y)));
        return least;
    };
    CHECK(darkest(drawn(ui::Icon::Open, 96, QIcon::Disabled)) > darkest(large) + 30);
}

TEST_CASE("icons: how they look")
{
    for (const bool dark : {false, true}) {
        ui::applyTheme(test::application(), dark ? ui::Theme::Dark : ui::Theme::Light);
        QWidget sheet;
        auto* grid = new QGridLayout(&sheet);
        for (int i = 0; i < ui::iconCount; ++i) {
            auto* label = new QLabel(&sheet);
            label->setPixmap(ui::icon(static_cast<ui::Icon>(i)).pixmap(48, 48));
            grid->addWidget(label, i / 8, i % 8);
        }
        test::show(sheet);
        test::picture(sheet, dark ? "icons_dark" : "icons_light");
    }
    ui::applyTheme(test::application(), ui::Theme::Light);
}
