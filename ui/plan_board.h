// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>

class QTabWidget;

namespace quoin::ui {

class EstimatePage;
class PlanHeadline;
class PlanPage;
class ScalingPage;
class TickPage;

/// What stands in place of the view while printing is planned: the answer in large letters, and below it the plan, the
/// estimates, ticking off, and what scaling does.
class PlanBoard : public QWidget {
    Q_OBJECT
public:
    explicit PlanBoard(QWidget* parent = nullptr);

    PlanHeadline& headline() { return *m_headline; }
    PlanPage& plan() { return *m_plan; }
    EstimatePage& estimates() { return *m_estimates; }
    TickPage& ticks() { return *m_ticks; }
    ScalingPage& scaling() { return *m_scaling; }
    QTabWidget& tabs() { return *m_tabs; }

private:
    PlanHeadline* m_headline;
    QTabWidget* m_tabs;
    PlanPage* m_plan;
    EstimatePage* m_estimates;
    TickPage* m_ticks;
    ScalingPage* m_scaling;
};

} // namespace quoin::ui
