// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/result.h"
#include "ui/export_form.h"
#include "ui/export_result.h"

#include <QWidget>

#include <memory>
#include <vector>

class QElapsedTimer;
class QLabel;
class QProgressBar;
class QPushButton;
class QStackedWidget;
class QTimer;

namespace quoin::ui {

/// Export and proof, from the wish to the verdict. Takes what it shows as plain values, and says what the user wants.
class ExportPage : public QWidget {
    Q_OBJECT
public:
    explicit ExportPage(QWidget* parent = nullptr);
    ~ExportPage() override;

    ExportForm& form() { return *m_form; }
    const ExportResult& result() const { return *m_result; }

    /// While it runs. @param part  "neck", or "neck, part 2 of 3"
    void showRunning(const QString& part);
    void setProgress(double fraction, const QString& stage);
    /// When it is done.
    void showOutcomes(std::vector<ExportOutcome> outcomes, const QString& folder);
    /// When it was refused. Cancelled leads back to the form without a word.
    void showProblem(const Problem& problem);
    void showForm();
    bool isRunning() const;

signals:
    void exportWanted(const quoin::ui::ExportWish& wish);
    void cancelWanted();

protected:
    void changeEvent(QEvent* event) override;

private:
    void colourTitle();
    QWidget* makeRunning();
    QWidget* makeProblem();

    QStackedWidget* m_stack;
    ExportForm* m_form;
    ExportResult* m_result;
    QWidget* m_running;
    QWidget* m_refused;
    QLabel* m_part;
    QProgressBar* m_bar;
    QLabel* m_stage;
    QPushButton* m_cancel;
    QTimer* m_tick; ///< of the time that has passed
    std::unique_ptr<QElapsedTimer> m_since;
    QString m_stageWords;
    QLabel* m_problemTitle;
    QLabel* m_problem;
    QLabel* m_remedy;
};

} // namespace quoin::ui
