// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint_tool.h"

#include "ui/dimension_pen.h"
#include "ui/measure.h"

#include <QKeyEvent>

#include <algorithm>
#include <cmath>

namespace quoin::ui {

using mesh::Index;
using mesh::Vec3;

namespace {

constexpr double radiusStep = 1.2;
/// The pointer's way between two events is brushed at steps of this share of the radius, so that no gaps are left.
constexpr double strideShare = 0.5;
constexpr double leastStridePx = 2;
/// Of a stroke that is being drawn, so many triangles are shown over the picture at most.
constexpr std::size_t mostShown = 10000;
constexpr Qt::KeyboardModifiers oppositeKeys = Qt::ShiftModifier | Qt::AltModifier;

} // namespace

void PaintTool::changed()
{
    if (m_host)
        m_host->overlayChanged();
    emit hintChanged();
}

void PaintTool::setRadiusMm(double radiusMm)
{
    const double wanted = std::clamp(radiusMm, leastRadiusMm, mostRadiusMm);
    if (!(wanted != m_radiusMm))
        return;
    m_radiusMm = wanted;
    changed();
    emit radiusChanged(m_radiusMm);
}

void PaintTool::setMode(Mode mode)
{
    if (mode == m_mode)
        return;
    m_mode = mode;
    changed();
    emit modeChanged(mode);
}

void PaintTool::setMarking(bool marking)
{
    if (marking == m_marking)
        return;
    m_marking = marking;
    changed();
    emit markingChanged(marking);
}

QString PaintTool::hint() const
{
    const QString what = m_marking ? tr("marks places that no cut may pass") : tr("takes marks away");
    const QString how = m_mode == Mode::Fill ? tr("Click: %1, the whole smooth face up to its edges.").arg(what)
                                             : tr("Drag: %1, radius %2 ([ and ], or Ctrl and wheel).")
                                                   .arg(what, QString::fromStdString(lengthText(m_radiusMm)));
    return how + tr(" Shift or Alt: the opposite. U: change between the two. L: brush or whole face. Enter: at the "
                    "middle of the view. Drag beside the model: turn. Escape: done.");
}

bool PaintTool::begin(ScreenPoint at, Qt::KeyboardModifiers modifiers)
{
    const auto hit = m_host ? m_host->hitAt(at) : std::nullopt;
    if (!hit)
        return false;
    const mesh::Mesh* mesh = m_host->pickMesh(hit->body);
    if (!mesh || !m_host->pickNeighbours(hit->body)) {
        emit refused(tr("This body is still being prepared: try again in a moment."));
        return true;
    }
    m_stroke = Stroke{hit->body,
                      m_marking != ((modifiers & oppositeKeys) != 0),
                      {},
                      std::vector<bool>(mesh->triangles.size(), false),
                      at};
    addAt(at);
    return true;
}

bool PaintTool::pressed(const ToolEvent& event)
{
    return begin(event.at, event.modifiers);
}

void PaintTool::addAt(ScreenPoint at)
{
    const auto hit = m_host->hitAt(at);
    const mesh::Mesh* mesh = m_host->pickMesh(m_stroke->body);
    const SurfaceNeighbours* neighbours = m_host->pickNeighbours(m_stroke->body);
    m_hover = hit;
    if (!hit || hit->body != m_stroke->body || !mesh || !neighbours || mesh->triangles.size() != m_stroke->taken.size())
        return;
    std::vector<Index> found;
    if (m_mode == Mode::Fill) {
        found = smoothPatch(*mesh, *neighbours, hit->triangle);
    } else {
        const mesh::Transform placement = m_host->pickPlacement(hit->body);
        const double scale = std::cbrt(std::abs(placement.determinant()));
        // The hit in the mesh's own frame: by its weights in the triangle, which no affine map changes.
        const Vec3 a = mesh->corner(hit->triangle, 0), b = mesh->corner(hit->triangle, 1),
                   c = mesh->corner(hit->triangle, 2);
        const Vec3 pa = placement.point(a), u = placement.point(b) - pa, v = placement.point(c) - pa;
        const Vec3 d = hit->point - pa, n = cross(u, v);
        const double squared = dot(n, n), wb = squared > 0 ? dot(cross(d, v), n) / squared : 0,
                     wc = squared > 0 ? dot(cross(u, d), n) / squared : 0;
        found = brushed(*mesh, *neighbours, hit->triangle, a + wb * (b - a) + wc * (c - a), m_radiusMm / scale);
    }
    std::vector<Index> added;
    for (const Index t : found)
        if (!m_stroke->taken[t]) {
            m_stroke->taken[t] = true;
            added.push_back(t);
        }
    m_stroke->triangles.insert(m_stroke->triangles.end(), added.begin(), added.end());
    m_host->overlayChanged();
    if (!added.empty())
        emit strokeGrown(added, m_stroke->mark, m_stroke->body);
}

void PaintTool::dragged(const ToolEvent& event)
{
    if (!m_stroke)
        return;
    if (m_mode == Mode::Fill) {
        addAt(event.at);
        return;
    }
    const ScreenPoint from = m_stroke->last, to = event.at;
    const double mm = m_host->camera().mmPerPixel(m_hover ? m_hover->point : m_host->camera().target);
    const double stride = std::max(leastStridePx, strideShare * m_radiusMm / mm);
    const int steps = std::max(1, static_cast<int>(std::ceil(std::hypot(to.x - from.x, to.y - from.y) / stride)));
    for (int i = 1; i <= steps; ++i) {
        const double t = static_cast<double>(i) / steps;
        addAt({from.x + t * (to.x - from.x), from.y + t * (to.y - from.y)});
    }
    m_stroke->last = to;
}

void PaintTool::finish()
{
    if (!m_stroke)
        return;
    Stroke done = std::move(*m_stroke);
    m_stroke.reset();
    std::sort(done.triangles.begin(), done.triangles.end());
    if (!done.triangles.empty())
        emit stroke(done.triangles, done.mark, done.body);
    changed();
}

void PaintTool::released(const ToolEvent&)
{
    finish();
}

void PaintTool::hovered(const ToolEvent& event)
{
    m_hover = m_host ? m_host->hitAt(event.at) : std::nullopt;
    m_opposite = (event.modifiers & oppositeKeys) != 0;
    if (m_host)
        m_host->overlayChanged();
}

void PaintTool::left()
{
    m_hover.reset();
    if (m_host)
        m_host->overlayChanged();
}

bool PaintTool::wheeled(const ToolEvent& event, double notches)
{
    if (!(event.modifiers & Qt::ControlModifier))
        return false;
    setRadiusMm(m_radiusMm * std::pow(radiusStep, notches));
    return true;
}

bool PaintTool::keyPressed(QKeyEvent& event)
{
    switch (event.key()) {
    case Qt::Key_BracketLeft:
        setRadiusMm(m_radiusMm / radiusStep);
        return true;
    case Qt::Key_BracketRight:
        setRadiusMm(m_radiusMm * radiusStep);
        return true;
    case Qt::Key_U:
        setMarking(!m_marking);
        return true;
    case Qt::Key_L:
        setMode(m_mode == Mode::Fill ? Mode::Brush : Mode::Fill);
        return true;
    case Qt::Key_Return:
    case Qt::Key_Enter:
        if (m_host && !m_stroke && begin(m_host->camera().middle(), event.modifiers()))
            finish();
        return true;
    case Qt::Key_Escape:
        if (!m_stroke)
            return false;
        m_stroke.reset();
        changed();
        return true;
    default:
        return false;
    }
}

void PaintTool::paint(QPainter& painter, const OrbitCamera& camera) const
{
    const bool mark = m_stroke ? m_stroke->mark : m_marking != m_opposite;
    const mesh::Mesh* mesh = m_stroke && m_host ? m_host->pickMesh(m_stroke->body) : nullptr;
    if (mesh) {
        const mesh::Transform placement = m_host->pickPlacement(m_stroke->body);
        // Seams between see-through triangles would show, and it is quicker.
        painter.setRenderHint(QPainter::Antialiasing, false);
        painter.setPen(Qt::NoPen);
        QColor fill = mark ? ink::wrong : ink::pale;
        fill.setAlpha(150);
        painter.setBrush(fill);
        const std::size_t step = m_stroke->triangles.size() / mostShown + 1;
        for (std::size_t i = 0; i < m_stroke->triangles.size(); i += step) {
            const Index t = m_stroke->triangles[i];
            const Vec3 a = placement.point(mesh->corner(t, 0)), b = placement.point(mesh->corner(t, 1)),
                       c = placement.point(mesh->corner(t, 2));
            const Vec3 sight = camera.parallel ? camera.towardsViewer() : camera.eye() - a;
            if (dot(cross(b - a, c - a), sight) * placement.determinant() > 0)
                painter.drawPolygon(projected(camera, {a, b, c}));
        }
    }
    painter.setRenderHint(QPainter::Antialiasing, true);
    if (!m_hover)
        return;
    const auto at = camera.project(m_hover->point);
    if (m_mode == Mode::Brush)
        drawLine(painter, projected(camera, circlePoints(m_hover->point, m_hover->normal, m_radiusMm)),
                 mark ? ink::wrong : ink::dark, 2, mark ? Qt::SolidLine : Qt::DashLine);
    if (at)
        drawWords(painter, pointOf(*at) + QPointF(0, 28), mark ? tr("keep clear") : tr("unmark"));
}

} // namespace quoin::ui
