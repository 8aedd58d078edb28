// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/scaling_page.h"

#include "ui/quantity_text.h"

#include <QHeaderView>
#include <QLabel>
#include <QTableWidget>
#include <QVBoxLayout>

#include <array>
#include <cmath>

namespace quoin::ui {

namespace {

enum Column { What, Small, Large, Times, Power, Why, columns };

/// Three figures, in a unit that people know.
QString valueText(double value, const std::string& unit)
{
    struct Larger {
        const char *from, *to;
        double by;
    };
    static constexpr std::array larger{Larger{"g", "kg", 1e3}, Larger{"mm2", "m2", 1e6}, Larger{"mm3", "dm3", 1e6},
                                       Larger{"mm", "m", 1e3}};
    QString name = QString::fromStdString(unit);
    for (const Larger& l : larger)
        if (unit == l.from && std::abs(value) >= l.by) {
            value /= l.by;
            name = QString::fromLatin1(l.to);
            break;
        }
    const double size = std::abs(value);
    const int digits =
        size == 0 || !std::isfinite(size) ? 0 : std::clamp(2 - static_cast<int>(std::floor(std::log10(size))), 0, 6);
    name.replace(QStringLiteral("m2"), QStringLiteral("m²")).replace(QStringLiteral("m3"), QStringLiteral("m³"));
    return QStringLiteral("%1 %2").arg(numberText(value, digits), name).trimmed();
}

} // namespace

ScalingPage::ScalingPage(QWidget* parent) : QWidget(parent), m_words(new QLabel(this)), m_table(new QTableWidget(this))
{
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(4, 6, 4, 4);
    m_words->setWordWrap(true);
    m_words->setTextInteractionFlags(Qt::TextSelectableByMouse);
    m_table->setObjectName(QStringLiteral("scaling"));
    m_table->setAccessibleName(tr("What making it large does"));
    m_table->setColumnCount(columns);
    m_table->setHorizontalHeaderLabels({tr("What"), tr("Small"), tr("Large"), tr("Times"), tr("Grows by"), tr("Why")});
    m_table->verticalHeader()->hide();
    m_table->setEditTriggers(QAbstractItemView::NoEditTriggers);
    m_table->setSelectionBehavior(QAbstractItemView::SelectRows);
    m_table->setTabKeyNavigation(false);
    m_table->setAlternatingRowColors(true);
    m_table->setWordWrap(true);
    m_table->horizontalHeader()->setHighlightSections(false);
    m_table->horizontalHeader()->setSectionResizeMode(Why, QHeaderView::Stretch);
    m_table->setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    // Reasons take as many lines as their column's width asks for, once it has it.
    connect(m_table->horizontalHeader(), &QHeaderView::sectionResized, this, [this](int column) {
        if (column == Why)
            m_table->resizeRowsToContents();
    });
    layout->addWidget(m_words);
    layout->addWidget(m_table, 1);
}

void ScalingPage::setRows(const std::vector<core::ScalingRow>& rows, const QString& words)
{
    m_words->setText(words);
    m_table->setRowCount(static_cast<int>(rows.size()));
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const core::ScalingRow& r = rows[i];
        const auto cell = [&](int column, const QString& text, bool number) {
            auto* item = new QTableWidgetItem(text);
            item->setToolTip(QString::fromStdString(r.reason));
            item->setTextAlignment((number ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter);
            m_table->setItem(static_cast<int>(i), column, item);
        };
        cell(What, QString::fromStdString(r.what), false);
        cell(Small, valueText(r.small, r.unit), true);
        cell(Large, valueText(r.large, r.unit), true);
        cell(Times, r.times() > 0 ? tr("%1 ×").arg(valueText(r.times(), {})) : QString(), true);
        cell(Power,
             !r.power        ? tr("no single power")
             : *r.power == 0 ? tr("not at all")
                             : tr("scale to the power %1").arg(numberText(*r.power, 1)),
             false);
        cell(Why, QString::fromStdString(r.reason), false);
    }
    for (const int column : {What, Small, Large, Times, Power})
        m_table->resizeColumnToContents(column);
    m_table->resizeRowsToContents();
}

} // namespace quoin::ui

#include "moc_scaling_page.cpp"
