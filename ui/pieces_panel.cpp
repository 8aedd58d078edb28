// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/pieces_panel.h"

#include "ui/calm_wheel.h"
#include "ui/icons.h"
#include "ui/quantity_text.h"

#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QScopedValueRollback>
#include <QShortcut>
#include <QSlider>
#include <QTableView>
#include <QToolButton>
#include <QVBoxLayout>

#include <algorithm>
#include <cmath>

namespace quoin::ui {

namespace {

/// Columns are made wide enough for so many rows.
constexpr int mostMeasuredRows = 24;

} // namespace

PiecesPanel::PiecesPanel(QWidget* parent) : QWidget(parent)
{
    buildTable();
    buildButtons();
    m_search = new QLineEdit(this);
    m_search->setPlaceholderText("Filter: number, bed or fit");
    m_search->setClearButtonEnabled(true);
    m_search->setAccessibleName("Filter pieces");
    m_search->setToolTip(
        "Shows only pieces with this number, or with these words in their bed or fit, such as: too large");
    connect(m_search, &QLineEdit::textChanged, this, [this](const QString& text) {
        const auto chosen = selectedNumbers();
        m_filter->setWords(text);
        select(chosen);
        showTotals();
    });
    m_totals = new QLabel(this);
    m_totals->setWordWrap(true);
    m_totals->setTextInteractionFlags(Qt::TextSelectableByMouse);
    m_totals->setAccessibleName("Totals");

    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(6, 6, 6, 6);
    layout->addWidget(m_search);
    layout->addWidget(m_table, 1);
    layout->addWidget(m_totals);
    auto* buttons = new QHBoxLayout;
    buttons->addWidget(m_isolate);
    buttons->addWidget(m_printPose);
    buttons->addStretch();
    layout->addLayout(buttons);
    layout->addWidget(buildExplode());
    calmWheel(*this);
    setRows({});
}

void PiecesPanel::buildTable()
{
    m_model = new PiecesModel(this);
    m_filter = new PiecesFilter(this);
    m_filter->setSourceModel(m_model);
    m_table = new QTableView(this);
    m_table->setModel(m_filter);
    m_table->setSelectionBehavior(QAbstractItemView::SelectRows);
    m_table->setSelectionMode(QAbstractItemView::ExtendedSelection);
    m_table->setEditTriggers(QAbstractItemView::NoEditTriggers);
    m_table->setSortingEnabled(true);
    m_table->sortByColumn(PiecesModel::Number, Qt::AscendingOrder);
    m_table->setAlternatingRowColors(true);
    m_table->setShowGrid(false);
    m_table->setWordWrap(false);
    m_table->setTabKeyNavigation(false);
    m_table->setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
    m_table->setAccessibleName("Pieces");
    m_table->verticalHeader()->hide();
    m_table->verticalHeader()->setDefaultSectionSize(fontMetrics().height() + 8);
    m_table->horizontalHeader()->setHighlightSections(false);
    m_table->horizontalHeader()->setResizeContentsPrecision(mostMeasuredRows);
    m_table->horizontalHeader()->setDefaultAlignment(Qt::AlignLeft | Qt::AlignVCenter);
    connect(m_table->selectionModel(), &QItemSelectionModel::selectionChanged, this, [this] {
        showButtons();
        if (!m_quiet)
            emit selectionWanted(selectedNumbers());
    });
}

void PiecesPanel::buildButtons()
{
    const auto make = [this](Icon which, const QString& text) {
        auto* button = new QToolButton(this);
        button->setIcon(icon(which));
        button->setText(text);
        button->setCheckable(true);
        button->setToolButtonStyle(Qt::ToolButtonTextBesideIcon);
        button->setFocusPolicy(Qt::StrongFocus);
        return button;
    };
    m_isolate = make(Icon::Isolate, "Isolate");
    m_printPose = make(Icon::PrintPose, "Print pose");
    connect(m_isolate, &QToolButton::toggled, this, [this](bool on) {
        if (!m_quiet)
            emit isolateWanted(on);
    });
    connect(m_printPose, &QToolButton::toggled, this, [this](bool on) {
        if (!m_quiet)
            emit printPoseWanted(on);
    });
}

QWidget* PiecesPanel::buildExplode()
{
    auto* box = new QWidget(this);
    auto* row = new QHBoxLayout(box);
    row->setContentsMargins(0, 0, 0, 0);
    auto* label = new QLabel("Explode", box);
    m_explode = new QSlider(Qt::Horizontal, box);
    m_explode->setRange(0, 100);
    m_explode->setPageStep(10);
    m_explode->setFocusPolicy(Qt::StrongFocus);
    m_explode->setAccessibleName("Explode, per cent");
    m_explode->setToolTip("Moves the pieces apart in the view; nothing else changes.");
    label->setBuddy(m_explode);
    m_explodeShare = new QLabel(box);
    m_explodeShare->setMinimumWidth(fontMetrics().horizontalAdvance("100 %"));
    m_explodeShare->setAlignment(Qt::AlignRight | Qt::AlignVCenter);
    row->addWidget(label);
    row->addWidget(m_explode, 1);
    row->addWidget(m_explodeShare);
    const auto showShare = [this](int percent) { m_explodeShare->setText(QString("%1 %").arg(percent)); };
    showShare(0);
    connect(m_explode, &QSlider::valueChanged, this, [this, showShare](int percent) {
        showShare(percent);
        if (!m_quiet)
            emit explodeWanted(percent / 100.0);
    });
    return box;
}

void PiecesPanel::setRows(std::vector<PieceRow> rows)
{
    if (rows == m_model->rows() && !rows.empty())
        return;
    const QScopedValueRollback quiet(m_quiet, true);
    const auto chosen = selectedNumbers();
    const bool first = m_model->rowCount() == 0;
    m_model->setRows(std::move(rows));
    select(chosen);
    if (first || m_model->rowCount() > 0)
        m_table->resizeColumnsToContents();
    showTotals();
    showButtons();
}

void PiecesPanel::setUnit(mesh::Unit unit)
{
    m_model->setUnit(unit);
    m_table->resizeColumnsToContents();
}

void PiecesPanel::select(const std::vector<int>& numbers)
{
    const QScopedValueRollback quiet(m_quiet, true);
    std::vector<int> wanted = numbers;
    std::ranges::sort(wanted);
    if (selectedNumbers() == wanted)
        return;
    QItemSelection chosen;
    QModelIndex shown;
    for (int row = 0; row < m_filter->rowCount(); ++row) {
        const QModelIndex at = m_filter->index(row, 0);
        const int number = at.data(PiecesModel::sortRole).toInt();
        if (!std::ranges::binary_search(wanted, number))
            continue;
        const QModelIndex last = m_filter->index(row, PiecesModel::columnCountOf - 1);
        // Rows one below another are one range: hundreds of ranges take long.
        if (!chosen.isEmpty() && chosen.back().bottom() == row - 1)
            chosen.back() = QItemSelectionRange(chosen.back().topLeft(), last);
        else
            chosen.select(at, last);
        shown = shown.isValid() ? shown : at;
    }
    m_table->selectionModel()->select(chosen, QItemSelectionModel::ClearAndSelect);
    if (shown.isValid()) {
        m_table->selectionModel()->setCurrentIndex(shown, QItemSelectionModel::NoUpdate);
        m_table->scrollTo(shown);
    }
    showButtons();
}

std::vector<int> PiecesPanel::selectedNumbers() const
{
    std::vector<int> numbers;
    for (const QItemSelectionRange& range : m_table->selectionModel()->selection()) // of whole rows
        for (int row = range.top(); row <= range.bottom(); ++row)
            numbers.push_back(m_filter->index(row, 0).data(PiecesModel::sortRole).toInt());
    std::ranges::sort(numbers);
    numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
    return numbers;
}

void PiecesPanel::setIsolated(bool isolated)
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_isolate->setChecked(isolated);
    showButtons();
}

void PiecesPanel::setPrintPose(bool printPose)
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_printPose->setChecked(printPose);
    showButtons();
}

void PiecesPanel::setExploded(double share)
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_explode->setValue(static_cast<int>(std::lround(100 * share)));
}

void PiecesPanel::showTotals()
{
    const auto& rows = m_model->rows();
    if (rows.empty()) {
        m_totals->setText("No pieces yet.");
        return;
    }
    double volumeMm3 = 0, grams = 0;
    int tooLarge = 0, checking = 0;
    for (const PieceRow& row : rows) {
        volumeMm3 += row.volumeMm3;
        grams += row.massGrams;
        tooLarge += row.fit == PieceRow::Fit::TooLarge;
        checking += row.fit == PieceRow::Fit::Checking;
    }
    QStringList words;
    words << (rows.size() == 1 ? QString("1 piece") : QString("%1 pieces").arg(rows.size()));
    if (m_filter->rowCount() < m_model->rowCount())
        words << QString("%1 shown").arg(m_filter->rowCount());
    if (tooLarge > 0)
        words << QString("%1 too large").arg(tooLarge);
    if (checking > 0)
        words << QString("%1 being checked").arg(checking);
    words << volumeText(volumeMm3) << massText(grams) + " if solid";
    m_totals->setText(words.join(", "));
}

void PiecesPanel::showButtons()
{
    // A button that is on can always be switched off.
    const bool some = m_table->selectionModel()->hasSelection();
    const QString why = some ? QString() : QString(" Select a piece first.");
    m_isolate->setEnabled(some || m_isolate->isChecked());
    m_isolate->setToolTip("Show only the selected pieces." + why);
    m_printPose->setEnabled(some || m_printPose->isChecked());
    m_printPose->setToolTip("Show the selected piece as it stands on its bed when printed." + why);
}

} // namespace quoin::ui

#include "moc_pieces_panel.cpp"
