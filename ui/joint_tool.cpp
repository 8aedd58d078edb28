// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/joint_tool.h"

#include "ui/dimension_pen.h"
#include "ui/measure.h"

#include <QKeyEvent>
#include <QPainterPath>
#include <QRegularExpression>

#include <algorithm>
#include <cmath>
#include <utility>

namespace quoin::ui {

using mesh::Vec2;
using mesh::Vec3;

namespace {

constexpr double reachPx = 12;
/// A press that slips less than this is a click.
constexpr double slipPx = 4;
/// Faces seen more edge on than this (sine) can't be dragged on.
constexpr double leastSlope = 0.05;
constexpr double stepMm = 1, fineStepMm = 0.1;
constexpr double stepDegrees = 15, fineStepDegrees = 1;
constexpr qsizetype longestWords = 90; ///< in the view; the list says all
constexpr double markPx = 5;

/// A tick or a cross: told without colour.
void paintVerdictMark(QPainter& painter, QPointF at, bool ok)
{
    const double s = markPx;
    if (ok) {
        drawLine(painter, {at + QPointF(-s, 0), at + QPointF(-s / 3, s * 0.8), at + QPointF(s, -s * 0.8)}, ink::dark,
                 2);
    } else {
        drawLine(painter, {at - QPointF(s, s), at + QPointF(s, s)}, ink::dark, 2);
        drawLine(painter, {at - QPointF(s, -s), at + QPointF(s, -s)}, ink::dark, 2);
    }
}

/// The beginning of a long reason: up to where its first thought ends.
QString brief(const QString& why)
{
    if (why.size() <= longestWords)
        return why;
    const qsizetype stop = why.indexOf(QRegularExpression(QStringLiteral("[:;.] ")));
    return stop > 0 && stop <= 2 * longestWords ? why.left(stop) : why.left(longestWords) + QStringLiteral("…");
}

} // namespace

void JointTool::changed()
{
    if (m_host)
        m_host->overlayChanged();
    emit hintChanged();
}

void JointTool::setJoints(std::vector<JointHandle> joints)
{
    m_joints = std::move(joints);
    if (m_move && !joint(m_move->id))
        m_move.reset();
    if (!joint(m_selected))
        m_selected.reset();
    changed();
}

void JointTool::setAllowed(const mesh::Region& region, const mesh::PlaneFrame& frame)
{
    m_allowed = region;
    m_allowedFrame = frame;
    changed();
}

void JointTool::setFace(const mesh::Region& face, const mesh::PlaneFrame& frame)
{
    m_face = face;
    m_faceFrame = frame;
}

void JointTool::clearAllowed()
{
    m_allowed.reset();
    changed();
}

void JointTool::setSelected(std::optional<int> id)
{
    m_selected = joint(id) ? id : std::nullopt;
    changed();
}

const JointHandle* JointTool::joint(std::optional<int> id) const
{
    for (const JointHandle& handle : m_joints)
        if (id && handle.id == *id)
            return &handle;
    return nullptr;
}

QCursor JointTool::cursor() const
{
    return m_move ? Qt::ClosedHandCursor : m_over ? Qt::OpenHandCursor : Qt::ArrowCursor;
}

QString JointTool::hint() const
{
    const QString add = m_face.empty() ? QString() : tr(" Ctrl and click: a new joint there. Insert: a new one.");
    if (m_joints.empty())
        return tr("There is no joint on this face to move.") + add;
    if (!m_selected)
        return tr("Click a joint to choose it, drag it to move it on its face. N: the next joint.") + add;
    return tr("Drag: move it. Arrows: by 1 mm, with Alt 0.1 mm. R: turn it by 15°, with Shift back, with Alt 1°. "
              "Delete: remove it. N: the next. Escape: as it was; again: choose none.") +
           add;
}

std::optional<int> JointTool::jointAt(ScreenPoint at, const OrbitCamera& camera) const
{
    std::optional<int> best;
    double least = reachPx;
    for (const JointHandle& handle : m_joints) {
        const auto seen = camera.project(handle.at);
        if (!seen)
            continue;
        // Inside the round counts as near to its middle, however large it is.
        const QPolygonF round = projected(camera, circlePoints(handle.at, handle.frame.normal, handle.radiusMm));
        double off = std::hypot(seen->x - at.x, seen->y - at.y);
        if (round.containsPoint(pointOf(at), Qt::OddEvenFill))
            off = std::min(off, reachPx - 1);
        if (off <= least) {
            least = off;
            best = handle.id;
        }
    }
    return best;
}

std::optional<Vec2> JointTool::onFace(const JointHandle& handle, ScreenPoint at) const
{
    return onPlane(handle.frame, handle.at, at);
}

std::optional<Vec2> JointTool::onPlane(const mesh::PlaneFrame& frame, Vec3 through, ScreenPoint at) const
{
    const ViewRay ray = m_host->camera().rayThrough(at);
    const double slope = dot(ray.direction, frame.normal);
    if (std::abs(slope) < leastSlope)
        return std::nullopt;
    const double along = dot(through - ray.origin, frame.normal) / slope;
    if (along <= 0)
        return std::nullopt;
    return frame.flat(ray.origin + along * ray.direction);
}

void JointTool::choose(std::optional<int> id)
{
    if (id == m_selected)
        return;
    m_selected = id;
    changed();
    if (id)
        emit selected(*id);
    else
        emit deselected();
}

bool JointTool::pressed(const ToolEvent& event)
{
    const auto id = m_host ? jointAt(event.at, m_host->camera()) : std::nullopt;
    const JointHandle* handle = joint(id);
    if (!handle)
        return false;
    const Vec2 from = handle->frame.flat(handle->at);
    m_move = Move{*id, from, from, onFace(*handle, event.at).value_or(from), {}, false, event.at};
    choose(id);
    return true;
}

void JointTool::place(Vec2 at)
{
    m_move->now = at;
    m_move->why = m_verdict ? m_verdict(m_move->id, at) : QString();
    m_host->overlayChanged();
    emit moved(m_move->id, at);
}

void JointTool::dragged(const ToolEvent& event)
{
    const JointHandle* handle = m_move ? joint(m_move->id) : nullptr;
    if (!handle)
        return;
    if (!m_move->begun && std::hypot(event.at.x - m_move->press.x, event.at.y - m_move->press.y) < slipPx)
        return;
    m_move->begun = true;
    if (const auto at = onFace(*handle, event.at))
        place(m_move->from + (*at - m_move->grabbed));
}

void JointTool::released(const ToolEvent&)
{
    if (!m_move)
        return;
    const Move done = *std::exchange(m_move, std::nullopt);
    changed();
    if (done.begun && !(done.now == done.from))
        emit moveFinished(done.id, done.now);
}

void JointTool::hovered(const ToolEvent& event)
{
    const auto over = m_host ? jointAt(event.at, m_host->camera()) : std::nullopt;
    if (over == m_over)
        return;
    m_over = over;
    m_host->overlayChanged();
}

void JointTool::clicked(const ToolEvent& event)
{
    if ((event.modifiers & Qt::ControlModifier) != 0 && !m_face.empty() && m_host) {
        const auto at = onPlane(m_faceFrame, m_faceFrame.origin, event.at);
        if (at && mesh::contains(m_face, *at))
            emit addWanted(*at);
        return;
    }
    // A click beside all joints: those on one are presses that were taken.
    choose(std::nullopt);
}

void JointTool::left()
{
    m_over.reset();
    if (m_host)
        m_host->overlayChanged();
}

void JointTool::chooseNext(int direction)
{
    if (m_joints.empty())
        return;
    const auto at = std::find_if(m_joints.begin(), m_joints.end(),
                                 [&](const JointHandle& handle) { return m_selected && handle.id == *m_selected; });
    const auto count = static_cast<std::ptrdiff_t>(m_joints.size());
    const std::ptrdiff_t from = at == m_joints.end() ? (direction > 0 ? -1 : count) : at - m_joints.begin();
    choose(m_joints[static_cast<std::size_t>((from + direction + count) % count)].id);
}

/// Along whichever axis of the face is seen most nearly the way that the arrow key points.
void JointTool::stepBy(double right, double up, double mm)
{
    const JointHandle* handle = joint(m_selected);
    const OrbitCamera& camera = m_host->camera();
    const Vec3 wanted = right * camera.right() + up * camera.up();
    const double alongU = dot(handle->frame.u, wanted), alongV = dot(handle->frame.v, wanted);
    const Vec2 step =
        std::abs(alongU) >= std::abs(alongV) ? Vec2{alongU < 0 ? -mm : mm, 0} : Vec2{0, alongV < 0 ? -mm : mm};
    const Vec2 to = handle->frame.flat(handle->at) + step;
    const int id = handle->id;
    emit moved(id, to);
    emit moveFinished(id, to);
}

bool JointTool::keyPressed(QKeyEvent& event)
{
    if (event.key() == Qt::Key_Escape) {
        if (m_move) {
            const Move undone = *std::exchange(m_move, std::nullopt);
            changed();
            emit moved(undone.id, undone.from);
            return true;
        }
        const bool any = m_selected.has_value();
        choose(std::nullopt);
        return any;
    }
    if (m_move)
        return true;
    if (event.key() == Qt::Key_N) {
        chooseNext(event.modifiers() & Qt::ShiftModifier ? -1 : 1);
        return true;
    }
    if (event.key() == Qt::Key_Insert && !m_face.empty()) {
        emit addWanted(std::nullopt);
        return true;
    }
    return jointKey(event);
}

/// Keys for the chosen joint.
bool JointTool::jointKey(QKeyEvent& event)
{
    const Qt::KeyboardModifiers modifiers = event.modifiers() & ~Qt::KeypadModifier;
    if (joint(m_selected) && event.key() == Qt::Key_R && (modifiers & Qt::ControlModifier) == 0) {
        const double degrees = modifiers & Qt::AltModifier ? fineStepDegrees : stepDegrees;
        emit turnWanted(*m_selected, (modifiers & Qt::ShiftModifier ? -degrees : degrees) * M_PI / 180);
        return true;
    }
    if (joint(m_selected) && event.key() == Qt::Key_Delete && modifiers == Qt::NoModifier) {
        emit removeWanted(*m_selected);
        return true;
    }
    if (!m_host || !joint(m_selected) || (modifiers != Qt::NoModifier && modifiers != Qt::AltModifier))
        return false;
    const double mm = modifiers == Qt::AltModifier ? fineStepMm : stepMm;
    switch (event.key()) {
    case Qt::Key_Left:
        stepBy(-1, 0, mm);
        return true;
    case Qt::Key_Right:
        stepBy(1, 0, mm);
        return true;
    case Qt::Key_Up:
        stepBy(0, 1, mm);
        return true;
    case Qt::Key_Down:
        stepBy(0, -1, mm);
        return true;
    default:
        return false;
    }
}

void JointTool::paintAllowed(QPainter& painter, const OrbitCamera& camera) const
{
    QPainterPath path;
    path.setFillRule(Qt::OddEvenFill);
    for (const mesh::Loop& loop : *m_allowed) {
        std::vector<Vec3> points;
        for (const Vec2 q : loop)
            points.push_back(m_allowedFrame.space(q));
        const QPolygonF line = projected(camera, points);
        if (line.size() < 3 || line.size() < static_cast<qsizetype>(points.size()))
            continue;
        path.addPolygon(line);
        path.closeSubpath();
    }
    QColor fill = ink::fine;
    fill.setAlpha(70);
    painter.setPen(QPen(ink::pale, 3.5));
    painter.setBrush(fill);
    painter.drawPath(path);
    painter.setPen(QPen(ink::fine.darker(130), 1.6, Qt::DashLine));
    painter.setBrush(Qt::NoBrush);
    painter.drawPath(path);
}

/// Which way it points: a line from its axis; of a dovetail the strip that it slides in.
void JointTool::paintPointer(QPainter& painter, const OrbitCamera& camera, const JointHandle& handle, Vec3 at) const
{
    if (!handle.pointer)
        return;
    const Vec3 along = handle.pointer->x * handle.frame.u + handle.pointer->y * handle.frame.v;
    const double far = length(along);
    if (!(far > 0))
        return;
    if (handle.halfWidthMm > 0) {
        const Vec3 across = handle.halfWidthMm / far * cross(handle.frame.normal, along);
        drawLine(painter,
                 projected(camera, {at + across, at + across + along, at - across + along, at - across, at + across}),
                 ink::dark, 1.6);
    }
    const QPolygonF line = projected(camera, {at, at + along});
    if (line.size() == 2)
        drawArrow(painter, line[0], line[1], ink::dark, 1.6);
}

void JointTool::paintJoint(QPainter& painter, const OrbitCamera& camera, const JointHandle& handle) const
{
    const bool moving = m_move && m_move->id == handle.id && m_move->begun;
    const Vec3 at =
        moving ? handle.frame.space(m_move->now, dot(handle.frame.normal, handle.at - handle.frame.origin)) : handle.at;
    const QString why = moving ? m_move->why : handle.ok ? QString() : handle.why;
    const bool ok = moving ? m_move->why.isEmpty() : handle.ok;
    const auto seen = camera.project(at);
    if (!seen)
        return;
    const bool chosen = m_selected == handle.id, hot = m_over == handle.id;
    const QPolygonF round = projected(camera, circlePoints(at, handle.frame.normal, handle.radiusMm));
    QColor fill = ok ? ink::fine : ink::wrong;
    fill.setAlpha(170);
    painter.setPen(Qt::NoPen);
    painter.setBrush(fill);
    painter.drawPolygon(round);
    drawLine(painter, round,
             hot      ? ink::hot
             : chosen ? ink::chosen
                      : ink::dark,
             chosen || hot ? 3.5 : 1.8, ok ? Qt::SolidLine : Qt::DashLine);
    paintPointer(painter, camera, handle, at);
    paintVerdictMark(painter, pointOf(*seen), ok);
    if (moving || chosen || hot) {
        constexpr double gapPx = 8;
        const double below = std::max(round.boundingRect().bottom(), seen->y + markPx) + gapPx;
        const QString text = ok ? tr("fits here") : why.isEmpty() ? tr("does not fit here") : brief(why);
        drawWordsBelow(painter, {seen->x, below}, text, ok ? ink::dark : ink::wrong.darker(130));
    }
}

void JointTool::paint(QPainter& painter, const OrbitCamera& camera) const
{
    if (m_allowed)
        paintAllowed(painter, camera);
    // The chosen one last, over the others.
    for (const JointHandle& handle : m_joints)
        if (m_selected != handle.id)
            paintJoint(painter, camera, handle);
    if (const JointHandle* handle = joint(m_selected))
        paintJoint(painter, camera, *handle);
}

} // namespace quoin::ui
