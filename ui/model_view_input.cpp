// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// What the pointer and the keys do to the view.
#include "ui/model_view.h"

#include <QApplication>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QNativeGestureEvent>
#include <QWheelEvent>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::ui {

using mesh::Vec3;

namespace {

constexpr double keyTurn = std::numbers::pi / 12;
/// A pan by key, as a share of the view's height.
constexpr double keyPanShare = 0.1;
/// One notch of the wheel or press of a key brings this much nearer.
constexpr double notchFactor = 0.85;
constexpr double wheelUnitsANotch = 120;
/// A right drag over this many pixels zooms by the factor e.
constexpr double zoomDragPx = 150;

ScreenPoint pixelOf(QPointF p)
{
    return {p.x(), p.y()};
}

ToolEvent toolEvent(const QMouseEvent& event)
{
    return {pixelOf(event.position()), event.buttons() | event.button(), event.modifiers()};
}

} // namespace

bool ModelView::event(QEvent* event)
{
    if (event->type() == QEvent::NativeGesture) {
        const auto* gesture = static_cast<QNativeGestureEvent*>(event);
        if (gesture->gestureType() == Qt::ZoomNativeGesture) {
            zoomAt(pixelOf(gesture->position()), 1 / std::max(0.2, 1 + gesture->value()));
            return true;
        }
    }
    return QWidget::event(event);
}

void ModelView::beginDrag(Drag drag, ScreenPoint at)
{
    m_glide.stop();
    m_goal = m_camera;
    m_drag = drag;
    m_dragged = false;
    m_press = m_last = at;
    m_pressCamera = m_camera;
    m_grabbed = drag == Drag::Turn ? turningCentre(at) : placeUnder(at);
}

void ModelView::mousePressEvent(QMouseEvent* event)
{
    if (m_drag != Drag::None)
        return;
    m_button = event->button();
    const ScreenPoint at = pixelOf(event->position());
    if (m_button == Qt::LeftButton && m_tool && m_tool->pressed(toolEvent(*event))) {
        m_drag = Drag::Tool;
        return;
    }
    if (m_button == Qt::LeftButton)
        beginDrag(event->modifiers() & Qt::ShiftModifier ? Drag::Pan : Drag::Turn, at);
    else if (m_button == Qt::MiddleButton)
        beginDrag(Drag::Pan, at);
    else if (m_button == Qt::RightButton)
        beginDrag(Drag::Zoom, at);
    else
        event->ignore();
}

void ModelView::dragTo(ScreenPoint at)
{
    if (!m_dragged) {
        if (std::hypot(at.x - m_press.x, at.y - m_press.y) < QApplication::startDragDistance() / 2.0)
            return;
        m_dragged = true;
        setMoving(true);
    }
    switch (m_drag) {
    case Drag::Turn:
        m_goal = m_camera.turnedAbout(at.x - m_last.x, at.y - m_last.y, m_grabbed);
        break;
    case Drag::Pan:
        m_goal = m_pressCamera.panned(m_press, at, m_grabbed);
        break;
    case Drag::Zoom:
        m_goal = m_pressCamera.zoomed(std::exp((at.y - m_press.y) / zoomDragPx), m_press, m_grabbed);
        break;
    default:
        return;
    }
    m_last = at;
    apply(m_goal);
}

void ModelView::mouseMoveEvent(QMouseEvent* event)
{
    if (m_drag == Drag::Tool) {
        if (m_tool)
            m_tool->dragged(toolEvent(*event));
    } else if (m_drag != Drag::None) {
        dragTo(pixelOf(event->position()));
    } else if (m_tool && event->buttons() == Qt::NoButton) {
        m_tool->hovered(toolEvent(*event));
        setCursor(m_tool->cursor());
    }
}

void ModelView::mouseReleaseEvent(QMouseEvent* event)
{
    if (m_drag == Drag::None || event->button() != m_button)
        return;
    const Drag drag = m_drag;
    m_drag = Drag::None;
    update();
    if (drag == Drag::Tool) {
        if (m_tool) {
            m_tool->released(toolEvent(*event));
            setCursor(m_tool->cursor());
        }
        return;
    }
    if (m_dragged) {
        setMoving(false);
        return;
    }
    const ScreenPoint at = pixelOf(event->position());
    if (m_button == Qt::LeftButton) {
        if (m_tool)
            m_tool->clicked(toolEvent(*event));
        emit clicked(hitAt(at), event->modifiers());
    } else if (m_button == Qt::RightButton) {
        emit menuWanted(event->position().toPoint(), hitAt(at));
    }
}

void ModelView::mouseDoubleClickEvent(QMouseEvent* event)
{
    if (event->button() != Qt::LeftButton) {
        mousePressEvent(event);
        return;
    }
    if (m_tool && m_tool->pressed(toolEvent(*event))) {
        m_button = event->button();
        m_drag = Drag::Tool;
        return;
    }
    const ScreenPoint at = pixelOf(event->position());
    const auto hit = hitAt(at);
    m_fixedCentre = hit ? std::optional(hit->point) : std::nullopt;
    if (hit)
        setCamera(m_camera.panned(at, {width() / 2.0, height() / 2.0}, hit->point));
}

void ModelView::zoomAt(ScreenPoint at, double factor)
{
    m_glide.stop();
    m_goal = m_camera.zoomed(factor, at, placeUnder(at));
    apply(m_goal);
}

void ModelView::wheelEvent(QWheelEvent* event)
{
    const double notches = (event->angleDelta().y() + event->angleDelta().x()) / wheelUnitsANotch;
    if (notches == 0 || m_drag != Drag::None)
        return;
    const ToolEvent at{pixelOf(event->position()), event->buttons(), event->modifiers()};
    if (!m_tool || !m_tool->wheeled(at, notches))
        zoomAt(at.at, std::pow(notchFactor, notches));
    event->accept();
}

void ModelView::leaveEvent(QEvent* event)
{
    QWidget::leaveEvent(event);
    if (m_tool)
        m_tool->left();
}

void ModelView::keyPressEvent(QKeyEvent* event)
{
    if (m_tool && m_tool->keyPressed(*event))
        return;
    if (event->key() == Qt::Key_Escape && event->modifiers() == Qt::NoModifier)
        emit escaped();
    else if (!movingKey(*event) && !cameraKey(*event))
        QWidget::keyPressEvent(event);
}

void ModelView::turnBy(double azimuth, double elevation)
{
    const Vec3 centre = m_fixedCentre              ? *m_fixedCentre
                        : m_picks.bounds().empty() ? m_goal.target
                                                   : m_picks.bounds().centre();
    setCamera(m_goal.keeping(centre, m_goal.azimuth + azimuth, m_goal.elevation + elevation));
}

bool ModelView::movingKey(QKeyEvent& event)
{
    if (event.modifiers() & (Qt::ControlModifier | Qt::AltModifier | Qt::MetaModifier))
        return false;
    double x = 0, y = 0;
    switch (event.key()) {
    case Qt::Key_Left:
        x = -1;
        break;
    case Qt::Key_Right:
        x = 1;
        break;
    case Qt::Key_Up:
        y = -1;
        break;
    case Qt::Key_Down:
        y = 1;
        break;
    default:
        return false;
    }
    if (event.modifiers() & Qt::ShiftModifier) {
        const double px = keyPanShare * height();
        setCamera(m_goal.panned({0, 0}, {x * px, y * px}, m_goal.target));
    } else {
        turnBy(-x * keyTurn, y * keyTurn);
    }
    return true;
}

bool ModelView::cameraKey(QKeyEvent& event)
{
    if (event.modifiers() & (Qt::ControlModifier | Qt::AltModifier | Qt::MetaModifier))
        return false;
    const ScreenPoint middle{width() / 2.0, height() / 2.0};
    switch (event.key()) {
    case Qt::Key_Plus:
    case Qt::Key_Equal:
        setCamera(m_goal.zoomed(notchFactor, middle, m_goal.target));
        return true;
    case Qt::Key_Minus:
        setCamera(m_goal.zoomed(1 / notchFactor, middle, m_goal.target));
        return true;
    case Qt::Key_F:
        if (!fitBox().empty())
            fitTo(mesh::Box3(fitBox()));
        return true;
    case Qt::Key_P:
        setParallel(!m_goal.parallel);
        return true;
    default:
        break;
    }
    if (event.key() < Qt::Key_1 || event.key() > Qt::Key_7)
        return false;
    lookFrom(static_cast<StandardView>(event.key() - Qt::Key_1));
    return true;
}

} // namespace quoin::ui
