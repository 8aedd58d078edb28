// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/select_tool.h"

#include <QKeyEvent>

namespace quoin::ui {

QCursor SelectTool::cursor() const
{
    return m_over ? Qt::PointingHandCursor : Qt::ArrowCursor;
}

QString SelectTool::hint() const
{
    return tr("Click: choose. Ctrl and click: choose more. Drag: turn. Shift and drag: shift. Wheel: zoom. "
              "Double click: turn about this place.");
}

void SelectTool::over(std::optional<std::size_t> body)
{
    if (body == m_over)
        return;
    m_over = body;
    emit bodyHovered(m_over);
}

void SelectTool::hovered(const ToolEvent& event)
{
    const auto hit = m_host ? m_host->hitAt(event.at) : std::nullopt;
    over(hit ? std::optional(hit->body) : std::nullopt);
}

void SelectTool::left()
{
    over(std::nullopt);
}

void SelectTool::clicked(const ToolEvent& event)
{
    if (m_host && !(m_first && m_first(event.at)))
        emit picked(m_host->hitAt(event.at), event.modifiers);
}

bool SelectTool::keyPressed(QKeyEvent& event)
{
    switch (event.key()) {
    case Qt::Key_Return:
    case Qt::Key_Enter:
        if (m_host)
            emit picked(m_host->hitAt(m_host->camera().middle()), event.modifiers() & ~Qt::KeypadModifier);
        return true;
    case Qt::Key_PageDown:
        emit stepWanted(1);
        return true;
    case Qt::Key_PageUp:
        emit stepWanted(-1);
        return true;
    case Qt::Key_Escape:
        emit picked(std::nullopt, Qt::NoModifier);
        return true;
    default:
        return false;
    }
}

} // namespace quoin::ui
