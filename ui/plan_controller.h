// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/bench.h"
#include "ui/next_step.h"
#include "ui/plan_book.h"
#include "ui/plan_page.h"
#include "ui/plan_work.h"

#include <QPointer>

namespace quoin::ui {

class MachinesDialog;
class PlanBoard;
class PlanPanel;
class PricesDialog;
class RecipeDialog;
struct PlanExportWish;
struct PricesShown;

/// Estimates and the plan of printing: asked for in the background as soon as the step is looked at, kept until the
/// design or the plan's own decisions change; what the maker decides becomes an edit of the plan.
class PlanController : public QObject {
    Q_OBJECT
public:
    PlanController(Bench& bench, PlanBoard& board, PlanPanel& panel, QWidget* window);

    PlanBook& book() { return *m_book; }
    const PrintPlanPtr& plan() const { return m_plan; }
    const PlanWorkPtr& work() const { return m_work; }
    JobStanding::Planning planning() const;
    bool complete() const { return m_plan && m_plan->left.empty(); }
    std::optional<bool> dateKept() const;

signals:
    /// planning(), complete() or dateKept() may have changed.
    void standingChanged();

private:
    // plan_controller.cpp: the work
    bool isLookedAt() const;
    void forget();
    void refresh();
    QString whyNot() const;               ///< nothing can be estimated now; empty: it can
    core::PrintSetup pricedSetup() const; ///< the maker's, an hour as dear as the machines' mean
    PlanQuestion question() const;
    void askWork();
    void worked(Result<PlanWorkPtr> outcome);
    void askComparison();
    void askPlan();
    void planned(Result<PrintPlanPtr> outcome);
    void readSetup();
    // plan_controller_show.cpp: what is seen
    void show();
    void showHeadline();
    void showEstimates();
    void showSettings();
    void showTicks();
    double moneyOf(const core::PrintPlan& plan) const;
    // plan_controller_edits.cpp: what the maker decides
    void connectPanel();
    void editRequest(const QString& name, const std::function<void(core::PlanDocument&)>& change,
                     const QString& mergeKey = {});
    void report(const std::vector<core::PieceReport>& reports, const QString& name);
    const core::EstimatedPiece* lineOf(const std::string& piece) const; ///< of the estimate; m_work is there
    void learnFrom(const std::vector<core::PieceReport>& reports);
    void showMachines();
    void takeMachines(const std::vector<core::Machine>& machines, const std::vector<std::string>& used);
    void showRecipes();
    void keepRecipe(const core::Recipe& recipe);
    void removeRecipe(const QString& name);
    void showPrices();
    void takePrices(const PricesShown& prices);
    void write(const PlanExportWish& wish);

    Bench& m_bench;
    PlanBoard& m_board;
    PlanPanel& m_panel;
    QWidget* m_window;
    PlanBook* m_book;
    std::shared_ptr<PlanCache> m_cache;
    core::PrintSetup m_setup; ///< the maker's recipes, filaments, log
    Latest m_working, m_comparing, m_planning;
    bool m_compared = false; ///< the plan knows what another nozzle would gain, or is going to
    QPointer<Job> m_writing;
    bool m_wanted = false;                  ///< the step has been looked at
    bool m_lookedAt = false;                ///< it is now
    bool m_stale = true;                    ///< what was worked out is of an earlier design
    std::vector<core::RealisedPtr> m_asked; ///< of the newest question
    std::string m_askedText;                ///< the rest of it
    PlanWorkPtr m_work;
    PrintPlanPtr m_plan;
    std::optional<Problem> m_problem;
    QPointer<MachinesDialog> m_machinesDialog;
    QPointer<RecipeDialog> m_recipeDialog;
    QPointer<PricesDialog> m_pricesDialog;
};

} // namespace quoin::ui
