// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/machine.h"
#include "core/material_filament.h"

#include <QDialog>

class QDoubleSpinBox;
class QLineEdit;
class QTableWidget;

namespace quoin::ui {

class ProblemLine;

/// A material's price and what is on the shelf of it.
struct PriceLine {
    core::Filament filament;
    int spools = 0; ///< full ones on the shelf
    double openGrams = 0;
    bool stockKnown = false;
};

struct PricesShown {
    std::vector<PriceLine> lines; ///< materials of the job first
    double pricePerKwh = 0;
    QString currency;
};

/// What filament and energy cost, and how much is on the shelf.
class PricesDialog : public QDialog {
    Q_OBJECT
public:
    explicit PricesDialog(QWidget* parent = nullptr);
    void setShown(const PricesShown& shown);
    void showProblem(const QString& words);

signals:
    void given(const quoin::ui::PricesShown& prices);

private:
    void showCurrency();
    PricesShown fields() const;
    QDoubleSpinBox* cell(int row, int column) const;

    PricesShown m_shown;
    QLineEdit* m_currency;
    QDoubleSpinBox* m_kwh;
    QTableWidget* m_table;
    ProblemLine* m_problem;
};

} // namespace quoin::ui
