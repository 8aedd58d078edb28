// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/verdict_mark.h"

#include "ui/painted_icon.h"

#include <QGuiApplication>

namespace quoin::ui {

namespace {

constexpr double grid = 16; ///< the shapes are drawn in a square of this size

void paintTick(QPainter& p)
{
    p.drawEllipse(QRectF(1.5, 1.5, 13, 13));
    p.drawPolyline(QPolygonF({{4.6, 8.3}, {7.1, 10.9}, {11.5, 5.4}}));
}

void paintSeam(QPainter& p)
{
    p.drawEllipse(QRectF(1.5, 1.5, 13, 13));
    p.drawLine(QPointF(4, 8), QPointF(12, 8));
    for (const double x : {6.0, 10.0})
        p.drawLine(QPointF(x, 5.7), QPointF(x, 10.3));
}

void paintCross(QPainter& p)
{
    p.drawRoundedRect(QRectF(1.5, 1.5, 13, 13), 1, 1);
    p.drawLine(QPointF(5, 5), QPointF(11, 11));
    p.drawLine(QPointF(11, 5), QPointF(5, 11));
}

void paintExclamation(QPainter& p)
{
    p.drawPolygon(QPolygonF({{8, 1.6}, {15, 14.2}, {1, 14.2}}));
    p.drawLine(QPointF(8, 6), QPointF(8, 9.6));
    p.drawPoint(QPointF(8, 12));
}

void paintDots(QPainter& p, const QColor& colour)
{
    p.setPen(Qt::NoPen);
    p.setBrush(colour);
    for (const double x : {2.8, 8.0, 13.2})
        p.drawEllipse(QPointF(x, 8), 1.7, 1.7);
}

} // namespace

void paintVerdict(QPainter& painter, const QRectF& area, Verdict verdict, const QColor& colour)
{
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.translate(area.topLeft());
    painter.scale(area.width() / grid, area.height() / grid);
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(colour, 1.7, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    switch (verdict) {
    case Verdict::Good:
        paintTick(painter);
        break;
    case Verdict::Mended:
        paintSeam(painter);
        break;
    case Verdict::Bad:
        paintCross(painter);
        break;
    case Verdict::Warning:
        paintExclamation(painter);
        break;
    case Verdict::Working:
        paintDots(painter, colour);
        break;
    case Verdict::None:
        break;
    }
    painter.restore();
}

QIcon verdictIcon(Verdict verdict)
{
    if (verdict == Verdict::None)
        return {};
    return paintedIcon([verdict](QPainter& painter, const QRectF& area, const IconInk& ink) {
        // On a selected row the verdict's own hue could sink into the highlight.
        paintVerdict(painter, area, verdict,
                     ink.selected ? ink.line : verdictColour(verdict, isDark(QGuiApplication::palette())));
    });
}

} // namespace quoin::ui
