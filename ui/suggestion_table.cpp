// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/suggestion_table.h"

#include "ui/theme.h"

#include <QEvent>
#include <QHeaderView>
#include <QPainter>
#include <QScopedValueRollback>

#include <algorithm>

namespace quoin::ui {

namespace {

constexpr double iconHeights = 0.75; ///< of a line of text

/// A triangle pointing up for better, down for worse, a diamond for different.
QIcon comparedIcon(core::Verdict verdict, const QPalette& palette)
{
    constexpr double side = 64, edge = 8, middle = side / 2;
    QPixmap pixmap(static_cast<int>(side), static_cast<int>(side));
    pixmap.fill(Qt::transparent);
    QPainter painter(&pixmap);
    painter.setRenderHint(QPainter::Antialiasing);
    QPolygonF shape;
    if (verdict == core::Verdict::Better)
        shape << QPointF(middle, edge) << QPointF(side - edge, side - edge) << QPointF(edge, side - edge);
    else if (verdict == core::Verdict::Worse)
        shape << QPointF(edge, edge) << QPointF(side - edge, edge) << QPointF(middle, side - edge);
    else if (verdict == core::Verdict::Different)
        shape << QPointF(middle, 2 * edge) << QPointF(side - 2 * edge, middle) << QPointF(middle, side - 2 * edge)
              << QPointF(2 * edge, middle);
    painter.setPen(Qt::NoPen);
    const bool dark = isDark(palette);
    painter.setBrush(verdict == core::Verdict::Better  ? verdictColour(Verdict::Good, dark)
                     : verdict == core::Verdict::Worse ? verdictColour(Verdict::Bad, dark)
                                                       : palette.color(QPalette::PlaceholderText));
    painter.drawPolygon(shape);
    return QIcon(pixmap);
}

QString verdictWord(core::Verdict verdict)
{
    switch (verdict) {
    case core::Verdict::Better:
        return SuggestionTable::tr("better");
    case core::Verdict::Worse:
        return SuggestionTable::tr("worse");
    case core::Verdict::Different:
        return SuggestionTable::tr("differs");
    case core::Verdict::Same:
        break;
    }
    return {};
}

/// "36 cm2" with its power raised.
QString onScreen(const std::string& words)
{
    return QString::fromStdString(words)
        .replace(QStringLiteral("cm2"), QStringLiteral("cm²"))
        .replace(QStringLiteral("cm3"), QStringLiteral("cm³"));
}

QString headerOf(const SuggestionColumn& column)
{
    return column.id == 0 ? SuggestionTable::tr("As it is") : SuggestionTable::tr("Suggestion %1").arg(column.id);
}

QString tooltipOf(const SuggestionColumn& column)
{
    if (column.id == 0)
        return SuggestionTable::tr("The cuts that the part has now.");
    QString words = SuggestionTable::tr("Cut by %1. Took %2 s").arg(column.words).arg(column.seconds, 0, 'f', 1);
    if (column.stoppedEarly)
        words += SuggestionTable::tr(", stopped before everything was tried");
    return words + u'.';
}

} // namespace

SuggestionTable::SuggestionTable(QWidget* parent) : QTableWidget(parent)
{
    setObjectName("suggestions");
    setAccessibleName(tr("Ways of cutting side by side"));
    setSelectionBehavior(QAbstractItemView::SelectColumns);
    setSelectionMode(QAbstractItemView::SingleSelection);
    setEditTriggers(QAbstractItemView::NoEditTriggers);
    setTabKeyNavigation(false);
    setWordWrap(false);
    verticalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    verticalHeader()->setDefaultAlignment(Qt::AlignLeft | Qt::AlignVCenter);
    verticalHeader()->setHighlightSections(false);
    horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    horizontalHeader()->setHighlightSections(false);
    setSizeAdjustPolicy(QAbstractScrollArea::AdjustToContents);
    setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
    connect(this, &QTableWidget::itemSelectionChanged, this, [this] {
        if (m_quiet)
            return;
        const auto chosen = selectionModel()->selectedColumns();
        const int id = chosen.isEmpty() ? -1 : m_columns[static_cast<std::size_t>(chosen.front().column())].id;
        if (id == m_selected)
            return;
        m_selected = id;
        fillVerdicts();
        emit selected(id);
    });
}

void SuggestionTable::setColumns(std::vector<SuggestionColumn> columns)
{
    m_columns = std::move(columns);
    fill();
}

int SuggestionTable::selectedId() const
{
    return m_selected;
}

void SuggestionTable::select(int id)
{
    for (std::size_t i = 0; i < m_columns.size(); ++i)
        if (m_columns[i].id == id)
            selectColumn(static_cast<int>(i));
}

void SuggestionTable::fill()
{
    const int before = m_selected;
    int still = -1;
    {
        const QScopedValueRollback quiet(m_quiet, true);
        clear();
        const auto names = m_columns.empty() ? std::vector<core::Term>{} : core::termLines(m_columns.front().terms);
        setRowCount(static_cast<int>(names.size()));
        setColumnCount(static_cast<int>(m_columns.size()));
        for (int row = 0; row < rowCount(); ++row) {
            const core::Term& term = names[static_cast<std::size_t>(row)];
            auto* header = new QTableWidgetItem(QString::fromStdString(term.name));
            header->setToolTip(onScreen(term.help));
            setVerticalHeaderItem(row, header);
        }
        for (int column = 0; column < columnCount(); ++column) {
            const SuggestionColumn& way = m_columns[static_cast<std::size_t>(column)];
            auto* header = new QTableWidgetItem(headerOf(way));
            header->setToolTip(tooltipOf(way));
            setHorizontalHeaderItem(column, header);
            const auto terms = core::termLines(way.terms);
            for (int row = 0; row < rowCount(); ++row) {
                auto* item = new QTableWidgetItem;
                item->setToolTip(onScreen(terms[static_cast<std::size_t>(row)].help));
                setItem(row, column, item);
            }
            if (way.id == before)
                selectColumn(column);
            still = way.id == before ? before : still;
        }
        m_selected = still;
    }
    fillVerdicts();
    if (still != before)
        emit selected(still);
}

void SuggestionTable::fillVerdicts()
{
    const int side = static_cast<int>(iconHeights * fontMetrics().height());
    setIconSize({side, side});
    const auto chosen = std::find_if(m_columns.begin(), m_columns.end(),
                                     [this](const SuggestionColumn& c) { return c.id == m_selected; });
    const auto against = chosen == m_columns.end() ? std::vector<core::Term>{} : core::termLines(chosen->terms);
    for (int column = 0; column < columnCount(); ++column) {
        const auto terms = core::termLines(m_columns[static_cast<std::size_t>(column)].terms);
        for (int row = 0; row < rowCount(); ++row) {
            const core::Term& term = terms[static_cast<std::size_t>(row)];
            const core::Verdict verdict =
                against.empty() ? core::Verdict::Same : core::verdictOn(term, against[static_cast<std::size_t>(row)]);
            const QString word = verdictWord(verdict);
            QTableWidgetItem* cell = item(row, column);
            cell->setText(word.isEmpty() ? onScreen(term.words)
                                         : QStringLiteral("%1, %2").arg(onScreen(term.words), word));
            cell->setIcon(verdict == core::Verdict::Same ? QIcon() : comparedIcon(verdict, palette()));
        }
    }
}

void SuggestionTable::changeEvent(QEvent* event)
{
    QTableWidget::changeEvent(event);
    if (event->type() == QEvent::FontChange || event->type() == QEvent::PaletteChange)
        fillVerdicts();
}

} // namespace quoin::ui
