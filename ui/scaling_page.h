// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/scaling_table.h"

#include <QWidget>

class QLabel;
class QTableWidget;

namespace quoin::ui {

/// What making it large does: small beside large, with the reason for each row.
class ScalingPage : public QWidget {
    Q_OBJECT
public:
    explicit ScalingPage(QWidget* parent = nullptr);
    /// @param words  what is compared, or why there is nothing to compare
    void setRows(const std::vector<core::ScalingRow>& rows, const QString& words);

private:
    QLabel* m_words;
    QTableWidget* m_table;
};

} // namespace quoin::ui
