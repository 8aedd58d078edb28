// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/dimension_pen.h"

#include "mesh/plane.h"

#include <QFontMetricsF>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::ui {

using mesh::Vec3;

namespace {

constexpr double pi = std::numbers::pi;
/// How far a dimension line runs beside what it measures; the gap at the thing and what the extension lines go beyond.
constexpr double asidePx = 30, gapPx = 4, beyondPx = 6;
/// Between arrows inside the line; shorter ones get them outside.
constexpr double leastInsidePx = 44;
constexpr double outsideTailPx = 22, normalPx = 46, arcPx = 64;
constexpr double thinPx = 1.2;

double lengthOf(QPointF p)
{
    return std::hypot(p.x(), p.y());
}

/// Words over a line, turned with it so that they are read from below or from the right.
void drawWordsAlong(QPainter& painter, QPointF middle, QPointF way, const QString& words)
{
    double degrees = std::atan2(way.y(), way.x()) * 180 / pi;
    if (degrees > 90.5)
        degrees -= 180;
    if (degrees <= -89.5)
        degrees += 180;
    painter.save();
    painter.translate(middle);
    painter.rotate(degrees);
    const QFontMetricsF metrics(painter.font());
    QRectF plate = metrics.boundingRect(QRectF(), Qt::AlignCenter, words).adjusted(-5, -1, 5, 1);
    plate.moveCenter({0, -plate.height() / 2 - 3});
    painter.setPen(Qt::NoPen);
    painter.setBrush(QColor(255, 255, 255, 225));
    painter.drawRoundedRect(plate, 3, 3);
    painter.setPen(ink::dark);
    painter.drawText(plate, Qt::AlignCenter, words);
    painter.restore();
}

/// The line between two ends with its arrow heads, inside or outside.
void drawDimensionLine(QPainter& painter, QPointF a, QPointF b)
{
    const QPointF way = (b - a) / lengthOf(b - a), middle = (a + b) / 2;
    if (lengthOf(b - a) >= leastInsidePx) {
        drawArrow(painter, middle, a, ink::dark, thinPx);
        drawArrow(painter, middle, b, ink::dark, thinPx);
        return;
    }
    drawLine(painter, {a, b}, ink::dark, thinPx);
    drawArrow(painter, a - outsideTailPx * way, a, ink::dark, thinPx);
    drawArrow(painter, b + outsideTailPx * way, b, ink::dark, thinPx);
}

/// Room that words take along a line.
double widthOf(const QPainter& painter, const QString& words)
{
    return QFontMetricsF(painter.font()).horizontalAdvance(words) + 10;
}

} // namespace

std::vector<Vec3> circlePoints(Vec3 centre, Vec3 axis, double radiusMm, int sides)
{
    const auto frame = mesh::frameOf(mesh::planeThrough(centre, axis));
    std::vector<Vec3> points;
    for (int i = 0; i <= sides; ++i) {
        const double angle = 2 * pi * i / sides;
        points.push_back(centre + radiusMm * (std::cos(angle) * frame.u + std::sin(angle) * frame.v));
    }
    return points;
}

void paintDistance(QPainter& painter, const OrbitCamera& camera, Vec3 a, Vec3 b, const QString& text)
{
    const auto seenA = camera.project(a), seenB = camera.project(b);
    if (!seenA || !seenB)
        return;
    const QPointF pa = pointOf(*seenA), pb = pointOf(*seenB);
    const double far = lengthOf(pb - pa);
    if (far < 2) {
        drawWords(painter, pa - QPointF(0, asidePx), text);
        return;
    }
    QPointF side(-(pb - pa).y() / far, (pb - pa).x() / far);
    // Above; beside an upright line to its right.
    if (side.y() > 0.02 || (std::abs(side.y()) <= 0.02 && side.x() < 0))
        side = -side;
    drawLine(painter, {pa + gapPx * side, pa + (asidePx + beyondPx) * side}, ink::dark, thinPx);
    drawLine(painter, {pb + gapPx * side, pb + (asidePx + beyondPx) * side}, ink::dark, thinPx);
    drawDimensionLine(painter, pa + asidePx * side, pb + asidePx * side);
    drawWordsAlong(painter, (pa + pb) / 2 + asidePx * side, pb - pa, text);
}

void paintAngle(QPainter& painter, const OrbitCamera& camera, Vec3 a, Vec3 corner, Vec3 b, const QString& text)
{
    const Vec3 u = normalized(a - corner), to = normalized(b - corner);
    const double angle = std::atan2(length(cross(u, to)), dot(u, to));
    const Vec3 v = normalized(to - dot(to, u) * u);
    const double radius = std::min(arcPx * camera.mmPerPixel(corner), std::max(length(a - corner), length(b - corner)));
    std::vector<Vec3> arc;
    constexpr int steps = 32;
    for (int i = 0; i <= steps; ++i)
        arc.push_back(corner + radius * (std::cos(angle * i / steps) * u + std::sin(angle * i / steps) * v));
    drawLine(painter, projected(camera, {corner, a}), ink::dark, thinPx);
    drawLine(painter, projected(camera, {corner, b}), ink::dark, thinPx);
    const QPolygonF line = projected(camera, arc);
    if (line.size() <= steps)
        return;
    drawLine(painter, line, ink::dark, thinPx);
    drawArrowHead(painter, line.front(), line[4]);
    drawArrowHead(painter, line.back(), line[steps - 4]);
    const auto seen = camera.project(corner);
    const QPointF middle = line[steps / 2], out = seen ? middle - pointOf(*seen) : QPointF(0, -1);
    const double far = lengthOf(out);
    const QPointF way = far > 0 ? out / far : QPointF(0, -1);
    drawWords(painter, middle + way * (14 + std::abs(way.x()) * widthOf(painter, text) / 2), text);
}

void paintCentreLine(QPainter& painter, const OrbitCamera& camera, Vec3 centre, Vec3 axis, double halfMm)
{
    drawLine(painter, projected(camera, {centre - halfMm * axis, centre + halfMm * axis}), ink::dark, thinPx,
             Qt::DashDotLine);
}

void paintRadius(QPainter& painter, const OrbitCamera& camera, Vec3 centre, Vec3 axis, double radiusMm, Vec3 towards,
                 const QString& text)
{
    drawLine(painter, projected(camera, circlePoints(centre, axis, radiusMm)), ink::chosen, 1.8);
    Vec3 out = towards - centre;
    out = out - dot(out, axis) * axis;
    const Vec3 rim = centre + radiusMm * normalized(length(out) > 0 ? out : mesh::frameOf({axis, 0}).u);
    const auto from = camera.project(centre), to = camera.project(rim);
    if (!from || !to)
        return;
    const QPointF a = pointOf(*from), b = pointOf(*to);
    drawLine(painter, {a - QPointF(5, 0), a + QPointF(5, 0)}, ink::dark, thinPx);
    drawLine(painter, {a - QPointF(0, 5), a + QPointF(0, 5)}, ink::dark, thinPx);
    drawArrow(painter, a, b, ink::dark, thinPx);
    const double far = lengthOf(b - a), wide = widthOf(painter, text);
    if (far > wide) {
        drawWordsAlong(painter, (a + b) / 2, b - a, text);
        return;
    }
    const QPointF way = far > 0 ? (b - a) / far : QPointF(0, -1);
    drawWords(painter, b + way * (14 + std::abs(way.x()) * wide / 2), text);
}

void paintFaceAngle(QPainter& painter, const OrbitCamera& camera, Vec3 a, Vec3 normalA, Vec3 b, Vec3 normalB,
                    const QString& text)
{
    drawLine(painter, projected(camera, {a, b}), ink::dark, thinPx, Qt::DashLine);
    QPolygonF ends;
    for (const auto& [at, normal] : {std::pair(a, normalA), std::pair(b, normalB)}) {
        const QPolygonF arrow = projected(camera, {at, at + normalPx * camera.mmPerPixel(at) * normal});
        if (arrow.size() < 2)
            return;
        drawArrow(painter, arrow[0], arrow[1], ink::chosen, 2, 12);
        ends << arrow[0];
    }
    drawWords(painter, (ends[0] + ends[1]) / 2, text);
}

} // namespace quoin::ui
