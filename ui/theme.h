// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QColor>
#include <QPalette>

class QApplication;

namespace quoin::ui {

enum class Theme { System, Light, Dark };

/// Gives the application our style (Fusion, ui/drawn_style.h) and palette. System: light or dark as the desktop's own
/// palette is.
void applyTheme(QApplication& application, Theme theme);

QPalette lightPalette();
QPalette darkPalette();
/// Whether text is lighter than what it stands on.
bool isDark(const QPalette& palette);

/// The ground of the view, top and bottom of its gradient, and the line that is drawn around coloured things on it.
struct ViewColours {
    QColor top, bottom, outline;
};
ViewColours viewColours(bool dark);

/// The outline of check boxes and fields: 3:1 and more against the window and the base.
QColor outlineColour(bool dark);

/// How a thing stands. Never told by colour alone: each has a shape of its own (ui/verdict_mark.h) and a word.
enum class Verdict {
    None,
    Good,    ///< proved to fit, done
    Bad,     ///< doesn't fit, failed
    Mended,  ///< good after repair
    Warning, ///< needs attention
    Working  ///< being worked out
};
/// Readable as text on the base and the window of our palettes. Hues of Okabe and Ito (2008), made darker or lighter.
QColor verdictColour(Verdict verdict, bool dark);

/// Contrast of two opaque colours, 1 to 21: WCAG 2.1, "contrast ratio" and "relative luminance".
double contrastRatio(const QColor& a, const QColor& b);

} // namespace quoin::ui
