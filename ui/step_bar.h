// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/theme.h"

#include <QAbstractButton>
#include <QWidget>

#include <array>

namespace quoin::ui {

/// How one step of the job stands.
struct StepState {
    enum class Progress { Open, Done, Attention };
    Progress progress = Progress::Open;
    QString reason;      ///< what needs attention, or what is done: goes into the tooltip
    QString whyDisabled; ///< not empty: the step can't be gone to yet, and why
};

/// One step: its number in a ring, its name, and its state as a shape behind it.
class StepButton : public QAbstractButton {
    Q_OBJECT
public:
    StepButton(int number, const QString& name, const QString& help, QWidget* parent);
    void setState(const StepState& state);
    const StepState& state() const { return m_state; }

protected:
    void paintEvent(QPaintEvent* event) override;
    QSize sizeHint() const override;
    QSize minimumSizeHint() const override { return sizeHint(); }

private:
    void describe();
    Verdict verdict() const;

    int m_number;
    QString m_help;
    StepState m_state;
};

/// The way through the job, from left to right: Load, Scale, Cut, Joint, Prove, Plan. Ctrl+1 to Ctrl+6 go to a step,
/// the arrow keys from one to the next.
class StepBar : public QWidget {
    Q_OBJECT
public:
    enum Step { Load = 1, Scale, Cut, Joint, Prove, Plan };
    static constexpr int stepCount = 6;

    explicit StepBar(QWidget* parent = nullptr);
    int current() const { return m_current; }
    /// @param step  1 to 6
    void setCurrent(int step);
    void setState(int step, const StepState& state);
    StepButton* button(int step) const;

signals:
    /// The user wants to go to a step, 1 to 6. The bar shows it only when setCurrent says so.
    void stepWanted(int step);

protected:
    void keyPressEvent(QKeyEvent* event) override;

private:
    void want(int step);

    std::array<StepButton*, stepCount> m_buttons{};
    int m_current = Load;
};

} // namespace quoin::ui
