// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QGroupBox>

#include <array>

class QCheckBox;
class QLabel;
class QLineEdit;
class QPushButton;

namespace quoin::ui {

class ProblemLine;

/// Which files of a plan are wanted, and where.
struct PlanExportWish {
    QString folder; ///< absolute
    bool pdf = true, csv = true, calendar = true, pictures = true;
};

/// Beside the design when it is saved, else in the user's documents; named after it.
/// @param designFile  may be empty
QString usualPlanFolder(const QString& designFile, const QString& name);

/// The plan as files: a PDF to print, tables, a calendar, pictures.
class PlanExportForm : public QGroupBox {
    Q_OBJECT
public:
    explicit PlanExportForm(QWidget* parent = nullptr);
    /// Shown until the user has chosen another.
    void setUsualFolder(const QString& folder);
    /// Why nothing can be written; empty: it can.
    void setWhyNot(const QString& why);
    void setBusy(bool busy);
    /// What was written, or what went wrong.
    void showDone(const QString& words);
    void showProblem(const QString& words);
    PlanExportWish wish() const;

signals:
    void exportWanted(const quoin::ui::PlanExportWish& wish);
    void openWanted(const QString& folder);

private:
    void refresh();

    QString m_usual, m_why;
    bool m_busy = false;
    QLineEdit* m_folder;
    std::array<QCheckBox*, 4> m_kinds{};
    QPushButton* m_write;
    QPushButton* m_open;
    QLabel* m_done;
    ProblemLine* m_problem;
};

} // namespace quoin::ui
