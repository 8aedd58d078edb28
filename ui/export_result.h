// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/claim_model.h"

#include <QWidget>

#include <vector>

class QCheckBox;
class QLabel;
class QLineEdit;
class QListWidget;
class QPushButton;
class QTabWidget;
class QToolButton;
class QTreeView;

namespace quoin::ui {

/// A part as it was exported.
struct ExportOutcome {
    QString name;
    QString folder;
    int quantity = 1; ///< how often the set is to be printed
    core::Proof proof;
    std::size_t files = 0; ///< kinds of pieces and loose parts
};

/// What came of an export: the verdict, every claim with its numbers, cautions, the order of assembly.
class ExportResult : public QWidget {
    Q_OBJECT
public:
    explicit ExportResult(QWidget* parent = nullptr);

    /// @param folder  that all parts are in
    void setOutcomes(std::vector<ExportOutcome> outcomes, const QString& folder);
    /// Everything but the claims that hold, as plain text for a letter or a log.
    QString summary() const;
    const ClaimModel& claims() const { return *m_claims; }

signals:
    /// Back to what comes before an export.
    void backWanted();

protected:
    void changeEvent(QEvent* event) override;

private:
    QWidget* makeClaims();
    QWidget* makeLists();
    void showStrength();
    QWidget* makeButtons();
    void showVerdict();
    void fitColumns();
    void showLists();
    void showProofMenu();
    void applyFilter();
    bool proved() const;
    QString verdictWord() const;
    QString verdictWords() const;
    /// Seams that are estimated below their limit.
    std::size_t weakSeams() const;

    std::vector<ExportOutcome> m_outcomes;
    QString m_folder;
    std::size_t m_failed = 0;

    ClaimModel* m_claims;
    QLabel* m_verdict;
    QLabel* m_words;
    QLineEdit* m_filter;
    QCheckBox* m_failedOnly;
    QLabel* m_shown;
    QTreeView* m_view;
    QListWidget* m_cautions;
    QListWidget* m_strength;
    QTabWidget* m_lists;
    QListWidget* m_assembly;
    QToolButton* m_openProof;
};

} // namespace quoin::ui
