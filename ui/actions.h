// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QAction>
#include <QKeySequence>
#include <QObject>
#include <QString>

#include <functional>
#include <map>

namespace quoin::ui {

/// Everything that a menu or a key can do, by id: one place for texts, keys, tips, and for why something can't be done
/// now. Two actions with one key are a programmer's mistake (tested).
class Actions : public QObject {
public:
    explicit Actions(QWidget* window);

    /// @param text  with a mnemonic: "&Save"
    /// @param tip   what it does, a short sentence
    QAction* add(const QString& id, const QString& text, const QKeySequence& key, const QString& tip,
                 std::function<void()> run);
    /// Two-state; `run` gets the new state.
    QAction* addSwitch(const QString& id, const QString& text, const QKeySequence& key, const QString& tip, bool on,
                       std::function<void(bool)> run);
    QAction* operator[](const QString& id) const;
    /// @param why  shown in the tooltip while it is disabled: what to do first
    void allow(const QString& id, bool allowed, const QString& why);
    const std::map<QString, QAction*>& all() const { return m_actions; }

private:
    QAction* make(const QString& id, const QString& text, const QKeySequence& key, const QString& tip);

    QWidget* m_window;
    std::map<QString, QAction*> m_actions;
    std::map<QString, QString> m_tips;
};

} // namespace quoin::ui
