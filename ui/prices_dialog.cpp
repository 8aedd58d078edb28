// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/prices_dialog.h"

#include "ui/problem_line.h"

#include <QDialogButtonBox>
#include <QDoubleSpinBox>
#include <QFormLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QTableWidget>
#include <QVBoxLayout>

namespace quoin::ui {

namespace {

enum Column { Material, Price, Spool, Full, Open, columns };
constexpr int widthPx = 720;
constexpr int longestCurrency = 5;

} // namespace

PricesDialog::PricesDialog(QWidget* parent)
    : QDialog(parent),
      m_currency(new QLineEdit(this)),
      m_kwh(new QDoubleSpinBox(this)),
      m_table(new QTableWidget(0, columns, this)),
      m_problem(new ProblemLine("pricesProblem", this))
{
    setWindowTitle(tr("Prices and spools"));
    auto* form = new QFormLayout;
    m_currency->setMaxLength(longestCurrency);
    m_currency->setToolTip(tr("Written behind amounts of money; nothing is converted"));
    form->addRow(tr("&Currency"), m_currency);
    m_kwh->setRange(0, 1000);
    m_kwh->setDecimals(3);
    m_kwh->setToolTip(tr("From your bill"));
    form->addRow(tr("&Energy"), m_kwh);
    m_table->setObjectName(QStringLiteral("prices"));
    m_table->setAccessibleName(tr("Materials"));
    m_table->setHorizontalHeaderLabels(
        {tr("Material"), tr("Price"), tr("A full spool"), tr("Full on the shelf"), tr("Left on the open one")});
    m_table->verticalHeader()->hide();
    m_table->setEditTriggers(QAbstractItemView::NoEditTriggers);
    m_table->setSelectionMode(QAbstractItemView::NoSelection);
    m_table->setTabKeyNavigation(false);
    m_table->setFocusPolicy(Qt::NoFocus); // its fields have it
    m_table->horizontalHeader()->setSectionResizeMode(QHeaderView::Stretch);
    auto* words = new QLabel(
        tr("With nothing on the shelf the plan doesn't reckon with spools; else it says when they run out."), this);
    words->setWordWrap(true);
    auto* box = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    connect(box, &QDialogButtonBox::accepted, this, [this] { emit given(fields()); });
    connect(box, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(m_currency, &QLineEdit::textChanged, this, &PricesDialog::showCurrency);
    auto* layout = new QVBoxLayout(this);
    layout->addLayout(form);
    layout->addWidget(m_table, 1);
    layout->addWidget(words);
    layout->addWidget(m_problem);
    layout->addWidget(box);
    resize(widthPx, sizeHint().height());
}

QDoubleSpinBox* PricesDialog::cell(int row, int column) const
{
    return qobject_cast<QDoubleSpinBox*>(m_table->cellWidget(row, column));
}

void PricesDialog::setShown(const PricesShown& shown)
{
    m_shown = shown;
    m_table->setRowCount(static_cast<int>(shown.lines.size()));
    for (std::size_t i = 0; i < shown.lines.size(); ++i) {
        const PriceLine& line = shown.lines[i];
        const int row = static_cast<int>(i);
        const QString name = QString::fromStdString(line.filament.material);
        auto* item = new QTableWidgetItem(name);
        item->setToolTip(tr("Price: %1\nDensity %2 g/cm³: %3")
                             .arg(QString::fromStdString(line.filament.priceSource))
                             .arg(line.filament.densityGPerCm3)
                             .arg(QString::fromStdString(line.filament.densitySource)));
        const core::Filament& f = line.filament;
        if (f.glassTransitionC.high > 0)
            item->setToolTip(item->toolTip() + tr("\nGlass transition %1 to %2 °C: %3")
                                                   .arg(f.glassTransitionC.low)
                                                   .arg(f.glassTransitionC.high)
                                                   .arg(QString::fromStdString(f.glassTransitionSource)));
        if (f.shrinkage.high > 0)
            item->setToolTip(item->toolTip() + tr("\nShrinks by %1 to %2 %: %3")
                                                   .arg(100 * f.shrinkage.low)
                                                   .arg(100 * f.shrinkage.high)
                                                   .arg(QString::fromStdString(f.shrinkageSource)));
        m_table->setItem(row, Material, item);
        const auto number = [&](int column, const QString& what, double value, double most, int digits,
                                const QString& unit) {
            auto* box = new QDoubleSpinBox(m_table);
            box->setFrame(false);
            box->setRange(0, most);
            box->setDecimals(digits);
            box->setSuffix(unit);
            box->setValue(value);
            box->setAccessibleName(tr("%1 of %2").arg(what, name));
            m_table->setCellWidget(row, column, box);
        };
        number(Price, tr("Price"), line.filament.pricePerKg, 100000, 2, {});
        number(Spool, tr("Grams on a full spool"), line.filament.spoolG, 100000, 0, tr(" g"));
        number(Full, tr("Full spools"), line.spools, 100000, 0, {});
        number(Open, tr("Grams left on the open spool"), line.openGrams, 100000, 0, tr(" g"));
    }
    m_table->resizeRowsToContents();
    m_kwh->setValue(shown.pricePerKwh);
    m_currency->setText(shown.currency);
    showCurrency();
}

void PricesDialog::showCurrency()
{
    m_kwh->setSuffix(QStringLiteral(" %1/kWh").arg(m_currency->text()));
    for (int row = 0; row < m_table->rowCount(); ++row)
        if (QDoubleSpinBox* box = cell(row, Price))
            box->setSuffix(QStringLiteral(" %1/kg").arg(m_currency->text()));
}

PricesShown PricesDialog::fields() const
{
    PricesShown out = m_shown;
    out.currency = m_currency->text().trimmed();
    out.pricePerKwh = m_kwh->value();
    for (std::size_t i = 0; i < out.lines.size(); ++i) {
        const int row = static_cast<int>(i);
        PriceLine& line = out.lines[i];
        line.filament.pricePerKg = cell(row, Price)->value();
        line.filament.spoolG = cell(row, Spool)->value();
        line.spools = static_cast<int>(cell(row, Full)->value());
        line.openGrams = cell(row, Open)->value();
        line.stockKnown = line.spools > 0 || line.openGrams > 0;
    }
    return out;
}

void PricesDialog::showProblem(const QString& words)
{
    m_problem->showWords(words);
}

} // namespace quoin::ui

#include "moc_prices_dialog.cpp"
