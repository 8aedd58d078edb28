// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/theme.h"

#include <QIcon>
#include <QPainter>

namespace quoin::ui {

/// The shape of a verdict, so that colour never speaks alone: a tick in a ring, a stitched seam in a ring, a cross in
/// a square, an exclamation mark in a triangle, three dots. None draws nothing.
/// @param area  square; device-independent pixels of the painter
void paintVerdict(QPainter& painter, const QRectF& area, Verdict verdict, const QColor& colour);

/// The same as an icon; its colour follows the application's palette each time it is painted.
QIcon verdictIcon(Verdict verdict);

} // namespace quoin::ui
