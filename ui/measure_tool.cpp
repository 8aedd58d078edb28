// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/measure_tool.h"

#include "ui/dimension_pen.h"

#include <QClipboard>
#include <QGuiApplication>
#include <QKeyEvent>

#include <cmath>
#include <numbers>
#include <utility>

namespace quoin::ui {

using mesh::Vec3;

namespace {

/// How near the pointer must be to a corner or the middle of an edge to take it.
constexpr double snapReachPx = 10;
constexpr double markPx = 5;

QString words(const std::string& text)
{
    return QString::fromStdString(text);
}

/// How well a round fits, as far as it means anything.
QString fitText(double mm)
{
    constexpr double leastTold = 0.01;
    return mm < leastTold ? MeasureTool::tr("fits within 0.01 mm")
                          : MeasureTool::tr("fits to %1").arg(words(lengthText(mm)));
}

void paintMark(QPainter& painter, const OrbitCamera& camera, const MeasureTool::Pick& pick, const QColor& colour)
{
    const auto at = camera.project(pick.point);
    if (!at)
        return;
    const QPointF p = pointOf(*at);
    const double s = markPx;
    // A square on a corner, a triangle on the middle of an edge, a cross on the bare surface: told without colour.
    if (pick.snapped == SnapPlace::Kind::Corner)
        drawLine(painter,
                 {p + QPointF(-s, -s), p + QPointF(s, -s), p + QPointF(s, s), p + QPointF(-s, s), p + QPointF(-s, -s)},
                 colour, 2);
    else if (pick.snapped == SnapPlace::Kind::EdgeMiddle)
        drawLine(painter, {p + QPointF(-s, s), p + QPointF(s, s), p + QPointF(0, -s), p + QPointF(-s, s)}, colour, 2);
    else {
        drawLine(painter, {p - QPointF(s, 0), p + QPointF(s, 0)}, colour, 2);
        drawLine(painter, {p - QPointF(0, s), p + QPointF(0, s)}, colour, 2);
    }
}

} // namespace

void MeasureTool::changed()
{
    if (m_host)
        m_host->overlayChanged();
    emit hintChanged();
}

void MeasureTool::setKind(Kind kind)
{
    if (m_kind == kind)
        return;
    m_kind = kind;
    m_picks.clear();
    m_trouble.clear();
    changed();
    emit kindChanged(kind);
}

void MeasureTool::clear()
{
    m_picks.clear();
    m_results.clear();
    m_hover.reset();
    m_trouble.clear();
    changed();
}

QString MeasureTool::allText() const
{
    QStringList lines;
    for (const Result& result : m_results)
        lines << result.text;
    return lines.join('\n');
}

std::size_t MeasureTool::wanted() const
{
    switch (m_kind) {
    case Kind::Distance:
    case Kind::FaceAngle:
        return 2;
    case Kind::Angle:
    case Kind::ThreePoints:
        return 3;
    case Kind::Round:
        break;
    }
    return 1;
}

QString MeasureTool::hint() const
{
    if (!m_trouble.isEmpty())
        return m_trouble;
    const auto done = m_picks.size();
    const QString rest =
        tr(" Enter: take the middle of the view. Delete: take back. Escape: clear, again: done. Ctrl+C: copy.");
    switch (m_kind) {
    case Kind::Distance:
        return (done ? tr("Click the second point.") : tr("Click the first of two points.")) + rest;
    case Kind::Angle:
        return (done == 0   ? tr("Click a point on the first leg.")
                : done == 1 ? tr("Click the corner of the angle.")
                            : tr("Click a point on the second leg.")) +
               rest;
    case Kind::FaceAngle:
        return (done ? tr("Click the second face.") : tr("Click the first of two faces.")) + rest;
    case Kind::ThreePoints:
        return tr("Click point %1 of 3 on the round.").arg(done + 1) + rest;
    case Kind::Round:
        return tr("Click a round face or the wall of a bore.") + rest;
    }
    return {};
}

/// The corner or middle of an edge near to the pointer, on the surface about a place that was hit.
std::optional<MeasureTool::Pick> MeasureTool::snappedPick(const ViewHit& hit, ScreenPoint at) const
{
    const mesh::Mesh* mesh = m_host->pickMesh(hit.body);
    if (!mesh)
        return std::nullopt;
    const auto snap = snapPlace(*mesh, m_host->pickNeighbours(hit.body), m_host->pickPlacement(hit.body), hit.triangle,
                                m_host->camera(), at, snapReachPx);
    return snap ? std::optional(Pick{snap->point, hit.normal, hit.body, hit.triangle, snap->kind}) : std::nullopt;
}

std::optional<MeasureTool::Pick> MeasureTool::pickAt(ScreenPoint at) const
{
    if (!m_host)
        return std::nullopt;
    const bool points = m_kind != Kind::FaceAngle && m_kind != Kind::Round;
    if (const auto hit = m_host->hitAt(at)) {
        const auto snapped = points ? snappedPick(*hit, at) : std::nullopt;
        return snapped ? snapped : Pick{hit->point, hit->normal, hit->body, hit->triangle, std::nullopt};
    }
    // Just beside the outline, where corners are: what can be snapped to counts, all the same.
    constexpr int around = 12;
    for (const double px : {snapReachPx / 2, snapReachPx})
        for (int i = 0; points && i < around; ++i) {
            const double angle = 2 * std::numbers::pi * i / around;
            const auto hit = m_host->hitAt({at.x + px * std::cos(angle), at.y + px * std::sin(angle)});
            if (const auto snapped = hit ? snappedPick(*hit, at) : std::nullopt)
                return snapped;
        }
    return std::nullopt;
}

void MeasureTool::hovered(const ToolEvent& event)
{
    m_hover = pickAt(event.at);
    if (m_host)
        m_host->overlayChanged();
}

void MeasureTool::left()
{
    m_hover.reset();
    if (m_host)
        m_host->overlayChanged();
}

void MeasureTool::clicked(const ToolEvent& event)
{
    take(pickAt(event.at));
}

void MeasureTool::refuse(const QString& why)
{
    m_trouble = why;
    changed();
    emit refused(why);
}

void MeasureTool::take(const std::optional<Pick>& pick)
{
    if (!pick) {
        refuse(tr("There is nothing to measure at this place: click on the model."));
        return;
    }
    m_trouble.clear();
    m_picks.push_back(*pick);
    if (m_picks.size() >= wanted())
        finish();
    else
        changed();
}

std::optional<MeasureTool::Result> MeasureTool::roundResult(const Pick& pick)
{
    const SurfaceNeighbours* neighbours = m_host ? m_host->pickNeighbours(pick.body) : nullptr;
    const mesh::Mesh* mesh = m_host ? m_host->pickMesh(pick.body) : nullptr;
    if (!mesh || !neighbours) {
        refuse(tr("This body is still being prepared: try again in a moment."));
        return std::nullopt;
    }
    const auto fit = roundAt(*mesh, *neighbours, pick.triangle);
    if (!fit) {
        refuse(tr("The surface is flat or not round at this place. Three points give the radius of any circle."));
        return std::nullopt;
    }
    const mesh::Transform placement = m_host->pickPlacement(pick.body);
    const Vec3 along = placement.direction(fit->axis);
    const double scale = length(along);
    Result result{m_kind, {pick}, SpaceCircle{placement.point(fit->centre), along / scale, fit->radiusMm * scale}, {}};
    const bool ball = fit->kind == RoundFit::Kind::Ball;
    Vec3& centre = result.circle->centre;
    if (ball)
        result.circle->axis = m_host->camera().towardsViewer();
    else // the circle at the place that was clicked
        centre = centre + dot(pick.point - centre, result.circle->axis) * result.circle->axis;
    const QString what =
        ball ? (fit->hollow ? tr("hollow of a ball") : tr("ball")) : (fit->hollow ? tr("bore or fillet") : tr("round"));
    result.text =
        tr("R %1 (%2, %3)").arg(words(lengthText(fit->radiusMm * scale)), what, fitText(fit->residualMm * scale));
    return result;
}

void MeasureTool::finish()
{
    Result result{m_kind, std::exchange(m_picks, {}), {}, {}};
    const auto& p = result.picks;
    switch (m_kind) {
    case Kind::Distance:
        result.text = words(lengthText(length(p[1].point - p[0].point)));
        break;
    case Kind::Angle: {
        const auto angle = angleAt(p[0].point, p[1].point, p[2].point);
        if (!angle)
            return refuse(tr("Two of the three points are the same: an angle needs three places."));
        result.text = words(angleText(*angle));
        break;
    }
    case Kind::FaceAngle:
        result.text = words(angleText(angleBetweenFaces(p[0].normal, p[1].normal)));
        break;
    case Kind::ThreePoints:
        result.circle = circleThrough(p[0].point, p[1].point, p[2].point);
        if (!result.circle)
            return refuse(tr("The three points lie on a line: no circle goes through them."));
        result.text = tr("R %1").arg(words(lengthText(result.circle->radiusMm)));
        break;
    case Kind::Round: {
        const auto round = roundResult(p[0]);
        if (!round)
            return;
        result = *round;
        break;
    }
    }
    m_results.push_back(result);
    changed();
    emit measured(m_results.back().text);
}

bool MeasureTool::keyPressed(QKeyEvent& event)
{
    if (event.matches(QKeySequence::Copy)) {
        if (!m_results.empty())
            QGuiApplication::clipboard()->setText(allText());
        return true;
    }
    switch (event.key()) {
    case Qt::Key_Return:
    case Qt::Key_Enter:
        if (m_host)
            take(pickAt(m_host->camera().middle()));
        return true;
    case Qt::Key_Delete:
    case Qt::Key_Backspace:
        if (!m_picks.empty())
            m_picks.pop_back();
        else if (!m_results.empty())
            m_results.pop_back();
        m_trouble.clear();
        changed();
        return true;
    case Qt::Key_Escape: {
        const bool any = !m_picks.empty() || !m_results.empty();
        // First what is half made, then all.
        if (!m_picks.empty()) {
            m_picks.clear();
            changed();
        } else if (any) {
            clear();
        }
        return any;
    }
    default:
        return false;
    }
}

void MeasureTool::paintResult(QPainter& painter, const OrbitCamera& camera, const Result& result) const
{
    const auto& p = result.picks;
    switch (result.kind) {
    case Kind::Distance:
        paintDistance(painter, camera, p[0].point, p[1].point, result.text);
        break;
    case Kind::Angle:
        paintAngle(painter, camera, p[0].point, p[1].point, p[2].point, result.text);
        break;
    case Kind::FaceAngle:
        paintFaceAngle(painter, camera, p[0].point, p[0].normal, p[1].point, p[1].normal, result.text);
        break;
    case Kind::ThreePoints:
    case Kind::Round:
        paintCentreLine(painter, camera, result.circle->centre, result.circle->axis, 1.3 * result.circle->radiusMm);
        paintRadius(painter, camera, result.circle->centre, result.circle->axis, result.circle->radiusMm, p[0].point,
                    result.text);
        break;
    }
}

void MeasureTool::paintPending(QPainter& painter, const OrbitCamera& camera) const
{
    for (const Pick& pick : m_picks)
        paintMark(painter, camera, pick, ink::chosen);
    if (!m_hover)
        return;
    if (m_kind == Kind::Distance && m_picks.size() == 1)
        paintDistance(painter, camera, m_picks[0].point, m_hover->point,
                      words(lengthText(length(m_hover->point - m_picks[0].point))));
    else if (m_kind == Kind::Angle && m_picks.size() == 2) {
        if (const auto angle = angleAt(m_picks[0].point, m_picks[1].point, m_hover->point))
            paintAngle(painter, camera, m_picks[0].point, m_picks[1].point, m_hover->point, words(angleText(*angle)));
    } else if (!m_picks.empty())
        drawLine(painter, projected(camera, {m_picks.back().point, m_hover->point}), ink::dark, 1.2, Qt::DashLine);
    paintMark(painter, camera, *m_hover, ink::hot);
}

void MeasureTool::paint(QPainter& painter, const OrbitCamera& camera) const
{
    for (const Result& result : m_results)
        paintResult(painter, camera, result);
    paintPending(painter, camera);
}

} // namespace quoin::ui
