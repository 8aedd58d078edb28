// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/print_plan.h"
#include "ui/plan_time.h"

#include <QWidget>

#include <optional>

class QCheckBox;
class QComboBox;
class QDateTimeEdit;
class QFormLayout;
class QGroupBox;
class QLabel;
class QListWidget;
class QPushButton;

namespace quoin::ui {

class PlanExportForm;

/// What the plan is made with.
struct PlanSettings {
    bool any = false; ///< there are parts to plan for
    CivilMinute start = 0;
    std::optional<CivilMinute> deadline;
    core::TestFits testFits = core::TestFits::First;
    QString recipe;
    QStringList recipes;
    QStringList machines; ///< a line each
    QString machinesNote; ///< where they come from
    QString prices;       ///< in words
};

/// Everything that the maker decides about a plan: dates, machines, recipe, prices, what goes first; what would help
/// most; cautions; and taking the plan along as files.
class PlanPanel : public QWidget {
    Q_OBJECT
public:
    explicit PlanPanel(QWidget* parent = nullptr);
    void setSettings(const PlanSettings& settings);
    /// @param noneWords  shown when there are none
    void setHelp(const std::vector<core::PlanHelp>& help, bool deadline, const QString& noneWords);
    void setCautions(const QStringList& cautions);
    PlanExportForm& files() { return *m_files; }

signals:
    void startWanted(qint64 minute);
    void nowWanted();
    void deadlineWanted(std::optional<qint64> minute);
    void testFitsWanted(quoin::core::TestFits tests);
    void recipeWanted(const QString& name);
    void recipesWanted();
    void machinesWanted();
    void pricesWanted();

private:
    QWidget* makeDates();
    QWidget* makeMachines();
    QWidget* makeHow();
    QWidget* makeHelp();

    bool m_quiet = false;
    QDateTimeEdit* m_start = nullptr;
    QPushButton* m_now = nullptr;
    QCheckBox* m_hasDeadline = nullptr;
    QDateTimeEdit* m_deadline = nullptr;
    QLabel* m_machines = nullptr;
    QLabel* m_machinesNote = nullptr;
    QComboBox* m_recipe = nullptr;
    QComboBox* m_tests = nullptr;
    QLabel* m_prices = nullptr;
    QListWidget* m_help = nullptr;
    QLabel* m_helpNone = nullptr;
    QLabel* m_cautions = nullptr;
    PlanExportForm* m_files = nullptr;
};

} // namespace quoin::ui
