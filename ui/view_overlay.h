// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/colour.h"
#include "ui/orbit_camera.h"

#include <QPainter>
#include <QString>

#include <optional>

#include <vector>

/// The standing parts of what is painted over the picture.
namespace quoin::ui {

/// A round badge with a piece's number, at a place on its surface.
struct ViewBadge {
    mesh::Vec3 anchor{0, 0, 0};
    QString text;
    Colour colour; ///< of the piece
    bool selected = false;
    /// The pick body that it belongs to: the anchor then lies inside it, and is seen where that body is what the eye
    /// meets first on the way there. None: the anchor lies on a surface.
    std::optional<std::size_t> body{};
    friend bool operator==(const ViewBadge&, const ViewBadge&) = default;
};

/// Words at a place of the scene.
struct ViewNote {
    mesh::Vec3 anchor{0, 0, 0};
    QString text;
    bool hideCovered = false; ///< not shown where a solid is before it
    friend bool operator==(const ViewNote&, const ViewNote&) = default;
};

/// A force or a way, drawn as an arrow of one length on the screen that nothing hides.
struct ViewArrow {
    mesh::Vec3 tip{0, 0, 0};
    mesh::Vec3 way{0, 0, -1}; ///< unit
    QString text;
    bool chosen = false;
    friend bool operator==(const ViewArrow&, const ViewArrow&) = default;
};

/// What colours of lines mean.
struct ViewLegend {
    struct Row {
        Colour colour;
        double widthPx = 2;
        QString text;
        friend bool operator==(const Row&, const Row&) = default;
    };
    QString title;
    std::vector<Row> rows; ///< none: no legend
    friend bool operator==(const ViewLegend&, const ViewLegend&) = default;
};

void paintBadge(QPainter& painter, const OrbitCamera& camera, const ViewBadge& badge);
void paintNote(QPainter& painter, const OrbitCamera& camera, const ViewNote& note);
void paintArrow(QPainter& painter, const OrbitCamera& camera, const ViewArrow& arrow);
/// On a plate at the upper left.
void paintLegend(QPainter& painter, const ViewLegend& legend);
/// The three axes as they are seen, with their letters, at the lower left.
void paintTripod(QPainter& painter, const OrbitCamera& camera);
/// A round length as long as it is at the target, with its unit, at the lower right.
void paintScaleBar(QPainter& painter, const OrbitCamera& camera);
/// The place that a drag turns the view about.
void paintTurningCentre(QPainter& painter, const OrbitCamera& camera, mesh::Vec3 centre);

/// The bar of paintScaleBar: a round length (mm) and how long it is drawn.
struct ScaleBar {
    double lengthMm = 0, lengthPx = 0;
};
ScaleBar scaleBarOf(const OrbitCamera& camera, double mostPx);

} // namespace quoin::ui
