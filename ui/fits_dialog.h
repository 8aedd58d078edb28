// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/fit_coupon.h"

#include <QDialog>

#include <optional>

class QComboBox;
class QGroupBox;
class QLabel;
class QLineEdit;
class QPushButton;
class QSpinBox;
class QTableWidget;

namespace quoin::ui {

class ProblemLine;

/// The clearances in force for a material and a machine; the coupon that finds those of the maker's own machine, and
/// the numbers that were found on it.
class FitsDialog : public QDialog {
    Q_OBJECT
public:
    explicit FitsDialog(QWidget* parent = nullptr);
    void setTable(const core::FitTable& table, const QString& material, const QString& machine);
    /// The coupon whose numbers are asked for; none: none was made or opened yet.
    void setSheet(const std::optional<core::CouponSheet>& sheet, const QString& folder);
    /// While a coupon is being made.
    void setBusy(bool busy);
    void showProblem(const QString& words);

signals:
    void machineWanted(const QString& machine);
    void couponWanted(); ///< a folder is to be asked for
    void sheetWanted();  ///< the folder of an earlier coupon is to be asked for
    void answersGiven(const core::CouponAnswers& answers);
    void removalWanted(const core::FitRow& row);

private:
    QWidget* buildTable();
    QWidget* buildCoupon();
    QWidget* buildAnswers();
    void showRemove();
    void showAnswers();
    void give();

    std::vector<core::FoundFit> m_found; ///< in the table's order
    std::optional<core::CouponSheet> m_sheet;
    QGroupBox* m_inForce = nullptr;
    QLineEdit* m_machine = nullptr;
    QTableWidget* m_table = nullptr;
    QPushButton* m_remove = nullptr;
    QPushButton* m_make = nullptr;
    QPushButton* m_open = nullptr;
    QLabel* m_coupon = nullptr;
    QGroupBox* m_answers = nullptr;
    QComboBox* m_process = nullptr;
    QSpinBox* m_slid = nullptr;
    QSpinBox* m_snug = nullptr;
    QSpinBox* m_press = nullptr;
    QSpinBox* m_free = nullptr;
    QPushButton* m_give = nullptr;
    ProblemLine* m_problem = nullptr;
};

} // namespace quoin::ui
