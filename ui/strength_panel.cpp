// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/strength_panel.h"

#include "ui/calm_wheel.h"
#include "ui/joint_words.h"
#include "ui/load_editor.h"
#include "ui/quantity_text.h"
#include "ui/verdict_mark.h"

#include <QEvent>
#include <QGroupBox>
#include <QHeaderView>
#include <QLabel>
#include <QScopedValueRollback>
#include <QScrollArea>
#include <QSplitter>
#include <QTextBrowser>
#include <QTreeWidget>
#include <QVBoxLayout>

#include <algorithm>
#include <cmath>

namespace quoin::ui {

namespace {

enum Column { FaceColumn, SafetyColumn, WeakestColumn, columnCount };
constexpr int leastRows = 4, detailLines = 6;
constexpr int seamRole = Qt::UserRole;
constexpr int figures = 3; ///< of what is asked and borne

/// A number in three figures.
QString threeFigures(double value)
{
    if (value == 0 || !std::isfinite(value))
        return numberText(value, 0);
    const int before = static_cast<int>(std::floor(std::log10(std::abs(value)))) + 1;
    return numberText(value, std::max(0, figures - before));
}

QString fromStd(const std::string& text)
{
    return QString::fromStdString(text);
}

Verdict verdictOf(const StrengthRow& row)
{
    return !row.strength ? Verdict::None : row.strength->low ? Verdict::Warning : Verdict::Good;
}

QString checkHtml(const core::StrengthCheck& check, bool low)
{
    QString html =
        QString("<p><b>%1: safety %2%3</b><br>")
            .arg(sentenceCase(fromStd(check.name)).toHtmlEscaped(), safetyText(check.safety), low ? ", too low" : "");
    html += QString("Asked: %1 %3. It bears: %2 %3.<br>")
                .arg(threeFigures(check.demand), threeFigures(check.capacity), fromStd(check.unit).toHtmlEscaped());
    html += QString("Reckoned: %1<br>").arg(fromStd(check.formula).toHtmlEscaped());
    return html + QString("From: %1</p>").arg(fromStd(check.source).toHtmlEscaped());
}

} // namespace

StrengthPanel::StrengthPanel(QWidget* parent) : QWidget(parent)
{
    m_list = new QTreeWidget(this);
    m_list->setColumnCount(columnCount);
    m_list->setHeaderLabels({"Face, pieces", "Safety", "Weakest"});
    m_list->headerItem()->setToolTip(SafetyColumn,
                                     "How many times its load the weakest check of a face bears, as estimated.");
    m_list->header()->setSectionResizeMode(QHeaderView::ResizeToContents);
    m_list->header()->setSectionResizeMode(WeakestColumn, QHeaderView::Stretch);
    m_list->header()->setStretchLastSection(false);
    m_list->setRootIsDecorated(false);
    m_list->setUniformRowHeights(true);
    m_list->setAllColumnsShowFocus(true);
    m_list->setTabKeyNavigation(false);
    m_list->setAccessibleName("Strength by face");
    m_list->setMinimumHeight((leastRows + 1) * fontMetrics().height() * 3 / 2);
    connect(m_list, &QTreeWidget::itemSelectionChanged, this, [this] {
        if (m_quiet)
            return;
        const auto items = m_list->selectedItems();
        m_seam = items.isEmpty() ? -1 : items.front()->data(FaceColumn, seamRole).toInt();
        showDetail();
        emit faceSelected(m_seam);
    });
    m_empty = new QLabel(this);
    m_empty->setWordWrap(true);
    m_empty->setAlignment(Qt::AlignCenter);
    m_empty->setMargin(12);
    m_totals = new QLabel(this);
    m_totals->setWordWrap(true);
    m_totals->setAccessibleName("Strength in all");
    m_detail = new QTextBrowser(this);
    m_detail->setAccessibleName("Checks of the chosen face");
    m_detail->setTabChangesFocus(true);
    m_detail->setMinimumHeight(detailLines * fontMetrics().height());
    m_load = new LoadEditor(this);

    auto* above = new QWidget(this);
    auto* list = new QVBoxLayout(above);
    list->setContentsMargins(0, 0, 0, 0);
    list->addWidget(m_list, 1);
    list->addWidget(m_empty, 1);
    list->addWidget(m_totals);
    auto* box = new QGroupBox("Load", this);
    auto* inside = new QVBoxLayout(box);
    inside->addWidget(m_load);
    auto* scroll = new QScrollArea(this);
    scroll->setFocusPolicy(Qt::NoFocus);
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setWidget(box);
    scroll->setMinimumWidth(box->minimumSizeHint().width() + 16);
    auto* split = new QSplitter(Qt::Vertical, this);
    split->addWidget(above);
    split->addWidget(m_detail);
    split->addWidget(scroll);
    split->setStretchFactor(0, 2);
    split->setStretchFactor(1, 3);
    split->setStretchFactor(2, 4);
    split->setSizes({200, 300, 400});
    split->setChildrenCollapsible(false);
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(6, 6, 6, 6);
    layout->addWidget(split);
    calmWheel(*this);
    setWhyNone("No part yet.");
}

void StrengthPanel::changeEvent(QEvent* event)
{
    QWidget::changeEvent(event);
    if (event->type() == QEvent::PaletteChange && m_detail != nullptr)
        showDetail();
}

void StrengthPanel::setRows(std::vector<StrengthRow> rows, double limit, const QStringList& ground)
{
    m_rows = std::move(rows);
    m_limit = limit;
    m_ground = ground;
    m_whyNone.clear();
    if (row() == nullptr)
        m_seam = -1;
    showList();
    m_list->scrollToTop(); // the weakest is what matters first
    showTotals();
    showDetail();
}

void StrengthPanel::setWhyNone(const QString& why)
{
    m_rows.clear();
    m_ground.clear();
    m_whyNone = why;
    showList();
    showTotals();
    showDetail();
}

void StrengthPanel::setBusy(bool busy)
{
    m_busy = busy;
    showTotals();
}

const StrengthRow* StrengthPanel::row() const
{
    const auto found =
        std::find_if(m_rows.begin(), m_rows.end(), [this](const StrengthRow& r) { return r.seam == m_seam; });
    return found == m_rows.end() ? nullptr : &*found;
}

void StrengthPanel::showList()
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_list->clear();
    std::vector<const StrengthRow*> shown;
    for (const StrengthRow& r : m_rows)
        shown.push_back(&r);
    const auto rank = [](const StrengthRow* r) { return r->strength ? r->strength->safety : 1e300; };
    std::stable_sort(shown.begin(), shown.end(),
                     [&](const StrengthRow* a, const StrengthRow* b) { return rank(a) < rank(b); });
    for (const StrengthRow* one : shown) {
        const StrengthRow& r = *one;
        auto* item = new QTreeWidgetItem(m_list);
        item->setText(FaceColumn, QString("%1,  %2 | %3").arg(r.mark).arg(r.pieceBelow).arg(r.pieceAbove));
        item->setData(FaceColumn, seamRole, r.seam);
        item->setIcon(SafetyColumn, verdictIcon(verdictOf(r)));
        item->setText(SafetyColumn, r.strength ? safetyText(r.strength->safety) : "no load");
        const bool checks = r.strength && !r.strength->checks.empty();
        item->setText(WeakestColumn, checks ? fromStd(r.strength->checks.front().name) : QString());
        const QString words = r.strength ? sentenceCase(r.strength->words) : "Nothing hangs on this face.";
        for (int column = 0; column < columnCount; ++column)
            item->setToolTip(column, words);
        if (r.seam == m_seam)
            m_list->setCurrentItem(item);
    }
    m_list->setVisible(m_whyNone.isEmpty());
    m_empty->setVisible(!m_whyNone.isEmpty());
    m_empty->setText(m_whyNone);
}

void StrengthPanel::showTotals()
{
    const StrengthRow* weakest = nullptr;
    int low = 0;
    for (const StrengthRow& r : m_rows)
        if (r.strength) {
            low += r.strength->low ? 1 : 0;
            if (weakest == nullptr || r.strength->safety < weakest->strength->safety)
                weakest = &r;
        }
    QString words;
    if (weakest != nullptr)
        words = QString("Weakest: face %1, safety %2. ").arg(weakest->mark, safetyText(weakest->strength->safety));
    if (weakest != nullptr)
        words += low == 0   ? QString("None is below %1.").arg(numberText(m_limit, 2))
                 : low == 1 ? QString("One is below %1.").arg(numberText(m_limit, 2))
                            : QString("%1 are below %2.").arg(low).arg(numberText(m_limit, 2));
    if (m_busy)
        words = m_rows.empty() ? "Being reckoned…" : words + " Being reckoned anew…";
    m_totals->setText(words);
    m_totals->setVisible(!words.isEmpty());
}

void StrengthPanel::showDetail()
{
    QString html;
    const StrengthRow* chosen = row();
    if (chosen == nullptr) {
        html = m_rows.empty() ? QString() : "<p>Choose a face to see every check with its numbers and sources.</p>";
    } else if (!chosen->strength) {
        html = QString("<p><b>Face %1</b><br>Nothing hangs on this face: both pieces are held.</p>").arg(chosen->mark);
    } else {
        const FaceStrength& strength = *chosen->strength;
        const QString colour = verdictColour(strength.low ? Verdict::Warning : Verdict::Good, isDark(palette())).name();
        html = QString("<p><b>Face %1: <span style='color:%2'>safety %3%4</span></b><br>%5</p>")
                   .arg(strength.marks.toHtmlEscaped(), colour, safetyText(strength.safety),
                        strength.low ? QString(", below %1").arg(numberText(m_limit, 2)) : QString(),
                        sentenceCase(strength.words).toHtmlEscaped());
        for (const core::StrengthCheck& check : strength.checks)
            html += checkHtml(check, check.safety < m_limit);
    }
    if (!m_ground.isEmpty()) {
        html += "<p><b>What the figures rest on</b></p>";
        for (const QString& line : m_ground)
            html += "<p>" + line.toHtmlEscaped() + "</p>";
    }
    m_detail->setHtml(html);
}

QString StrengthPanel::detail() const
{
    return m_detail->toPlainText();
}

void StrengthPanel::select(int seam)
{
    if (seam == m_seam)
        return;
    m_seam = seam;
    const QScopedValueRollback quiet(m_quiet, true);
    m_list->setCurrentItem(nullptr);
    m_list->clearSelection();
    for (int i = 0; i < m_list->topLevelItemCount(); ++i)
        if (m_list->topLevelItem(i)->data(FaceColumn, seamRole).toInt() == seam)
            m_list->setCurrentItem(m_list->topLevelItem(i));
    showDetail();
}

} // namespace quoin::ui

#include "moc_strength_panel.cpp"
