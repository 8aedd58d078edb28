// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "mesh/plane.h"

#include <QPainterPath>
#include <QWidget>

#include <vector>

namespace quoin::ui {

/// A piece where it lies on the plate.
struct PlateShape {
    int id = 0; ///< for selecting
    QString label;
    QString tip;
    mesh::Region outline;  ///< mm, middle of the plate at (0, 0), y to the back
    bool doubtful = false; ///< needs support, or has failed before: hatched
};

struct PlateShown {
    QString title; ///< "Plate 3 on big one"
    core::Bed bed;
    double marginMm = 0; ///< kept free all round
    std::vector<PlateShape> shapes;
};

/// A plate from above, true in its proportions: bed, margin, and the outlines of what stands on it with their numbers.
/// Arrow keys and clicks choose a piece.
class PlatePicture : public QWidget {
    Q_OBJECT
public:
    explicit PlatePicture(QWidget* parent = nullptr);
    void setPlate(PlateShown plate);
    void clear();
    const PlateShown& plate() const { return m_plate; }
    int selectedId() const { return m_selected; } ///< -1: none
    void select(int id);                          ///< without a signal
    /// A place on the plate in the widget.
    QPointF pixelOf(mesh::Vec2 mm) const;

signals:
    void selected(int id);

protected:
    void paintEvent(QPaintEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    bool event(QEvent* event) override;
    QSize sizeHint() const override;
    QSize minimumSizeHint() const override;

private:
    double scale() const; ///< pixels a mm; 0: nothing to show
    QRectF room() const;
    const PlateShape* shapeAt(QPointF at) const;
    void choose(int id);
    void paintBed(QPainter& painter) const;
    void paintShape(QPainter& painter, const PlateShape& shape, const QPainterPath& path) const;

    PlateShown m_plate;
    std::vector<QPainterPath> m_paths; ///< mm, y upwards as in the data
    int m_selected = -1;
};

} // namespace quoin::ui
