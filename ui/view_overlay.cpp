// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/view_overlay.h"

#include "ui/measure.h"
#include "ui/overlay_pen.h"

#include <QFontMetricsF>

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::ui {

using mesh::Vec3;

namespace {

/// Sizes in heights of the font, so that they grow with it.
constexpr double arrowHeights = 4.5, sampleHeights = 2;
constexpr double badgeHeights = 0.95, tripodHeights = 2.4, barHeights = 11, edgeHeights = 1.0;

double fontHeight(const QPainter& painter)
{
    return QFontMetricsF(painter.font()).height();
}

/// A round length: no decimals that say nothing.
QString barText(double mm)
{
    return mm >= 1000 ? QStringLiteral("%1 m").arg(mm / 1000) : QStringLiteral("%1 mm").arg(mm);
}

struct Arm {
    Vec3 direction;
    QString letter;
    QColor colour;
};

/// Vermilion, bluish green, blue (Okabe and Ito 2008).
std::array<Arm, 3> arms()
{
    return {Arm{{1, 0, 0}, QStringLiteral("x"), QColor(213, 94, 0)},
            Arm{{0, 1, 0}, QStringLiteral("y"), QColor(0, 140, 102)},
            Arm{{0, 0, 1}, QStringLiteral("z"), QColor(0, 114, 178)}};
}

} // namespace

void paintBadge(QPainter& painter, const OrbitCamera& camera, const ViewBadge& badge)
{
    const auto at = camera.project(badge.anchor);
    if (!at)
        return;
    painter.save();
    QFont font = painter.font();
    font.setBold(true);
    painter.setFont(font);
    const QFontMetricsF metrics(font);
    const double radius = std::max(badgeHeights * metrics.height(), 0.5 * metrics.horizontalAdvance(badge.text) + 5);
    const QColor ground = colourOf(badge.colour);
    const QRectF circle(at->x - radius, at->y - radius, 2 * radius, 2 * radius);
    painter.setPen(QPen(badge.selected ? ink::chosen : ink::dark, badge.selected ? 2 : 1.2));
    painter.setBrush(ground);
    painter.drawEllipse(circle);
    if (badge.selected) {
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(ink::pale, 6));
        painter.drawEllipse(circle.adjusted(-4, -4, 4, 4));
        painter.setPen(QPen(ink::chosen, 3));
        painter.drawEllipse(circle.adjusted(-4, -4, 4, 4));
    }
    painter.setPen(readableOn(ground));
    painter.drawText(circle, Qt::AlignCenter, badge.text);
    painter.restore();
}

void paintNote(QPainter& painter, const OrbitCamera& camera, const ViewNote& note)
{
    const auto at = camera.project(note.anchor);
    // Words beside the view would be pushed to its edge and say the wrong thing there.
    if (at && at->x >= 0 && at->y >= 0 && at->x <= camera.widthPx && at->y <= camera.heightPx)
        drawWords(painter, pointOf(*at), note.text);
}

void paintArrow(QPainter& painter, const OrbitCamera& camera, const ViewArrow& arrow)
{
    const auto at = camera.project(arrow.tip);
    if (!at)
        return;
    const double height = fontHeight(painter);
    const QPointF tip = pointOf(*at), way(dot(arrow.way, camera.right()), -dot(arrow.way, camera.up()));
    const QPointF from = tip - arrowHeights * height * way;
    const QColor colour = arrow.chosen ? ink::chosen : ink::dark;
    painter.setPen(QPen(ink::pale, 2));
    painter.setBrush(colour);
    painter.drawEllipse(tip, 0.3 * height, 0.3 * height); // where the arrow points at the eye, it is all there is
    drawArrow(painter, from, tip, colour, arrow.chosen ? 4 : 3, 0.9 * height, 20);
    drawWords(painter, from - QPointF(0, (way.y() < 0 ? -1 : 1) * height), arrow.text, colour);
}

void paintLegend(QPainter& painter, const ViewLegend& legend)
{
    if (legend.rows.empty())
        return;
    painter.save();
    const double height = fontHeight(painter), line = 1.3 * height, edge = 0.6 * height;
    const QFontMetricsF metrics(painter.font());
    double widest = metrics.horizontalAdvance(legend.title);
    for (const ViewLegend::Row& row : legend.rows)
        widest = std::max(widest, (sampleHeights + 0.6) * height + metrics.horizontalAdvance(row.text));
    const QRectF plate(edge, edge, widest + 2 * edge,
                       (static_cast<double>(legend.rows.size()) + 1) * line + 1.4 * edge);
    painter.setPen(QPen(QColor(28, 32, 38, 90), 1));
    painter.setBrush(QColor(255, 255, 255, 235));
    painter.drawRoundedRect(plate, 4, 4);
    const auto write = [&](double left, double y, const QString& text) {
        painter.setPen(ink::dark);
        painter.drawText(QRectF(left, y, plate.right() - left, line), Qt::AlignLeft | Qt::AlignVCenter, text);
    };
    const double left = plate.left() + edge;
    double y = plate.top() + 0.7 * edge;
    write(left, y, legend.title);
    for (const ViewLegend::Row& row : legend.rows) {
        y += line;
        QPen pen(colourOf(row.colour), row.widthPx);
        pen.setCapStyle(Qt::FlatCap);
        painter.setPen(pen);
        painter.drawLine(QPointF(left, y + 0.5 * line), QPointF(left + sampleHeights * height, y + 0.5 * line));
        write(left + (sampleHeights + 0.6) * height, y, row.text);
    }
    painter.restore();
}

void paintTripod(QPainter& painter, const OrbitCamera& camera)
{
    const double height = fontHeight(painter), arm = tripodHeights * height;
    const QPointF middle(arm + 1.6 * height, camera.heightPx - arm - 1.6 * height);
    auto all = arms();
    // What points away from the viewer is drawn first.
    std::sort(all.begin(), all.end(), [&](const Arm& a, const Arm& b) {
        return dot(a.direction, camera.towardsViewer()) < dot(b.direction, camera.towardsViewer());
    });
    painter.save();
    QFont font = painter.font();
    font.setBold(true);
    painter.setFont(font);
    for (const Arm& a : all) {
        const QPointF way(dot(a.direction, camera.right()), -dot(a.direction, camera.up()));
        drawLine(painter, {middle, middle + arm * way}, a.colour, 2.6);
        const double far = std::hypot(way.x(), way.y());
        const QPointF beyond = far > 0.2 ? way / far * 0.75 * height : QPointF(0.6 * height, -0.5 * height);
        QRectF letter(0, 0, 1.2 * height, 1.2 * height);
        letter.moveCenter(middle + arm * way + beyond);
        painter.setPen(Qt::NoPen);
        painter.setBrush(ink::pale);
        painter.drawEllipse(letter);
        painter.setPen(a.colour.darker(115));
        painter.drawText(letter.translated(0, -0.08 * height), Qt::AlignCenter, a.letter);
    }
    painter.restore();
}

ScaleBar scaleBarOf(const OrbitCamera& camera, double mostPx)
{
    const double mm = camera.mmPerPixel(camera.target), length = roundLengthBelow(mostPx * mm);
    return {length, length / mm};
}

void paintScaleBar(QPainter& painter, const OrbitCamera& camera)
{
    const double height = fontHeight(painter), edge = edgeHeights * height;
    const ScaleBar bar = scaleBarOf(camera, std::min(barHeights * height, 0.4 * camera.widthPx));
    if (!(bar.lengthPx > 0))
        return;
    const double right = camera.widthPx - edge, y = camera.heightPx - edge, left = right - bar.lengthPx;
    drawLine(painter, {QPointF(left, y - 5), QPointF(left, y), QPointF(right, y), QPointF(right, y - 5)});
    drawWords(painter, {(left + right) / 2, y - 0.9 * height}, barText(bar.lengthMm));
}

void paintTurningCentre(QPainter& painter, const OrbitCamera& camera, Vec3 centre)
{
    const auto at = camera.project(centre);
    if (!at)
        return;
    constexpr double arm = 9;
    const QPointF p = pointOf(*at);
    drawLine(painter, {p - QPointF(arm, 0), p + QPointF(arm, 0)}, ink::dark, 1.2);
    drawLine(painter, {p - QPointF(0, arm), p + QPointF(0, arm)}, ink::dark, 1.2);
}

} // namespace quoin::ui
