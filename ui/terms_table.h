// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/plan_terms.h"

#include <QTableWidget>

#include <vector>

namespace quoin::ui {

/// The terms of one way of cutting: a row a cut, then all of them and the weights; a column a term.
class TermsTable : public QTableWidget {
    Q_OBJECT
public:
    explicit TermsTable(QWidget* parent = nullptr);
    /// Nothing is shown of terms that weren't reckoned.
    void setTerms(const core::PlanTerms& terms, const core::CutWeights& weights);

signals:
    void cutPicked(int node); ///< of the plan; -1: none

private:
    std::vector<int> m_nodes; ///< of each row
    bool m_quiet = false;
};

} // namespace quoin::ui
