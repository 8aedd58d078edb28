// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/plan_shown.h"

#include <QWidget>

#include <memory>

class QLabel;
class QListWidget;
class QTableWidget;
class QToolButton;

namespace quoin::ui {

using PrintPlanPtr = std::shared_ptr<const core::PrintPlan>;

/// A plan to be looked at: the chart, the plate of the chosen print, the list of prints with their times in words,
/// spools, and what can't be printed. Chart, picture and lists choose together.
class PlanPage : public QWidget {
    Q_OBJECT
public:
    explicit PlanPage(QWidget* parent = nullptr);
    /// Null: no plan yet.
    void setPlan(PrintPlanPtr plan, CivilMinute now);
    const PrintPlanPtr& plan() const { return m_plan; }
    int selectedPrint() const { return m_selected; } ///< place in PrintPlan::bars; -1: none
    void selectPrint(int bar);

private:
    QWidget* makeChart();
    QWidget* makePlate();
    QWidget* makeList();
    void fillPrints();
    void fillPieces();
    void fillWords();

    PrintPlanPtr m_plan;
    int m_selected = -1;
    bool m_quiet = false;
    PlanChart* m_chart = nullptr;
    QLabel* m_bound = nullptr;
    PlatePicture* m_picture = nullptr;
    QListWidget* m_pieces = nullptr;
    QTableWidget* m_prints = nullptr;
    QListWidget* m_remarks = nullptr; ///< spool changes, what can't be printed, notes
};

} // namespace quoin::ui
