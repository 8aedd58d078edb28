// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
// What the view shows: the picture and what lies over it. The pointer and keys are in model_view_input.cpp.
#include "ui/model_view.h"
#include "ui/overlay_pen.h"

#include <QLinearGradient>
#include <QPainter>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace quoin::ui {

namespace {

/// An anchor within this of the surface in front of it isn't hidden by it: pixels, as it is a matter of looks.
constexpr double anchorSlackPx = 6;

} // namespace

void ModelView::drawWith(RenderThread* thread)
{
    if (m_thread)
        disconnect(m_thread, nullptr, this, nullptr);
    m_thread = thread;
    if (!m_thread)
        return;
    connect(m_thread, &RenderThread::frameReady, this, &ModelView::showFrame);
    connect(m_thread, &RenderThread::failed, this, &ModelView::showFailure);
    if (m_scene)
        m_thread->setScene(m_scene);
    m_thread->setCamera(m_camera, devicePixelRatioF());
}

void ModelView::showFrame(const Frame& frame)
{
    m_frame = frame;
    m_failure.clear();
    update();
    emit frameShown(m_frame);
}

void ModelView::showFailure(const QString& why)
{
    m_failure = why;
    update();
}

/// The camera of the picture as it is shown: stretched to the widget's height, its middle in the middle.
OrbitCamera ModelView::pictureCamera() const
{
    OrbitCamera camera = m_frame.image.isNull() ? m_camera : m_frame.camera;
    camera.widthPx = std::max(1, width());
    camera.heightPx = std::max(1, height());
    return camera;
}

void ModelView::paintPicture(QPainter& painter) const
{
    const QSizeF drawn(m_frame.camera.widthPx, m_frame.camera.heightPx);
    const bool fits = !m_frame.image.isNull() && drawn.height() > 0;
    const double stretch = fits ? height() / drawn.height() : 1;
    if (!fits || drawn.width() * stretch < width()) {
        const ViewScene plain;
        const ViewScene& scene = m_scene ? *m_scene : plain;
        QLinearGradient ground(0, 0, 0, height());
        ground.setColorAt(0, colourOf(scene.backgroundTop));
        ground.setColorAt(1, colourOf(scene.backgroundBottom));
        painter.fillRect(rect(), ground);
    }
    if (!fits)
        return;
    QRectF place(0, 0, drawn.width() * stretch, height());
    place.moveCenter(QRectF(rect()).center());
    painter.setRenderHint(QPainter::SmoothPixmapTransform, stretch != 1);
    painter.drawImage(place, m_frame.image);
}

void ModelView::findSeenBadges(const OrbitCamera& camera)
{
    if (m_seenFrom && *m_seenFrom == camera)
        return;
    m_seenFrom = camera;
    const auto seen = [&](mesh::Vec3 anchor) {
        return !m_picks.covered(camera, anchor, anchorSlackPx * camera.mmPerPixel(anchor));
    };
    m_badgeSeen.assign(m_badges.size(), false);
    for (std::size_t i = 0; i < m_badges.size(); ++i)
        m_badgeSeen[i] = isSeen(m_badges[i], camera);
    m_noteSeen.assign(m_notes.size(), true);
    for (std::size_t i = 0; i < m_notes.size(); ++i)
        if (m_notes[i].hideCovered)
            m_noteSeen[i] = seen(m_notes[i].anchor);
}

bool ModelView::isSeen(const ViewBadge& badge, const OrbitCamera& camera) const
{
    if (!badge.body)
        return !m_picks.covered(camera, badge.anchor, anchorSlackPx * camera.mmPerPixel(badge.anchor));
    const auto at = camera.project(badge.anchor);
    const auto hit = at ? m_picks.hit(camera.rayThrough(*at)) : std::nullopt;
    return hit && hit->body == *badge.body;
}

bool ModelView::badgeSeen(std::size_t badge) const
{
    return isSeen(m_badges.at(badge), pictureCamera());
}

void ModelView::paintOverlay(QPainter& painter)
{
    const OrbitCamera camera = pictureCamera();
    findSeenBadges(camera);
    // Nearer ones over farther ones; chosen ones over all.
    std::vector<std::size_t> order(m_badges.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    const auto rank = [&](std::size_t i) {
        return std::pair(m_badges[i].selected, dot(m_badges[i].anchor, camera.towardsViewer()));
    };
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return rank(a) < rank(b); });
    for (const std::size_t i : order)
        if (m_badgeSeen[i])
            paintBadge(painter, camera, m_badges[i]);
    for (std::size_t i = 0; i < m_notes.size(); ++i)
        if (m_noteSeen[i])
            paintNote(painter, camera, m_notes[i]);
    for (const ViewArrow& arrow : m_arrows)
        paintArrow(painter, camera, arrow);
    if (m_tool) {
        painter.save();
        m_tool->paint(painter, camera);
        painter.restore();
    }
    if (m_drag == Drag::Turn && m_dragged)
        paintTurningCentre(painter, camera, m_grabbed);
    paintTripod(painter, camera);
    paintScaleBar(painter, camera);
    paintLegend(painter, m_legend);
}

void ModelView::paintEvent(QPaintEvent*)
{
    QPainter painter(this);
    paintPicture(painter);
    painter.setRenderHint(QPainter::Antialiasing);
    paintOverlay(painter);
    if (!m_failure.isEmpty())
        drawWords(painter, QRectF(rect()).center(), m_failure);
    if (hasFocus()) {
        painter.setRenderHint(QPainter::Antialiasing, false);
        painter.setPen(palette().color(QPalette::Highlight));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(rect().adjusted(0, 0, -1, -1));
    }
}

} // namespace quoin::ui
