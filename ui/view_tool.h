// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "ui/orbit_camera.h"

#include <QCursor>
#include <QObject>
#include <QPainter>
#include <QString>

#include <optional>

class QKeyEvent;

namespace quoin::ui {

/// What the pointer is over: one of the solids given to the view.
struct ViewHit {
    std::size_t body = 0;      ///< index into the view's pick bodies
    mesh::Index triangle = 0;  ///< of that body's mesh
    mesh::Vec3 point{0, 0, 0}; ///< scene frame, mm
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
    virtual void attach(ViewHost* host) { m_host = host; }
    virtual QCursor cursor() const { return Qt::ArrowCursor; }
    /// One line for the status bar: what the pointer and the keys do now.
    virtual QString hint() const { return {}; }
    /// Returns whether the press is taken; drags and the release then go to the tool too.
    virtual bool pressed(const ToolEvent&) { return false; }
    virtual void dragged(const ToolEvent&) {}
    virtual void released(const ToolEvent&) {}
    virtual void hovered(const ToolEvent&) {}
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
