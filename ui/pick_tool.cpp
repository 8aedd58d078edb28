// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/pick_tool.h"

#include <QKeyEvent>

namespace quoin::ui {

PickTool::PickTool(std::size_t wanted, QString words, QObject* parent)
    : ViewTool(parent), m_wanted(wanted), m_words(std::move(words))
{
}

QString PickTool::hint() const
{
    return tr("Click %1 (%2 of %3). Backspace takes the last one back, Escape gives up.")
        .arg(m_words)
        .arg(m_hits.size() + 1)
        .arg(m_wanted);
}

void PickTool::clicked(const ToolEvent& event)
{
    const auto hit = m_host != nullptr ? m_host->hitAt(event.at) : std::nullopt;
    if (!hit)
        return;
    m_hits.push_back(*hit);
    m_host->overlayChanged();
    if (m_hits.size() == m_wanted)
        emit finished(m_hits);
    else
        emit hintChanged();
}

bool PickTool::keyPressed(QKeyEvent& event)
{
    if (event.key() == Qt::Key_Escape) {
        emit givenUp();
        return true;
    }
    if (event.key() == Qt::Key_Backspace && !m_hits.empty()) {
        m_hits.pop_back();
        if (m_host != nullptr)
            m_host->overlayChanged();
        emit hintChanged();
        return true;
    }
    return false;
}

void PickTool::paint(QPainter& painter, const OrbitCamera& camera) const
{
    constexpr double radius = 6;
    int number = 0;
    for (const ViewHit& hit : m_hits) {
        ++number;
        const auto at = camera.project(hit.point);
        if (!at)
            continue;
        const QPointF middle(at->x, at->y);
        painter.setPen(QPen(Qt::white, 4));
        painter.drawEllipse(middle, radius, radius);
        painter.setPen(QPen(QColor(20, 22, 26), 2));
        painter.drawEllipse(middle, radius, radius);
        painter.drawText(middle + QPointF(radius + 4, 4), QString::number(number));
    }
}

} // namespace quoin::ui
