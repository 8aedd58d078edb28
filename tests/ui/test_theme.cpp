// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "application.h"
#include "ui/colour.h"
#include "ui/theme.h"
#include "ui/verdict_mark.h"

#include <QCheckBox>
#include <QLineEdit>
#include <QProxyStyle>
#include <QToolButton>
#include <QVBoxLayout>

#include <catch2/catch.hpp>

#include <set>

using namespace quoin;
using namespace quoin::ui;

// WCAG 2.1, success criteria 1.4.3 (text) and 1.4.11 (parts of the interface).
static constexpr double textContrast = 4.5, shapeContrast = 3;

TEST_CASE("contrast: black on white, and the known grey")
{
    CHECK(contrastRatio(Qt::black, Qt::white) == Approx(21));
    CHECK(contrastRatio(Qt::white, Qt::white) == Approx(1));
    // #767676 is the lightest grey that passes 4.5 on white (W3C, G18's commonly given example); from memory.
    CHECK(contrastRatio(QColor(0x767676), Qt::white) == Approx(4.54).margin(0.01));
}

TEST_CASE("palettes: every text can be read on what it stands on")
{
    const QPalette palette = GENERATE(0, 1) == 0 ? lightPalette() : darkPalette();
    using P = QPalette;
    const std::vector<std::pair<P::ColorRole, P::ColorRole>> pairs{{P::WindowText, P::Window},
                                                                   {P::Text, P::Base},
                                                                   {P::Text, P::AlternateBase},
                                                                   {P::ButtonText, P::Button},
                                                                   {P::HighlightedText, P::Highlight},
                                                                   {P::ToolTipText, P::ToolTipBase},
                                                                   {P::PlaceholderText, P::Base},
                                                                   {P::Link, P::Base},
                                                                   {P::Link, P::Window},
                                                                   {P::LinkVisited, P::Base}};
    for (const auto& [text, ground] : pairs) {
        CAPTURE(text, ground);
        CHECK(contrastRatio(palette.color(text), palette.color(ground)) >= textContrast);
    }
    const QColor outline = outlineColour(isDark(palette));
    CHECK(contrastRatio(outline, palette.color(P::Window)) >= shapeContrast);
    CHECK(contrastRatio(outline, palette.color(P::Base)) >= shapeContrast);
    // What is disabled needs no contrast by the criterion; ours stays readable all the same.
    for (const auto& [text, ground] : {std::pair{P::WindowText, P::Window}, std::pair{P::ButtonText, P::Button}})
        CHECK(contrastRatio(palette.color(P::Disabled, text), palette.color(P::Disabled, ground)) >= shapeContrast);
}

TEST_CASE("verdicts: readable as text in both palettes, each with a shape of its own")
{
    test::application();
    std::vector<QImage> shapes;
    for (const Verdict verdict : {Verdict::Good, Verdict::Mended, Verdict::Bad, Verdict::Warning, Verdict::Working}) {
        for (const bool dark : {false, true}) {
            const QPalette palette = dark ? darkPalette() : lightPalette();
            for (const auto ground : {QPalette::Base, QPalette::AlternateBase, QPalette::Window})
                CHECK(contrastRatio(verdictColour(verdict, dark), palette.color(ground)) >= textContrast);
        }
        QImage image(32, 32, QImage::Format_ARGB32);
        image.fill(Qt::white);
        QPainter painter(&image);
        paintVerdict(painter, {0, 0, 32, 32}, verdict, Qt::black);
        painter.end();
        for (const QImage& other : shapes) {
            int differing = 0;
            for (int y = 0; y < 32; ++y)
                for (int x = 0; x < 32; ++x)
                    differing += std::abs(qGray(image.pixel(x, y)) - qGray(other.pixel(x, y))) > 128;
            CHECK(differing > 60);
        }
        shapes.push_back(image);
    }
}

TEST_CASE("pieces: seen on the ground of the view by their colour or by their outline")
{
    for (const bool dark : {false, true}) {
        const ViewColours view = viewColours(dark);
        for (const QColor& ground : {view.top, view.bottom}) {
            CHECK(contrastRatio(view.outline, ground) >= shapeContrast);
            for (const Colour& c : pieceColours()) {
                const QColor piece = QColor::fromRgbF(float(c.r), float(c.g), float(c.b));
                CHECK((contrastRatio(piece, ground) >= shapeContrast ||
                       contrastRatio(view.outline, ground) >= shapeContrast));
            }
        }
    }
}

TEST_CASE("theme: applied to the application, icons follow")
{
    QApplication& app = test::application();
    const auto inkOf = [](const QIcon& icon) {
        const QImage image = icon.pixmap(64, 64).toImage();
        std::set<QRgb> solid;
        for (int y = 0; y < image.height(); ++y)
            for (int x = 0; x < image.width(); ++x)
                if (qAlpha(image.pixel(x, y)) == 255)
                    solid.insert(image.pixel(x, y));
        return solid;
    };
    const QIcon icon = verdictIcon(Verdict::Bad);
    applyTheme(app, Theme::Light);
    CHECK_FALSE(isDark(app.palette()));
    const auto* style = qobject_cast<QProxyStyle*>(app.style());
    REQUIRE(style != nullptr);
    CHECK(style->baseStyle()->name().compare("fusion", Qt::CaseInsensitive) == 0);
    CHECK(inkOf(icon).contains(verdictColour(Verdict::Bad, false).rgb()));
    applyTheme(app, Theme::Dark);
    CHECK(isDark(app.palette()));
    CHECK(inkOf(icon).contains(verdictColour(Verdict::Bad, true).rgb()));
    applyTheme(app, Theme::System);
    const QPalette now = app.palette();
    CHECK((now.color(QPalette::Window) == lightPalette().color(QPalette::Window) ||
           now.color(QPalette::Window) == darkPalette().color(QPalette::Window)));
    applyTheme(app, Theme::Light);
}

TEST_CASE("style: boxes and fields have outlines that can be seen, buttons that are on a bar")
{
    for (const bool dark : {false, true}) {
        applyTheme(test::application(), dark ? Theme::Dark : Theme::Light);
        QWidget window;
        auto* layout = new QVBoxLayout(&window);
        auto* box = new QCheckBox(&window);
        auto* field = new QLineEdit(&window);
        auto* button = new QToolButton(&window);
        button->setCheckable(true);
        button->setChecked(true);
        button->setFixedSize(60, 30);
        for (QWidget* widget : std::initializer_list<QWidget*>{box, field, button})
            layout->addWidget(widget);
        test::show(window, {200, 140});
        button->setFocus();
        const auto best = [](QWidget& widget, const QColor& ground) {
            const QImage image = widget.grab().toImage();
            double contrast = 1;
            for (int y = 0; y < image.height(); ++y)
                contrast = std::max(contrast, contrastRatio(image.pixelColor(image.width() / 2, y), ground));
            return contrast;
        };
        const QColor base = window.palette().color(QPalette::Base);
        CHECK(best(*field, base) >= 2.5); // drawn between pixels, so a little less than the colour itself
        box->setFixedWidth(box->style()->pixelMetric(QStyle::PM_IndicatorWidth));
        QCoreApplication::processEvents();
        CHECK(best(*box, base) >= 2.5);
        const QImage on = button->grab().toImage();
        const int scale = static_cast<int>(on.devicePixelRatio());
        CHECK(on.pixelColor(30 * scale, 27 * scale) == window.palette().color(QPalette::Link));
    }
    applyTheme(test::application(), Theme::Light);
}
