// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/terms_table.h"

#include <QHeaderView>
#include <QScopedValueRollback>

namespace quoin::ui {

namespace {

constexpr int decimals = 2;

} // namespace

TermsTable::TermsTable(QWidget* parent) : QTableWidget(parent)
{
    setObjectName(QStringLiteral("termsByCut"));
    setAccessibleName(tr("Terms of each cut"));
    setSelectionBehavior(QAbstractItemView::SelectRows);
    setSelectionMode(QAbstractItemView::SingleSelection);
    setEditTriggers(QAbstractItemView::NoEditTriggers);
    setTabKeyNavigation(false);
    setWordWrap(false);
    verticalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    verticalHeader()->setHighlightSections(false);
    horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    horizontalHeader()->setHighlightSections(false);
    setSizeAdjustPolicy(QAbstractScrollArea::AdjustToContents);
    setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
    connect(this, &QTableWidget::itemSelectionChanged, this, [this] {
        if (m_quiet)
            return;
        const auto chosen = selectionModel()->selectedRows();
        emit cutPicked(chosen.isEmpty() ? -1 : m_nodes[static_cast<std::size_t>(chosen.front().row())]);
    });
}

void TermsTable::setTerms(const core::PlanTerms& terms, const core::CutWeights& weights)
{
    const QScopedValueRollback quiet(m_quiet, true);
    clear();
    m_nodes.clear();
    const core::TermTable table = terms.judged ? core::termTable(terms, weights) : core::TermTable{};
    setRowCount(static_cast<int>(table.rows.size()));
    setColumnCount(static_cast<int>(table.columns.size()));
    for (int column = 0; column < columnCount(); ++column) {
        const auto i = static_cast<std::size_t>(column);
        auto* header = new QTableWidgetItem(QString::fromStdString(table.columns[i]));
        header->setToolTip(QString::fromStdString(table.helps[i]));
        setHorizontalHeaderItem(column, header);
    }
    for (int row = 0; row < rowCount(); ++row) {
        const core::TermTable::Row& line = table.rows[static_cast<std::size_t>(row)];
        QString name = QString::fromStdString(line.name);
        name[0] = name[0].toUpper();
        setVerticalHeaderItem(row, new QTableWidgetItem(name));
        m_nodes.push_back(line.node);
        const bool isWeights = row + 1 == rowCount();
        for (int column = 0; column < columnCount(); ++column) {
            const double value = line.values[static_cast<std::size_t>(column)];
            const bool blank = isWeights && column + 1 == columnCount();
            auto* item = new QTableWidgetItem(blank ? QString() : QString::number(value, 'f', decimals));
            if (isWeights && !blank)
                item->setText(QStringLiteral("× ") + item->text());
            item->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
            item->setToolTip(QString::fromStdString(table.helps[static_cast<std::size_t>(column)]));
            setItem(row, column, item);
        }
    }
}

} // namespace quoin::ui
