// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "ui/orbit_camera.h"
#include "ui/surface_brush.h"

#include <QCursor>
#include <QObject>
#include <QPainter>
#include <QString>

#include <optional>

class QKeyEvent;

namespace quoin::ui {

/// What the pointer is over: one of the solids given to the view.
struct ViewHit {
    std::size_t body = 0;       ///< index into the view's pick bodies
    mesh::Index triangle = 0;   ///< of that body's mesh
    mesh::Vec3 point{0, 0, 0};  ///< scene frame, mm
    mesh::Vec3 normal{0, 0, 1}; ///< of the triangle, outward, scene frame
};

/// What a tool may ask of the view that it works in.
class ViewHost {
public:
    virtual ~ViewHost() = default;
    virtual const OrbitCamera& camera() const = 0;
    virtual std::optional<ViewHit> hitAt(ScreenPoint p) const = 0;
    /// Solids whose numbers ViewHit::body speaks of.
    virtual const mesh::Mesh* pickMesh(std::size_t body) const = 0;
    virtual mesh::Transform pickPlacement(std::size_t body) const = 0;
    /// How the triangles of that mesh hang together; null when it isn't known (yet).
    virtual const SurfaceNeighbours* pickNeighbours(std::size_t) const { return nullptr; }
    /// Paint the overlay again.
    virtual void overlayChanged() = 0;
    virtual void setMoving(bool moving) = 0;
};

struct ToolEvent {
    ScreenPoint at;
    Qt::MouseButtons buttons;
    Qt::KeyboardModifiers modifiers;
};

/// What the pointer does in the view. A tool that doesn't take a press leaves it to the view, which then turns, pans or
/// zooms. Tools make no change to the design themselves: they emit what the user wants.
class ViewTool : public QObject {
    Q_OBJECT
public:
    using QObject::QObject;
    /// The view that the tool is now in charge of; null when it no longer is.
    virtual void attach(ViewHost* host) { m_host = host; }
    virtual QCursor cursor() const { return Qt::ArrowCursor; }
    /// One line for the status bar: what the pointer and the keys do now.
    virtual QString hint() const { return {}; }
    /// Returns whether the press is taken; drags and the release then go to the tool too.
    virtual bool pressed(const ToolEvent&) { return false; }
    virtual void dragged(const ToolEvent&) {}
    virtual void released(const ToolEvent&) {}
    virtual void hovered(const ToolEvent&) {}
    /// A left press that the tool did not take, let go where it was: no drag of the view came of it.
    virtual void clicked(const ToolEvent&) {}
    /// The pointer has left the view.
    virtual void left() {}
    /// The wheel, in notches away from the user; returns whether it is taken, else the view zooms.
    virtual bool wheeled(const ToolEvent&, double /*notches*/) { return false; }
    /// Returns whether the key is taken.
    virtual bool keyPressed(QKeyEvent&) { return false; }
    /// Paints over the picture, in widget pixels, with the camera that the picture was drawn with.
    virtual void paint(QPainter&, const OrbitCamera&) const {}

signals:
    void hintChanged();

protected:
    ViewHost* m_host = nullptr;
};

} // namespace quoin::ui
