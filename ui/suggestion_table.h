// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/suggestion_terms.h"

#include <QTableWidget>

#include <vector>

namespace quoin::ui {

/// A finished suggestion, or the cuts as they are.
struct SuggestionColumn {
    int id = 0;    ///< 0: the cuts as they are, which can't be accepted or discarded
    QString words; ///< how it was cut
    core::SuggestionTerms terms;
    double seconds = 0;
    bool stoppedEarly = false; ///< the best so far when it was cancelled
};

/// Ways of cutting side by side: one a column, its terms below each other. Each is compared with the selected one:
/// what differs says better or worse, by a word and a shape.
class SuggestionTable : public QTableWidget {
    Q_OBJECT
public:
    explicit SuggestionTable(QWidget* parent = nullptr);
    /// Keeps the selection while its column is there. Without a signal unless the selected one has gone.
    void setColumns(std::vector<SuggestionColumn> columns);
    int selectedId() const; ///< -1: none
    void select(int id);

signals:
    void selected(int id); ///< -1: none

protected:
    void changeEvent(QEvent* event) override;

private:
    void fill();
    void fillVerdicts();

    std::vector<SuggestionColumn> m_columns;
    int m_selected = -1;
    bool m_quiet = false;
};

} // namespace quoin::ui
