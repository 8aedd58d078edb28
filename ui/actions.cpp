// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/actions.h"

#include <QWidget>

#include <stdexcept>

namespace quoin::ui {

Actions::Actions(QWidget* window) : QObject(window), m_window(window) {}

QAction* Actions::make(const QString& id, const QString& text, const QKeySequence& key, const QString& tip)
{
    if (m_actions.contains(id))
        throw std::logic_error("two actions with the id " + id.toStdString());
    auto* action = new QAction(text, m_window);
    action->setObjectName(id);
    action->setShortcut(key);
    m_actions[id] = action;
    m_tips[id] = tip;
    m_window->addAction(action);
    allow(id, true, {});
    return action;
}

QAction* Actions::add(const QString& id, const QString& text, const QKeySequence& key, const QString& tip,
                      std::function<void()> run)
{
    QAction* action = make(id, text, key, tip);
    connect(action, &QAction::triggered, this, [run = std::move(run)] { run(); });
    return action;
}

QAction* Actions::addSwitch(const QString& id, const QString& text, const QKeySequence& key, const QString& tip,
                            bool on, std::function<void(bool)> run)
{
    QAction* action = make(id, text, key, tip);
    action->setCheckable(true);
    action->setChecked(on);
    connect(action, &QAction::toggled, this, [run = std::move(run)](bool state) { run(state); });
    return action;
}

QAction* Actions::operator[](const QString& id) const
{
    return m_actions.at(id);
}

void Actions::allow(const QString& id, bool allowed, const QString& why)
{
    QAction* action = m_actions.at(id);
    action->setEnabled(allowed);
    QString tip = m_tips.at(id);
    if (!action->shortcut().isEmpty())
        tip += QStringLiteral(" (%1)").arg(action->shortcut().toString(QKeySequence::NativeText));
    if (!allowed && !why.isEmpty())
        tip += tr("\nNot now: %1").arg(why);
    action->setToolTip(tip);
    action->setStatusTip(tip.section('\n', 0, 0));
}

} // namespace quoin::ui
