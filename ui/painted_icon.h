// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QColor>
#include <QIcon>
#include <QPainter>

#include <functional>

namespace quoin::ui {

/// The colours that an icon is drawn with at the moment.
struct IconInk {
    QColor line;           ///< text colour of the palette, greyed when disabled
    QColor accent;         ///< for the one stroke that matters
    bool selected = false; ///< stands on the highlight colour
};

/// Draws into a square, in device-independent pixels of the painter.
using IconPainter = std::function<void(QPainter&, const QRectF& area, const IconInk&)>;

/// An icon that is drawn anew each time, at the size and in the colours wanted then: sharp at any scale of the screen,
/// right after a change between light and dark.
QIcon paintedIcon(IconPainter painter);

} // namespace quoin::ui
