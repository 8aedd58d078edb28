// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/colour.h"
#include "ui/orbit_camera.h"

#include <QColor>
#include <QPainter>
#include <QPolygonF>
#include <QString>

#include <optional>
#include <vector>

/// What lies over the picture is drawn so that it can be read on any ground, light or dark: dark ink with a pale
/// surround, words on a plate of their own.
namespace quoin::ui {

namespace ink {
inline const QColor dark{28, 32, 38};
inline const QColor pale{255, 255, 255, 215};
/// Of what the pointer is over or has hold of (Okabe and Ito's orange), chosen things (blue), trouble (vermilion).
inline const QColor hot{230, 159, 0};
inline const QColor chosen{0, 114, 178};
inline const QColor fine{0, 158, 115};
inline const QColor wrong{213, 94, 0};
} // namespace ink

inline QPointF pointOf(ScreenPoint p)
{
    return {p.x, p.y};
}
QColor colourOf(const Colour& colour);
/// Black or white, whichever is read better on a ground.
QColor readableOn(const QColor& ground);

/// Pixels of points in space; parts behind the eye are left out.
QPolygonF projected(const OrbitCamera& camera, const std::vector<mesh::Vec3>& points);

void drawLine(QPainter& painter, const QPolygonF& line, const QColor& colour = ink::dark, double widthPx = 1.6,
              Qt::PenStyle style = Qt::SolidLine);
/// A filled arrow head with its tip at a point, 15 degrees to each side (ISO 129-1) or as blunt as wished.
void drawArrowHead(QPainter& painter, QPointF tip, QPointF from, const QColor& colour = ink::dark, double lengthPx = 10,
                   double halfDegrees = 15);
/// A line that ends in such a head.
void drawArrow(QPainter& painter, QPointF from, QPointF tip, const QColor& colour = ink::dark, double widthPx = 1.6,
               double headPx = 10, double halfDegrees = 15);
/// Words on a plate, the plate's middle at a point. Kept inside the painter's window, in several lines where they are
/// long.
QRectF drawWords(QPainter& painter, QPointF middle, const QString& words, const QColor& colour = ink::dark);
/// The same, the middle of the plate's upper edge at a point: however many lines, what is above stays in sight.
QRectF drawWordsBelow(QPainter& painter, QPointF top, const QString& words, const QColor& colour = ink::dark);

} // namespace quoin::ui
