// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/plan_page.h"

#include <QWidget>

#include <set>

class QComboBox;
class QDateTimeEdit;
class QDoubleSpinBox;
class QLabel;
class QPushButton;
class QTableWidget;

namespace quoin::ui {

/// What the page shows.
struct TickShown {
    std::shared_ptr<const core::PlateJob> job; ///< all there is to print, printed or not
    core::PlanProgress progress;
    PrintPlanPtr plan; ///< for plates and machines; may be null
    QStringList machines;
    CivilMinute now = 0;
};

/// What has been printed: ticked off, with what was weighed and timed, or reported as failed.
class TickPage : public QWidget {
    Q_OBJECT
public:
    explicit TickPage(QWidget* parent = nullptr);
    void setShown(TickShown shown);

signals:
    /// @param name  for the history: "Printed neck 3"
    void reportsGiven(const std::vector<quoin::core::PieceReport>& reports, const QString& name);
    void replanWanted();
    /// Pieces that shall be printed before others, or no longer.
    void firstWanted(const std::vector<std::string>& pieces, bool first);

private:
    QWidget* makeForm();
    void fill();
    void startForm(const std::vector<std::size_t>& chosen);
    void showForm();
    std::vector<std::size_t> selectedPieces() const;
    void selectPlate();
    void report(core::PieceState state);

    TickShown m_shown;
    std::map<std::size_t, std::size_t> m_barOf; ///< bar of the plan by piece of m_shown.job
    std::vector<std::size_t> m_formFor;         ///< pieces that the fields below are for
    bool m_quiet = false;
    QLabel* m_count = nullptr;
    QComboBox* m_which = nullptr;
    QTableWidget* m_table = nullptr;
    QLabel* m_chosen = nullptr;
    QDoubleSpinBox* m_grams = nullptr;
    QDoubleSpinBox* m_hours = nullptr;
    QComboBox* m_machine = nullptr;
    QDateTimeEdit* m_at = nullptr;
    QPushButton* m_plate = nullptr;
    QPushButton* m_printed = nullptr;
    QPushButton* m_failed = nullptr;
    QPushButton* m_printing = nullptr;
    QPushButton* m_back = nullptr;
    QPushButton* m_first = nullptr;
    QPushButton* m_replan = nullptr;
};

} // namespace quoin::ui
