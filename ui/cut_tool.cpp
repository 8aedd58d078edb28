// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// What dragging and the keys do to the plane. How the handle looks is in cut_tool_paint.cpp.
#include "ui/cut_tool.h"

#include "mesh/transform.h"
#include "ui/cut_tool_shape.h"

#include <QKeyEvent>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::ui {

using mesh::Plane;
using mesh::Vec3;

namespace {

constexpr double degree = std::numbers::pi / 180;
/// How far from a named offset the pointer may be to snap, and from an angle.
constexpr double snapReachPx = 7;
constexpr double snapReachRadians = 2.5 * degree;
/// Steps of the keys when no step is set.
constexpr double keyStepMm = 1, keyTilt = degree;
constexpr double manySteps = 10;

bool unsnapped(Qt::KeyboardModifiers modifiers)
{
    return (modifiers & (Qt::AltModifier | Qt::ControlModifier)) != 0;
}

} // namespace

void CutTool::changed()
{
    if (m_host)
        m_host->overlayChanged();
    emit hintChanged();
}

void CutTool::setPlane(const Plane& plane, Vec3 centre, const mesh::Box3& box)
{
    m_box = box;
    // What the host sends back while a drag goes on must not disturb it.
    if (m_grip != Grip::None)
        return;
    const auto frame = mesh::frameOf(plane);
    m_plane = plane;
    m_centre = centre - plane.distance(centre) * plane.normal;
    m_axisU = frame.u;
    m_axisV = frame.v;
    m_snappedTo.clear();
    changed();
}

void CutTool::clearPlane()
{
    m_plane.reset();
    m_grip = m_over = Grip::None;
    m_snappedTo.clear();
    changed();
}

void CutTool::setSnaps(const CutSnaps& snaps)
{
    m_snaps = snaps;
    changed();
}

void CutTool::clicked(const ToolEvent& event)
{
    emit clickedBeside(event.at, event.modifiers);
}

void CutTool::setArea(std::optional<double> areaMm2)
{
    m_areaMm2 = areaMm2;
    if (m_host)
        m_host->overlayChanged();
}

QCursor CutTool::cursor() const
{
    if (m_grip != Grip::None)
        return Qt::ClosedHandCursor;
    return m_over != Grip::None ? Qt::OpenHandCursor : Qt::ArrowCursor;
}

QString CutTool::hint() const
{
    if (!m_plane)
        return tr("Choose a cut to move it.");
    return tr("Drag the arrow: move the cut. Drag an arc: tilt it. Ctrl or Alt: without snapping. Up and Down: by %1 "
              "mm, Page up and Page down: ten times that. Alt and arrow keys: tilt by 1°. Escape: as it was; "
              "again: choose none.")
        .arg(m_snaps.stepMm > 0 ? m_snaps.stepMm : keyStepMm);
}

Vec3 CutTool::axisOf(Grip grip) const
{
    return grip == Grip::ArcU ? m_axisU : m_axisV;
}

bool CutTool::pressed(const ToolEvent& event)
{
    if (!m_plane || !m_host)
        return false;
    m_grip = gripAt(event.at, m_host->camera());
    if (m_grip == Grip::None)
        return false;
    m_over = m_grip;
    m_press = event.at;
    m_startPlane = *m_plane;
    m_startCentre = m_centre;
    m_startU = m_axisU;
    m_startV = m_axisV;
    emit dragStarted();
    changed();
    return true;
}

void CutTool::become(const Plane& plane, const QString& snappedTo)
{
    const bool same = plane.normal == m_plane->normal && plane.offset == m_plane->offset;
    m_plane = plane;
    m_snappedTo = snappedTo;
    if (m_host)
        m_host->overlayChanged();
    if (!same)
        emit planeMoved(plane);
}

void CutTool::moveTo(double offset, const OrbitCamera& camera, bool free)
{
    const double reach = snapReachPx * camera.mmPerPixel(m_startCentre);
    const SnappedOffset snapped =
        free ? SnappedOffset{offset, {}} : snappedOffset(offset, m_snaps.offsets, reach, m_snaps.stepMm);
    m_centre = m_startCentre + (snapped.offsetMm - m_startPlane.offset) * m_startPlane.normal;
    become({m_startPlane.normal, snapped.offsetMm}, QString::fromStdString(snapped.name));
}

void CutTool::tiltBy(double radians, bool free)
{
    const Vec3 axis = m_grip == Grip::ArcU ? m_startU : m_startV;
    const Vec3 turned = mesh::Transform::rotation(axis, radians).direction(m_startPlane.normal);
    const SnappedNormal snapped = free ? SnappedNormal{turned, {}}
                                       : snappedNormal(turned, axis, m_snaps.normals, snapReachRadians, m_snaps.angles);
    const mesh::Transform turn = mesh::Transform::turning(m_startPlane.normal, snapped.normal);
    m_axisU = turn.direction(m_startU);
    m_axisV = turn.direction(m_startV);
    become(mesh::planeThrough(m_startCentre, snapped.normal), QString::fromStdString(snapped.name));
}

void CutTool::dragged(const ToolEvent& event)
{
    if (m_grip == Grip::None || !m_plane || !m_host)
        return;
    const OrbitCamera& camera = m_host->camera();
    if (m_grip == Grip::Arrow) {
        if (const auto mm = draggedAlong(camera, m_startCentre, m_startPlane.normal, m_press, event.at))
            moveTo(m_startPlane.offset + *mm, camera, unsnapped(event.modifiers));
        return;
    }
    const Vec3 axis = m_grip == Grip::ArcU ? m_startU : m_startV;
    const double radius = cut_handle::arcPx * camera.mmPerPixel(m_startCentre);
    if (const auto angle = draggedRound(camera, m_startCentre, axis, radius, m_press, event.at))
        tiltBy(*angle, unsnapped(event.modifiers));
}

void CutTool::finish()
{
    m_grip = Grip::None;
    m_snappedTo.clear();
    // The axes of the new plane, as everyone else finds them.
    const auto frame = mesh::frameOf(*m_plane);
    m_axisU = frame.u;
    m_axisV = frame.v;
    changed();
    emit dragFinished(*m_plane);
}

void CutTool::released(const ToolEvent&)
{
    if (m_grip != Grip::None && m_plane)
        finish();
    m_grip = Grip::None;
}

void CutTool::hovered(const ToolEvent& event)
{
    const Grip over = m_host && m_plane ? gripAt(event.at, m_host->camera()) : Grip::None;
    if (over == m_over)
        return;
    m_over = over;
    m_host->overlayChanged();
}

void CutTool::left()
{
    if (m_grip != Grip::None || m_over == Grip::None)
        return;
    m_over = Grip::None;
    if (m_host)
        m_host->overlayChanged();
}

void CutTool::moveByKey(double mm)
{
    m_startPlane = *m_plane;
    m_startCentre = m_centre;
    emit dragStarted();
    m_centre = m_centre + mm * m_plane->normal;
    become({m_plane->normal, m_plane->offset + mm}, {});
    finish();
}

void CutTool::tiltByKey(Grip grip, double radians)
{
    emit dragStarted();
    const Vec3 axis = axisOf(grip);
    become(tilted(*m_plane, m_centre, axis, radians), {});
    finish();
}

bool CutTool::keyPressed(QKeyEvent& event)
{
    if (!m_plane)
        return false;
    if (m_grip != Grip::None) {
        if (event.key() != Qt::Key_Escape)
            return true;
        m_centre = m_startCentre;
        become(m_startPlane, {});
        finish();
        return true;
    }
    if (event.key() == Qt::Key_Escape) {
        emit leaveWanted();
        return true;
    }
    const double step = m_snaps.stepMm > 0 ? m_snaps.stepMm : keyStepMm;
    const Qt::KeyboardModifiers modifiers = event.modifiers() & ~Qt::KeypadModifier;
    if (modifiers == Qt::AltModifier) {
        switch (event.key()) {
        case Qt::Key_Up:
            tiltByKey(Grip::ArcU, -keyTilt);
            return true;
        case Qt::Key_Down:
            tiltByKey(Grip::ArcU, keyTilt);
            return true;
        case Qt::Key_Left:
            tiltByKey(Grip::ArcV, -keyTilt);
            return true;
        case Qt::Key_Right:
            tiltByKey(Grip::ArcV, keyTilt);
            return true;
        default:
            return false;
        }
    }
    if (modifiers != Qt::NoModifier)
        return false;
    switch (event.key()) {
    case Qt::Key_Up:
        moveByKey(step);
        return true;
    case Qt::Key_Down:
        moveByKey(-step);
        return true;
    case Qt::Key_PageUp:
        moveByKey(manySteps * step);
        return true;
    case Qt::Key_PageDown:
        moveByKey(-manySteps * step);
        return true;
    default:
        return false;
    }
}

} // namespace quoin::ui
