// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/cut_tool.h"

#include "ui/cut_tool_shape.h"
#include "ui/overlay_pen.h"
#include "ui/plane_words.h"
#include "ui/quantity_text.h"

#include <QFontMetricsF>

#include <algorithm>
#include <cmath>

namespace quoin::ui {

using mesh::Vec3;

namespace {

constexpr int arcSteps = 40;
constexpr double knobPx = 6, stopPx = 7;

std::vector<ScreenPoint> seenPoints(const OrbitCamera& camera, const std::vector<Vec3>& points)
{
    std::vector<ScreenPoint> line;
    for (const Vec3 p : points)
        if (const auto seen = camera.project(p))
            line.push_back(*seen);
    return line;
}

} // namespace

std::vector<Vec3> CutTool::arcPoints(Grip grip, double radiusMm) const
{
    const Vec3 n = m_plane->normal, side = cross(axisOf(grip), n);
    std::vector<Vec3> points;
    for (int i = -arcSteps / 2; i <= arcSteps / 2; ++i) {
        const double angle = cut_handle::arcRadians * i / (arcSteps / 2);
        points.push_back(m_centre + radiusMm * (std::cos(angle) * n + std::sin(angle) * side));
    }
    return points;
}

CutTool::Grip CutTool::gripAt(ScreenPoint at, const OrbitCamera& camera) const
{
    if (!m_plane)
        return Grip::None;
    const double mm = camera.mmPerPixel(m_centre);
    const Vec3 reach = cut_handle::arrowPx * mm * m_plane->normal;
    Grip best = Grip::None;
    double least = cut_handle::reachPx;
    const double onArrow = distancePx(at, seenPoints(camera, {m_centre - reach, m_centre + reach}));
    if (onArrow <= least) {
        best = Grip::Arrow;
        least = onArrow - cut_handle::arrowBonusPx;
    }
    for (const Grip arc : {Grip::ArcU, Grip::ArcV}) {
        const double off = distancePx(at, seenPoints(camera, arcPoints(arc, cut_handle::arcPx * mm)));
        if (off <= cut_handle::reachPx && off < least) {
            best = arc;
            least = off;
        }
    }
    return best;
}

std::optional<ScreenPoint> CutTool::gripPlace(Grip grip, const OrbitCamera& camera) const
{
    if (!m_plane || grip == Grip::None)
        return std::nullopt;
    const double mm = camera.mmPerPixel(m_centre);
    if (grip == Grip::Arrow)
        return camera.project(m_centre + 0.98 * cut_handle::arrowPx * mm * m_plane->normal);
    const Vec3 side = cross(axisOf(grip), m_plane->normal);
    return camera.project(m_centre + cut_handle::arcPx * mm *
                                         (std::cos(cut_handle::knobRadians) * m_plane->normal +
                                          std::sin(cut_handle::knobRadians) * side));
}

void CutTool::paintArrow(QPainter& painter, const OrbitCamera& camera) const
{
    const bool hot = m_over == Grip::Arrow;
    const QColor colour = hot ? ink::hot : ink::dark;
    const Vec3 reach = cut_handle::arrowPx * camera.mmPerPixel(m_centre) * m_plane->normal;
    const QPolygonF line = projected(camera, {m_centre - reach, m_centre, m_centre + reach});
    if (line.size() < 3)
        return;
    if (seenEndOn(camera, m_centre, m_plane->normal)) {
        // The sign of a direction seen end on: a ring with its middle, towards the viewer; with a cross, away.
        const bool towards = dot(m_plane->normal, camera.eye() - m_centre) > 0;
        const double r = cut_handle::reachPx;
        painter.setPen(QPen(colour, hot ? 3 : 2));
        painter.setBrush(ink::pale);
        painter.drawEllipse(line[1], r, r);
        if (towards) {
            painter.setBrush(colour);
            painter.drawEllipse(line[1], 3, 3);
        } else {
            const double s = r * std::sqrt(0.5);
            painter.drawLine(line[1] - QPointF(s, s), line[1] + QPointF(s, s));
            painter.drawLine(line[1] - QPointF(s, -s), line[1] + QPointF(s, -s));
        }
        return;
    }
    constexpr double bluntDegrees = 24;
    drawArrow(painter, line[1], line[0], colour, hot ? 4 : 3, 16, bluntDegrees);
    drawArrow(painter, line[1], line[2], colour, hot ? 4 : 3, 22, bluntDegrees);
    painter.setPen(QPen(ink::pale, 1.5));
    painter.setBrush(colour);
    painter.drawEllipse(line[1], 4, 4);
}

void CutTool::paintArc(QPainter& painter, const OrbitCamera& camera, Grip grip) const
{
    const bool hot = m_over == grip;
    // The two arcs are told apart by hue, and by one of them being dashed.
    const QColor colour = hot ? ink::hot : grip == Grip::ArcU ? ink::chosen : QColor(150, 70, 115);
    const double mm = camera.mmPerPixel(m_centre);
    drawLine(painter, projected(camera, arcPoints(grip, cut_handle::arcPx * mm)), colour, hot ? 4 : 2.6,
             grip == Grip::ArcU ? Qt::SolidLine : Qt::DashLine);
    const Vec3 n = m_plane->normal, side = cross(axisOf(grip), n);
    for (const double sign : {-1.0, 1.0}) {
        const auto knob = camera.project(
            m_centre + cut_handle::arcPx * mm *
                           (std::cos(cut_handle::knobRadians) * n + sign * std::sin(cut_handle::knobRadians) * side));
        if (!knob)
            continue;
        painter.setPen(QPen(ink::pale, 1.5));
        painter.setBrush(colour);
        painter.drawEllipse(pointOf(*knob), hot ? knobPx + 1.5 : knobPx, hot ? knobPx + 1.5 : knobPx);
    }
}

void CutTool::paintStops(QPainter& painter, const OrbitCamera& camera) const
{
    const auto at = [&](double offset) { return m_centre + (offset - m_plane->offset) * m_plane->normal; };
    mesh::Box3 along;
    for (int k = 0; k < 8 && !m_box.empty(); ++k)
        along.add({dot(m_plane->normal, {k & 1 ? m_box.max.x : m_box.min.x, k & 2 ? m_box.max.y : m_box.min.y,
                                         k & 4 ? m_box.max.z : m_box.min.z}),
                   0, 0});
    for (const NamedOffset& stop : m_snaps.offsets) {
        if (!along.empty() && (stop.offsetMm < along.min.x || stop.offsetMm > along.max.x))
            continue;
        const Vec3 p = at(stop.offsetMm);
        const auto seen = camera.project(p), ahead = camera.project(p + camera.mmPerPixel(p) * m_plane->normal);
        if (!seen || !ahead)
            continue;
        const QPointF way = pointOf(*ahead) - pointOf(*seen);
        const double far = std::hypot(way.x(), way.y());
        if (far < 0.2)
            return;
        const QPointF side = QPointF(-way.y(), way.x()) / far * stopPx;
        drawLine(painter, {pointOf(*seen) - side, pointOf(*seen) + side}, ink::dark, 1.6);
    }
}

void CutTool::paintWords(QPainter& painter, const OrbitCamera& camera) const
{
    QString text = planeWords(*m_plane, m_unit);
    if (m_areaMm2)
        text += tr(", section %1").arg(areaText(*m_areaMm2));
    // At the foot of the view, where it hides neither the handle nor a number, and doesn't move while it is read.
    const double line = QFontMetricsF(painter.font()).height();
    const QRectF plate = drawWords(painter, {camera.middle().x, camera.heightPx - 1.4 * line}, text);
    if (!m_snappedTo.isEmpty())
        drawWords(painter, {plate.center().x(), plate.top() - plate.height() / 2 - 3},
                  QStringLiteral("✓ ") + m_snappedTo, ink::chosen);
}

void CutTool::paint(QPainter& painter, const OrbitCamera& camera) const
{
    if (!m_plane || !camera.project(m_centre))
        return;
    if (m_grip == Grip::Arrow)
        paintStops(painter, camera);
    // Of the arcs only the one that is dragged stays while one is.
    for (const Grip arc : {Grip::ArcU, Grip::ArcV})
        if (m_grip == Grip::None || m_grip == arc)
            paintArc(painter, camera, arc);
    paintArrow(painter, camera);
    paintWords(painter, camera);
}

} // namespace quoin::ui
