// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme.h"

#include "ui/drawn_style.h"

#include <QApplication>
#include <QStyle>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <utility>

namespace quoin::ui {

namespace {

using Roles = std::initializer_list<std::pair<QPalette::ColorRole, QRgb>>;

QPalette paletteOf(const Roles& roles, QRgb disabledText, QRgb disabledHighlight)
{
    QPalette palette;
    for (const auto& [role, colour] : roles)
        palette.setColor(role, QColor(colour));
    for (const auto role : {QPalette::WindowText, QPalette::Text, QPalette::ButtonText, QPalette::HighlightedText})
        palette.setColor(QPalette::Disabled, role, QColor(disabledText));
    palette.setColor(QPalette::Disabled, QPalette::Highlight, QColor(disabledHighlight));
    return palette;
}

double linear(double channel)
{
    return channel <= 0.04045 ? channel / 12.92 : std::pow((channel + 0.055) / 1.055, 2.4);
}

double luminance(const QColor& c)
{
    return 0.2126 * linear(c.redF()) + 0.7152 * linear(c.greenF()) + 0.0722 * linear(c.blueF());
}

} // namespace

QPalette lightPalette()
{
    // Paper and slate: warm greys, the selection in a deep blue-green.
    return paletteOf({{QPalette::Window, 0xffeeece7},
                      {QPalette::WindowText, 0xff23292d},
                      {QPalette::Base, 0xfffbfaf7},
                      {QPalette::AlternateBase, 0xfff2f0eb},
                      {QPalette::Text, 0xff23292d},
                      {QPalette::Button, 0xffe3e0d9},
                      {QPalette::ButtonText, 0xff23292d},
                      {QPalette::BrightText, 0xffffffff},
                      {QPalette::Highlight, 0xff1d5f73},
                      {QPalette::HighlightedText, 0xffffffff},
                      {QPalette::ToolTipBase, 0xff2d363b},
                      {QPalette::ToolTipText, 0xfff4f2ee},
                      {QPalette::PlaceholderText, 0xff63696d},
                      {QPalette::Link, 0xff14556a},
                      {QPalette::LinkVisited, 0xff6a3a63},
                      {QPalette::Light, 0xffffffff},
                      {QPalette::Midlight, 0xfff4f2ee},
                      {QPalette::Mid, 0xffb9b5ac},
                      {QPalette::Dark, 0xff8f8b83},
                      {QPalette::Shadow, 0xff5c5952}},
                     0xff696e71, 0xffa9a69f);
}

QPalette darkPalette()
{
    return paletteOf({{QPalette::Window, 0xff23282b},
                      {QPalette::WindowText, 0xffe8e6e1},
                      {QPalette::Base, 0xff1a1e21},
                      {QPalette::AlternateBase, 0xff20262a},
                      {QPalette::Text, 0xffe8e6e1},
                      {QPalette::Button, 0xff343b3f},
                      {QPalette::ButtonText, 0xffe8e6e1},
                      {QPalette::BrightText, 0xffffffff},
                      {QPalette::Highlight, 0xff2c7085},
                      {QPalette::HighlightedText, 0xffffffff},
                      {QPalette::ToolTipBase, 0xffe8e6e1},
                      {QPalette::ToolTipText, 0xff1a1e21},
                      {QPalette::PlaceholderText, 0xff9aa3a8},
                      {QPalette::Link, 0xff7cc6dc},
                      {QPalette::LinkVisited, 0xffd0a3c8},
                      {QPalette::Light, 0xff4c555a},
                      {QPalette::Midlight, 0xff3f474b},
                      {QPalette::Mid, 0xff2b3134},
                      {QPalette::Dark, 0xff15181a},
                      {QPalette::Shadow, 0xff0c0e0f}},
                     0xff9aa1a5, 0xff454c50);
}

bool isDark(const QPalette& palette)
{
    return luminance(palette.color(QPalette::WindowText)) > luminance(palette.color(QPalette::Window));
}

void applyTheme(QApplication& application, Theme theme)
{
    if (theme == Theme::System) {
        // An empty palette brings back the desktop's own, which tells whether it is dark.
        application.setPalette(QPalette());
        theme = isDark(application.palette()) ? Theme::Dark : Theme::Light;
    }
    if (qobject_cast<DrawnStyle*>(application.style()) == nullptr)
        application.setStyle(new DrawnStyle); // the application owns it
    application.setPalette(theme == Theme::Dark ? darkPalette() : lightPalette());
}

ViewColours viewColours(bool dark)
{
    if (dark)
        return {QColor(0xff3a4247), QColor(0xff1d2225), QColor(0xfff4f2ee)};
    return {QColor(0xfff7f6f3), QColor(0xffd3d4d2), QColor(0xff23292d)};
}

QColor outlineColour(bool dark)
{
    return dark ? QColor(0xff858e93) : QColor(0xff78756e);
}

QColor verdictColour(Verdict verdict, bool dark)
{
    switch (verdict) {
    case Verdict::Good:
        return dark ? QColor(0xff3fc79b) : QColor(0xff006b4f);
    case Verdict::Bad:
        return dark ? QColor(0xffff9152) : QColor(0xffa33f00);
    case Verdict::Warning:
        return dark ? QColor(0xfff0c23c) : QColor(0xff7a5200);
    case Verdict::Mended:
    case Verdict::Working:
        return dark ? QColor(0xff8ccbf0) : QColor(0xff0a5c8c);
    case Verdict::None:
        break;
    }
    return dark ? QColor(0xff9aa3a8) : QColor(0xff5d6366);
}

double contrastRatio(const QColor& a, const QColor& b)
{
    const double la = luminance(a), lb = luminance(b);
    return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

} // namespace quoin::ui
