// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plan_page.h"

#include "ui/quantity_text.h"
#include "ui/window_words.h"

#include <QHeaderView>
#include <QLabel>
#include <QListWidget>
#include <QScopedValueRollback>
#include <QSplitter>
#include <QTableWidget>
#include <QToolButton>
#include <QVBoxLayout>

#include <algorithm>

namespace quoin::ui {

namespace {

enum Column { Number, Machine, Begins, Ends, TakenOff, What, Hours, Mass, Fails, columns };
constexpr double zoomStep = 1.5;
constexpr int remarkLines = 6; ///< seen at once
constexpr int idRole = Qt::UserRole;

QLabel* wrapped(QWidget* parent)
{
    auto* label = new QLabel(parent);
    label->setWordWrap(true);
    label->setTextFormat(Qt::PlainText);
    label->setTextInteractionFlags(Qt::TextSelectableByMouse);
    return label;
}

} // namespace

PlanPage::PlanPage(QWidget* parent) : QWidget(parent)
{
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(4, 6, 4, 4);
    auto* below = new QSplitter(Qt::Horizontal, this);
    below->setChildrenCollapsible(false);
    below->addWidget(makePlate());
    below->addWidget(makeList());
    below->setStretchFactor(0, 2);
    below->setStretchFactor(1, 5);
    auto* down = new QSplitter(Qt::Vertical, this);
    down->setChildrenCollapsible(false);
    down->addWidget(makeChart());
    down->addWidget(below);
    down->setStretchFactor(0, 0);
    down->setStretchFactor(1, 1);
    layout->addWidget(down);
    setPlan(nullptr, 0);
}

QWidget* PlanPage::makeChart()
{
    auto* box = new QWidget(this);
    auto* column = new QVBoxLayout(box);
    column->setContentsMargins(0, 0, 0, 0);
    m_chart = new PlanChart(box);
    auto* row = new QHBoxLayout;
    row->addWidget(new ChartLegend(box), 1);
    const auto button = [&](const QString& text, const QString& name, const QString& tip, auto act) {
        auto* made = new QToolButton(box);
        made->setText(text);
        made->setAccessibleName(name);
        made->setToolTip(tip);
        made->setFocusPolicy(Qt::TabFocus);
        connect(made, &QToolButton::clicked, m_chart, act);
        row->addWidget(made, 0, Qt::AlignTop);
    };
    button(QStringLiteral("+"), tr("Larger"), tr("Fewer days, wider (+, or Ctrl and wheel in the chart)"),
           [this] { m_chart->zoom(zoomStep); });
    button(QStringLiteral("−"), tr("Smaller"), tr("More days, narrower (−, or Ctrl and wheel in the chart)"),
           [this] { m_chart->zoom(1 / zoomStep); });
    button(tr("All days"), tr("All days"), tr("The whole plan (0 in the chart)"), [this] { m_chart->showAll(); });
    column->addWidget(m_chart, 1);
    column->addLayout(row);
    m_bound = wrapped(box);
    m_bound->setObjectName(QStringLiteral("bound"));
    column->addWidget(m_bound);
    connect(m_chart, &PlanChart::selected, this, &PlanPage::selectPrint);
    return box;
}

QWidget* PlanPage::makePlate()
{
    auto* box = new QWidget(this);
    auto* column = new QVBoxLayout(box);
    column->setContentsMargins(0, 0, 0, 0);
    m_picture = new PlatePicture(box);
    m_pieces = new QListWidget(box);
    m_pieces->setAccessibleName(tr("Pieces on the plate"));
    m_pieces->setMinimumHeight(3 * fontMetrics().height());
    column->addWidget(m_picture, 4);
    column->addWidget(m_pieces, 1);
    connect(m_picture, &PlatePicture::selected, this, [this](int id) {
        if (m_quiet)
            return;
        const QScopedValueRollback quiet(m_quiet, true);
        m_pieces->setCurrentRow(-1);
        for (int i = 0; i < m_pieces->count(); ++i)
            if (m_pieces->item(i)->data(idRole).toInt() == id)
                m_pieces->setCurrentRow(i);
    });
    connect(m_pieces, &QListWidget::currentItemChanged, this, [this](QListWidgetItem* item) {
        if (m_quiet || item == nullptr)
            return;
        const QScopedValueRollback quiet(m_quiet, true);
        m_picture->select(item->data(idRole).toInt());
    });
    return box;
}

QWidget* PlanPage::makeList()
{
    auto* box = new QWidget(this);
    auto* column = new QVBoxLayout(box);
    column->setContentsMargins(0, 0, 0, 0);
    m_prints = new QTableWidget(0, columns, box);
    m_prints->setObjectName(QStringLiteral("prints"));
    m_prints->setAccessibleName(tr("Prints in their order"));
    m_prints->setHorizontalHeaderLabels({tr("Plate"), tr("Machine"), tr("Begins"), tr("Ends"), tr("Taken off"),
                                         tr("What is on it"), tr("Hours"), tr("Weight"), tr("Fails")});
    m_prints->horizontalHeaderItem(TakenOff)->setToolTip(tr("When somebody is there to take it off the plate"));
    m_prints->horizontalHeaderItem(Fails)->setToolTip(
        tr("Chance that this print fails, by the machine's failure rate"));
    m_prints->verticalHeader()->hide();
    m_prints->setSelectionBehavior(QAbstractItemView::SelectRows);
    m_prints->setSelectionMode(QAbstractItemView::SingleSelection);
    m_prints->setEditTriggers(QAbstractItemView::NoEditTriggers);
    m_prints->setTabKeyNavigation(false);
    m_prints->setWordWrap(false);
    m_prints->setAlternatingRowColors(true);
    m_prints->setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
    m_prints->horizontalHeader()->setHighlightSections(false);
    m_remarks = new QListWidget(box);
    m_remarks->setObjectName(QStringLiteral("remarks"));
    m_remarks->setAccessibleName(tr("Spool changes and remarks"));
    m_remarks->setWordWrap(true);
    m_remarks->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    m_remarks->setMaximumHeight(remarkLines * fontMetrics().height());
    column->addWidget(m_prints, 1);
    column->addWidget(m_remarks);
    connect(m_prints, &QTableWidget::itemSelectionChanged, this, [this] {
        const auto rows = m_prints->selectionModel()->selectedRows();
        if (!m_quiet && !rows.isEmpty())
            selectPrint(m_prints->item(rows.front().row(), Number)->data(idRole).toInt());
    });
    return box;
}

void PlanPage::setPlan(PrintPlanPtr plan, CivilMinute now)
{
    m_plan = std::move(plan);
    m_chart->setData(m_plan ? chartOf(*m_plan, now) : ChartData{});
    fillPrints();
    fillWords();
    // The first print's plate, so that there is something to see.
    const int kept = m_plan && m_selected >= 0 && m_selected < static_cast<int>(m_plan->bars.size()) ? m_selected : -1;
    m_selected = -2; // whatever it is, it is shown anew
    selectPrint(kept >= 0                         ? kept
                : m_plan && !m_plan->bars.empty() ? static_cast<int>(barsInTime(*m_plan).front())
                                                  : -1);
}

void PlanPage::fillPrints()
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_prints->setRowCount(0);
    if (!m_plan)
        return;
    const auto order = barsInTime(*m_plan);
    m_prints->setRowCount(static_cast<int>(order.size()));
    for (std::size_t r = 0; r < order.size(); ++r) {
        const core::PlanBar& bar = m_plan->bars[order[r]];
        const core::Plate& plate = m_plan->plates[bar.plate];
        const QString tip = printWords(*m_plan, order[r]);
        const auto cell = [&](int column, const QString& text, bool number = false) {
            auto* item = new QTableWidgetItem(text);
            item->setToolTip(tip);
            item->setData(idRole, static_cast<int>(order[r]));
            item->setTextAlignment((number ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter);
            m_prints->setItem(static_cast<int>(r), column, item);
        };
        cell(Number, QString::number(plate.number), true);
        cell(Machine, QString::fromStdString(m_plan->request.machines[bar.machine].name));
        cell(Begins, momentWords(minuteOf(bar.start)));
        cell(Ends, momentWords(minuteOf(bar.end)));
        cell(TakenOff, bar.endsAttended ? tr("at once") : momentWords(minuteOf(bar.ready)));
        cell(What, plateContents(*m_plan, plate));
        cell(Hours, hoursWords(bar.hours), true);
        cell(Mass, massText(bar.grams), true);
        cell(Fails, tr("%1 %").arg(numberText(100 * bar.failChance, 1)), true);
    }
    m_prints->resizeColumnsToContents();
    m_prints->setColumnWidth(What, std::min(m_prints->columnWidth(What), 22 * fontMetrics().height()));
}

void PlanPage::fillWords()
{
    m_bound->setVisible(m_plan && !m_plan->bars.empty());
    m_remarks->clear();
    m_remarks->hide();
    if (!m_plan)
        return;
    if (!m_plan->bars.empty())
        m_bound->setText(tr("Ready %1 if nothing fails. No order of these plates can end before %2: %3")
                             .arg(momentWords(minuteOf(m_plan->finish)), momentWords(minuteOf(m_plan->earliest)),
                                  windowWords(m_plan->earliestWords)) +
                         (m_plan->optimal ? tr(". So this order is the best there is.")
                                          : tr(". How it was found: %1.").arg(windowWords(m_plan->how))));
    QStringList lines;
    for (const core::PlanLeft& left : m_plan->left)
        lines << tr("⚠ %1 can't be printed: %2.")
                     .arg(QString::fromStdString(m_plan->job.pieces[left.piece].name), windowWords(left.why));
    for (const core::SpoolChange& change : m_plan->spoolChanges)
        lines << windowWords(change.words) + u'.';
    for (const Note& note : m_plan->notes)
        lines << windowWords(note.text);
    m_remarks->addItems(lines);
    m_remarks->setVisible(!lines.isEmpty());
}

void PlanPage::selectPrint(int bar)
{
    if (bar == m_selected)
        return;
    m_selected = bar;
    const QScopedValueRollback quiet(m_quiet, true);
    m_chart->select(bar);
    m_prints->clearSelection();
    for (int r = 0; r < m_prints->rowCount(); ++r)
        if (m_prints->item(r, Number)->data(idRole).toInt() == bar)
            m_prints->setCurrentCell(r, Number);
    fillPieces();
}

void PlanPage::fillPieces()
{
    m_pieces->clear();
    if (!m_plan || m_selected < 0) {
        m_picture->clear();
        return;
    }
    m_picture->setPlate(plateOf(*m_plan, static_cast<std::size_t>(m_selected)));
    for (const PlateShape& shape : m_picture->plate().shapes) {
        const auto& piece = m_plan->job.pieces[static_cast<std::size_t>(shape.id)];
        auto* item = new QListWidgetItem(QStringLiteral("%1  %2").arg(shape.label, QString::fromStdString(piece.name)),
                                         m_pieces);
        item->setData(idRole, shape.id);
        item->setToolTip(shape.tip);
    }
}

} // namespace quoin::ui

#include "moc_plan_page.cpp"
