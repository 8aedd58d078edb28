// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/overlay_pen.h"

#include <QFontMetricsF>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::ui {

namespace {

constexpr double haloPx = 1.6;
constexpr double platePaddingPx = 4;
/// Luminance (WCAG 2.1 relative luminance) at which black and white are read equally well.
constexpr double evenLuminance = 0.179;

double linear(double c)
{
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

} // namespace

QColor colourOf(const Colour& colour)
{
    const auto unit = [](double v) { return static_cast<float>(std::clamp(v, 0.0, 1.0)); };
    return QColor::fromRgbF(unit(colour.r), unit(colour.g), unit(colour.b));
}

QColor readableOn(const QColor& ground)
{
    const double luminance =
        0.2126 * linear(ground.redF()) + 0.7152 * linear(ground.greenF()) + 0.0722 * linear(ground.blueF());
    return luminance > evenLuminance ? QColor(Qt::black) : QColor(Qt::white);
}

QPolygonF projected(const OrbitCamera& camera, const std::vector<mesh::Vec3>& points)
{
    QPolygonF line;
    for (const mesh::Vec3 p : points)
        if (const auto seen = camera.project(p))
            line << pointOf(*seen);
    return line;
}

void drawLine(QPainter& painter, const QPolygonF& line, const QColor& colour, double widthPx, Qt::PenStyle style)
{
    painter.save();
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(ink::pale, widthPx + 2 * haloPx, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    painter.drawPolyline(line);
    painter.setPen(QPen(colour, widthPx, style, Qt::RoundCap, Qt::RoundJoin));
    painter.drawPolyline(line);
    painter.restore();
}

void drawArrowHead(QPainter& painter, QPointF tip, QPointF from, const QColor& colour, double lengthPx,
                   double halfDegrees)
{
    const QPointF way = from - tip;
    const double far = std::hypot(way.x(), way.y());
    if (!(far > 0))
        return;
    const QPointF back = way / far * lengthPx;
    const double half = std::tan(halfDegrees * std::numbers::pi / 180);
    const QPointF side{-back.y() * half, back.x() * half};
    painter.save();
    painter.setPen(QPen(ink::pale, haloPx));
    painter.setBrush(colour);
    painter.drawPolygon(QPolygonF{tip, tip + back + side, tip + back - side});
    painter.restore();
}

void drawArrow(QPainter& painter, QPointF from, QPointF tip, const QColor& colour, double widthPx, double headPx,
               double halfDegrees)
{
    const QPointF way = tip - from;
    const double far = std::hypot(way.x(), way.y());
    if (!(far > 0))
        return;
    // The line ends inside the head, so that its round end doesn't blunt the tip.
    drawLine(painter, {from, tip - way / far * std::min(far, 0.8 * headPx)}, colour, widthPx);
    drawArrowHead(painter, tip, from, colour, headPx, halfDegrees);
}

namespace {

constexpr int wordFlags = Qt::AlignCenter | Qt::TextWordWrap;

/// As large as the words need it.
QRectF plateFor(const QPainter& painter, const QString& words)
{
    const QFontMetricsF metrics(painter.font());
    constexpr double widestPx = 420, marginPx = 24;
    const double widest = std::max(1.0, std::min(widestPx, painter.window().width() - marginPx));
    const QRectF plate = metrics.boundingRect(QRectF(0, 0, widest, 1e4), wordFlags, words);
    return plate.adjusted(-2 * platePaddingPx, -platePaddingPx, 2 * platePaddingPx, platePaddingPx);
}

QRectF drawPlate(QPainter& painter, QRectF plate, const QString& words, const QColor& colour)
{
    const QRectF window = QRectF(painter.window()).adjusted(2, 2, -2, -2);
    plate.moveLeft(std::max(window.left(), std::min(plate.left(), window.right() - plate.width())));
    plate.moveTop(std::max(window.top(), std::min(plate.top(), window.bottom() - plate.height())));
    painter.save();
    painter.setPen(Qt::NoPen);
    painter.setBrush(QColor(255, 255, 255, 225));
    painter.drawRoundedRect(plate, platePaddingPx, platePaddingPx);
    painter.setPen(colour);
    painter.drawText(plate, wordFlags, words);
    painter.restore();
    return plate;
}

} // namespace

QRectF drawWords(QPainter& painter, QPointF middle, const QString& words, const QColor& colour)
{
    QRectF plate = plateFor(painter, words);
    plate.moveCenter(middle);
    return drawPlate(painter, plate, words, colour);
}

QRectF drawWordsBelow(QPainter& painter, QPointF top, const QString& words, const QColor& colour)
{
    QRectF plate = plateFor(painter, words);
    plate.moveCenter(top);
    plate.moveTop(top.y());
    return drawPlate(painter, plate, words, colour);
}

} // namespace quoin::ui
