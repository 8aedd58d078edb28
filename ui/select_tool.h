// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/view_tool.h"

#include <functional>
#include <optional>

namespace quoin::ui {

/// Choosing solids: a click takes what is under the pointer, with Ctrl or Shift as well as what is chosen (that is for
/// the host to do). Keys: Enter takes what is in the middle of the view, Page up and Page down go from one to the
/// next, Escape chooses nothing.
class SelectTool : public ViewTool {
    Q_OBJECT
public:
    using ViewTool::ViewTool;
    /// Is asked first at each click; true: it has been taken.
    void setFirst(std::function<bool(ScreenPoint)> first) { m_first = std::move(first); }
    QCursor cursor() const override;
    QString hint() const override;
    void hovered(const ToolEvent& event) override;
    void clicked(const ToolEvent& event) override;
    void left() override;
    bool keyPressed(QKeyEvent& event) override;

signals:
    /// None: a click on the ground, or Escape.
    void picked(const std::optional<quoin::ui::ViewHit>& hit, Qt::KeyboardModifiers modifiers);
    /// The solid that the pointer has come over; none when it has left one. Only on changes.
    void bodyHovered(std::optional<std::size_t> body);
    /// The next (+1) or the one before (-1) is wanted.
    void stepWanted(int direction);

private:
    void over(std::optional<std::size_t> body);
    std::optional<std::size_t> m_over;
    std::function<bool(ScreenPoint)> m_first;
};

} // namespace quoin::ui
