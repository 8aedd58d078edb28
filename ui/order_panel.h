// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/assembly.h"

#include <QWidget>

class QLabel;
class QListWidget;
class QPushButton;
class QSlider;

namespace quoin::ui {

/// The order in which the pieces go together: the steps in words, and how far the one that is looked at has come.
class OrderPanel : public QWidget {
    Q_OBJECT
public:
    explicit OrderPanel(QWidget* parent = nullptr);
    void setPlan(const core::AssemblyPlan& plan);
    /// Why there is no order: it is being sought, for instance.
    void setWhyNone(const QString& why);
    /// Without a signal. @param apart  1: before the step, 0: after it
    void showStep(int step, double apart);
    void setPlaying(bool playing);
    int step() const;

signals:
    void stepWanted(int step); ///< -1: none
    void apartWanted(double apart);
    void playWanted(bool play);

private:
    void showButtons();

    bool m_quiet = false, m_playing = false;
    QLabel* m_empty = nullptr;
    QListWidget* m_steps = nullptr;
    QLabel* m_problems = nullptr;
    QSlider* m_way = nullptr;
    QPushButton* m_before = nullptr;
    QPushButton* m_play = nullptr;
    QPushButton* m_next = nullptr;
};

} // namespace quoin::ui
