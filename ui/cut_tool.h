// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/model_file.h"
#include "ui/handle_maths.h"
#include "ui/view_tool.h"

#include <optional>
#include <vector>

namespace quoin::ui {

/// What a dragged cut plane likes to stop at.
struct CutSnaps {
    double stepMm = 1;                ///< of the offset; 0: none
    std::vector<NamedOffset> offsets; ///< along the plane's present normal: flat faces, middles, bed multiples
    bool angles = true;               ///< marks every 15 degrees
    std::vector<NamedNormal> normals; ///< axes, flat faces
};

/// The handle of one cut plane: an arrow along its normal that moves it, and two arcs that tilt it about the middle of
/// the handle. All in the scene's frame; offsets are distances from the scene's origin along the normal.
class CutTool : public ViewTool {
    Q_OBJECT
public:
    enum class Grip { None, Arrow, ArcU, ArcV };

    using ViewTool::ViewTool;

    /// @param centre  where the handle stands, moved onto the plane
    /// @param box     of the part, scene frame: offsets to snap to are shown within it
    void setPlane(const mesh::Plane& plane, mesh::Vec3 centre, const mesh::Box3& box);
    /// No plane: nothing is shown and taken.
    void clearPlane();
    const std::optional<mesh::Plane>& plane() const { return m_plane; }
    mesh::Vec3 centre() const { return m_centre; }
    void setSnaps(const CutSnaps& snaps);
    /// Of the face that the plane makes, to be told with the plane; none: not known.
    void setArea(std::optional<double> areaMm2);
    void setUnit(mesh::Unit unit) { m_unit = unit; }
    const CutSnaps& snaps() const { return m_snaps; }
    Grip gripAt(ScreenPoint at, const OrbitCamera& camera) const;
    /// Where a grip can be taken hold of, for tests and for tours of the window; none when it isn't seen.
    std::optional<ScreenPoint> gripPlace(Grip grip, const OrbitCamera& camera) const;

    QCursor cursor() const override;
    QString hint() const override;
    bool pressed(const ToolEvent& event) override;
    void dragged(const ToolEvent& event) override;
    void released(const ToolEvent& event) override;
    void hovered(const ToolEvent& event) override;
    void clicked(const ToolEvent& event) override;
    void left() override;
    bool keyPressed(QKeyEvent& event) override;
    void paint(QPainter& painter, const OrbitCamera& camera) const override;

signals:
    void dragStarted();
    void planeMoved(const quoin::mesh::Plane& live);
    /// The plane as it is left; after Escape the one that was there before.
    void dragFinished(const quoin::mesh::Plane& plane);
    /// A click beside the handle.
    void clickedBeside(quoin::ui::ScreenPoint at, Qt::KeyboardModifiers modifiers);
    /// Escape while nothing is dragged.
    void leaveWanted();

private:
    mesh::Vec3 axisOf(Grip grip) const;
    std::vector<mesh::Vec3> arcPoints(Grip grip, double radiusMm) const;
    void moveTo(double offset, const OrbitCamera& camera, bool free);
    void tiltBy(double radians, bool free);
    void become(const mesh::Plane& plane, const QString& snappedTo);
    void moveByKey(double mm);
    void tiltByKey(Grip grip, double radians);
    void finish();
    void changed();
    void paintArrow(QPainter& painter, const OrbitCamera& camera) const;
    void paintArc(QPainter& painter, const OrbitCamera& camera, Grip grip) const;
    void paintStops(QPainter& painter, const OrbitCamera& camera) const;
    void paintWords(QPainter& painter, const OrbitCamera& camera) const;

    std::optional<mesh::Plane> m_plane;
    mesh::Vec3 m_centre{0, 0, 0};
    mesh::Vec3 m_axisU{1, 0, 0}, m_axisV{0, 1, 0}; ///< in the plane, carried along while dragging
    mesh::Box3 m_box;
    CutSnaps m_snaps;
    QString m_snappedTo;
    std::optional<double> m_areaMm2;
    mesh::Unit m_unit = mesh::Unit::Millimetre;
    Grip m_over = Grip::None, m_grip = Grip::None;

    mesh::Plane m_startPlane;
    mesh::Vec3 m_startCentre{0, 0, 0}, m_startU{1, 0, 0}, m_startV{0, 1, 0};
    ScreenPoint m_press;
};

} // namespace quoin::ui
