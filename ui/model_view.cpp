// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/model_view.h"

#include <QResizeEvent>

#include <algorithm>
#include <cmath>
#include <utility>

namespace quoin::ui {

using mesh::Vec3;

namespace {

constexpr int glideMs = 200;
/// Nothing is drawn smaller than this.
constexpr int leastWidthPx = 160, leastHeightPx = 120;

} // namespace

ModelView::ModelView(QWidget* parent) : QWidget(parent)
{
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
    setAttribute(Qt::WA_OpaquePaintEvent);
    setMinimumSize(leastWidthPx, leastHeightPx);
    setAccessibleName(tr("Model view"));
    setAccessibleDescription(tr("The model in space. Arrow keys turn it, Shift and arrow keys shift it, plus and minus "
                                "zoom, F shows all of it, 1 to 7 look from the front, back, left, right, top, bottom "
                                "and a corner, P changes between parallel and perspective."));
    m_goal = m_camera = m_camera.looking(StandardView::Isometric);
    m_glide.setDuration(glideMs);
    m_glide.setStartValue(0.0);
    m_glide.setEndValue(1.0);
    m_glide.setEasingCurve(QEasingCurve::InOutQuad);
    connect(&m_glide, &QVariantAnimation::valueChanged, this,
            [this](const QVariant& t) { apply(between(m_from, m_goal, t.toDouble())); });
    // Also when it is stopped on its way.
    connect(&m_glide, &QAbstractAnimation::stateChanged, this,
            [this](QAbstractAnimation::State state) { setMoving(state == QAbstractAnimation::Running); });
}

ModelView::~ModelView()
{
    if (m_tool)
        m_tool->attach(nullptr);
}

void ModelView::setScene(ViewScenePtr scene)
{
    m_scene = std::move(scene);
    if (m_thread)
        m_thread->setScene(m_scene);
    update();
}

void ModelView::setPickBodies(std::vector<PickBody> bodies)
{
    if (bodies == m_picks.bodies())
        return; // as in every move of a dragged cut: badges stay as seen as they were
    m_picks = PickBodies(std::move(bodies));
    m_seenFrom.reset();
    update();
}

void ModelView::setBadges(std::vector<ViewBadge> badges)
{
    if (badges == m_badges)
        return;
    m_badges = std::move(badges);
    m_seenFrom.reset();
    update();
}

void ModelView::setArrows(std::vector<ViewArrow> arrows)
{
    if (arrows == m_arrows)
        return;
    m_arrows = std::move(arrows);
    update();
}

void ModelView::setLegend(const ViewLegend& legend)
{
    if (legend == m_legend)
        return;
    m_legend = legend;
    update();
}

void ModelView::setNotes(std::vector<ViewNote> notes)
{
    if (notes == m_notes)
        return;
    const bool hidden = std::ranges::any_of(notes, &ViewNote::hideCovered) || m_notes.size() != notes.size();
    m_notes = std::move(notes);
    if (hidden)
        m_seenFrom.reset();
    update();
}

void ModelView::setTool(ViewTool* tool)
{
    if (m_tool == tool)
        return;
    if (m_tool) {
        disconnect(m_tool, nullptr, this, nullptr);
        m_tool->attach(nullptr);
    }
    if (m_drag == Drag::Tool)
        m_drag = Drag::None;
    m_tool = tool;
    if (m_tool) {
        m_tool->attach(this);
        connect(m_tool, &ViewTool::hintChanged, this, &ModelView::sendHint);
    }
    sendHint();
    update();
}

void ModelView::sendHint()
{
    setCursor(m_tool ? m_tool->cursor() : QCursor(Qt::ArrowCursor));
    emit hintChanged(m_tool ? m_tool->hint() : QString());
}

void ModelView::apply(OrbitCamera camera)
{
    camera.widthPx = std::max(1, width());
    camera.heightPx = std::max(1, height());
    const bool changed = camera != m_camera;
    m_camera = camera;
    if (m_thread)
        m_thread->setCamera(m_camera, devicePixelRatioF());
    if (changed)
        emit cameraChanged(m_camera);
    update();
}

void ModelView::setCamera(const OrbitCamera& camera, bool glide)
{
    m_glide.stop();
    const bool otherKind = camera.parallel != m_goal.parallel;
    m_goal = camera;
    m_goal.widthPx = std::max(1, width());
    m_goal.heightPx = std::max(1, height());
    if (glide && isVisible() && m_goal != m_camera) {
        m_from = m_camera;
        m_glide.start();
    } else {
        apply(m_goal);
    }
    if (otherKind)
        emit parallelChanged(m_goal.parallel);
}

void ModelView::fitTo(const mesh::Box3& box, bool glide)
{
    m_fitted = box;
    OrbitCamera sized = m_goal;
    sized.widthPx = std::max(1, width());
    sized.heightPx = std::max(1, height());
    setCamera(sized.fittedTo(box), glide);
    m_fitGoal = m_goal;
}

void ModelView::setFitBox(const mesh::Box3& box)
{
    m_fitted = box;
}

const mesh::Box3& ModelView::fitBox() const
{
    return m_fitted.empty() ? m_picks.bounds() : m_fitted;
}

void ModelView::lookFrom(StandardView view, bool glide)
{
    setCamera(m_goal.looking(view).fittedTo(fitBox()), glide);
    m_fitGoal = m_goal;
}

void ModelView::setParallel(bool parallel)
{
    OrbitCamera camera = m_goal;
    camera.parallel = parallel;
    setCamera(camera, false);
}

void ModelView::resizeEvent(QResizeEvent* event)
{
    QWidget::resizeEvent(event);
    if (m_fitGoal && *m_fitGoal == m_goal && !m_fitted.empty()) {
        // Nobody has moved the camera since everything was brought into view: it stays in view.
        fitTo(m_fitted, false);
        return;
    }
    m_goal.widthPx = std::max(1, width());
    m_goal.heightPx = std::max(1, height());
    apply(m_camera);
}

std::optional<ViewHit> ModelView::hitAt(ScreenPoint p) const
{
    return m_picks.hit(m_camera.rayThrough(p));
}

const mesh::Mesh* ModelView::pickMesh(std::size_t body) const
{
    return body < pickBodies().size() ? pickBodies()[body].mesh.get() : nullptr;
}

mesh::Transform ModelView::pickPlacement(std::size_t body) const
{
    return body < pickBodies().size() ? pickBodies()[body].placement : mesh::Transform{};
}

const SurfaceNeighbours* ModelView::pickNeighbours(std::size_t body) const
{
    return body < pickBodies().size() ? pickBodies()[body].neighbours.get() : nullptr;
}

void ModelView::setMoving(bool moving)
{
    if (m_thread)
        m_thread->setMoving(moving);
}

Vec3 ModelView::placeUnder(ScreenPoint at) const
{
    if (const auto hit = hitAt(at))
        return hit->point;
    const ViewRay ray = m_camera.rayThrough(at);
    const Vec3 sight = m_camera.towardsViewer();
    return ray.origin + dot(m_camera.target - ray.origin, sight) / dot(ray.direction, sight) * ray.direction;
}

Vec3 ModelView::turningCentre(ScreenPoint at) const
{
    if (m_fixedCentre)
        return *m_fixedCentre;
    if (const auto hit = hitAt(at))
        return hit->point;
    return m_picks.bounds().empty() ? m_camera.target : m_picks.bounds().centre();
}

} // namespace quoin::ui
