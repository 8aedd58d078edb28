// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/fit_coupon.h"
#include "ui/bench.h"

#include <QPointer>

namespace quoin::ui {

class FitsDialog;

/// The maker's table of fits: shown, added to from a coupon; and parts that go by it. The table is kept in a file of
/// the maker's, not in the design; what counts for a part is copied into it.
class FitsController : public QObject {
    Q_OBJECT
public:
    FitsController(Bench& bench, QWidget* window);

    /// The dialog for the current part.
    void show();
    /// Writes a coupon into a folder that must not hold anything else.
    void makeCoupon(const QString& folder);
    void openSheet(const QString& folder);

private:
    /// The table as it is on disk now; problems are said in the dialog.
    std::optional<core::FitTable> table() const;
    void showTable();
    void refuse(const Problem& problem) const;
    void askFolder();
    void askSheet();
    void setMachine(const QString& machine);
    void take(const core::CouponAnswers& answers);
    void remove(const core::FitRow& row);
    /// Keeps the table and lets all parts go by it.
    void keep(const core::FitTable& table, const QString& name);

    Bench& m_bench;
    QWidget* m_window;
    QPointer<FitsDialog> m_dialog;
    std::optional<core::CouponSheet> m_sheet;
    QString m_folder; ///< of the sheet
    QPointer<Job> m_job;
};

} // namespace quoin::ui
