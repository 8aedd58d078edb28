// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plan_headline.h"

#include "ui/verdict_mark.h"

#include <QEvent>
#include <QLabel>
#include <QVBoxLayout>

namespace quoin::ui {

namespace {

constexpr double figureSize = 1.5;

} // namespace

PlanHeadline::PlanHeadline(QWidget* parent) : QWidget(parent), m_mark(new QLabel(this)), m_words(new QLabel(this))
{
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(10, 8, 10, 4);
    auto* row = new QHBoxLayout;
    const std::array names{tr("Weight"), tr("Machine hours"), tr("Money"), tr("Ready")};
    for (std::size_t i = 0; i < m_figures.size(); ++i) {
        auto* column = new QVBoxLayout;
        column->setSpacing(0);
        auto* name = new QLabel(names[i], this);
        m_figures[i] = new QLabel(this);
        m_figures[i]->setAccessibleName(names[i]);
        m_figures[i]->setTextInteractionFlags(Qt::TextSelectableByMouse);
        column->addWidget(name);
        column->addWidget(m_figures[i]);
        row->addLayout(column, i == 3 ? 3 : 2);
    }
    layout->addLayout(row);
    auto* line = new QHBoxLayout;
    m_words->setObjectName(QStringLiteral("verdict"));
    m_words->setWordWrap(true);
    m_words->setTextFormat(Qt::PlainText);
    m_words->setTextInteractionFlags(Qt::TextSelectableByMouse);
    line->addWidget(m_mark, 0, Qt::AlignTop);
    line->addWidget(m_words, 1);
    layout->addLayout(line);
    setShown({});
}

void PlanHeadline::setShown(const HeadlineShown& shown)
{
    const auto figure = [this](std::size_t i, const QString& text, const QString& tip) {
        m_figures[i]->setText(text.isEmpty() ? QStringLiteral("–") : text);
        m_figures[i]->setToolTip(tip);
        m_figures[i]->setAccessibleDescription(text + QStringLiteral(" ") + tip);
    };
    figure(0, shown.mass, shown.massTip);
    figure(1, shown.hours, shown.hoursTip);
    figure(2, shown.money, shown.moneyTip);
    figure(3, shown.ready, shown.readyTip);
    m_words->setText(shown.words);
    m_verdict = shown.verdict;
    dress();
}

void PlanHeadline::dress()
{
    QFont large = font();
    large.setPointSizeF(figureSize * font().pointSizeF());
    large.setBold(true);
    for (QLabel* figure : m_figures)
        figure->setFont(large);
    const int side = fontMetrics().height();
    m_mark->setVisible(m_verdict != Verdict::None);
    m_mark->setPixmap(verdictIcon(m_verdict).pixmap({side, side}, devicePixelRatio()));
}

void PlanHeadline::changeEvent(QEvent* event)
{
    QWidget::changeEvent(event);
    if (event->type() == QEvent::FontChange || event->type() == QEvent::PaletteChange)
        dress();
}

} // namespace quoin::ui

#include "moc_plan_headline.cpp"
