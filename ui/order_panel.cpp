// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/order_panel.h"

#include "ui/calm_wheel.h"
#include "ui/theme.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QScopedValueRollback>
#include <QSlider>
#include <QVBoxLayout>

namespace quoin::ui {

namespace {

constexpr int waySteps = 1000, pageSteps = 100, singleStep = 20;

QString fromStd(const std::string& text)
{
    return QString::fromStdString(text);
}

} // namespace

OrderPanel::OrderPanel(QWidget* parent) : QWidget(parent)
{
    m_empty = new QLabel(this);
    m_empty->setWordWrap(true);
    m_empty->setAlignment(Qt::AlignCenter);
    m_empty->setMargin(12);
    m_steps = new QListWidget(this);
    m_steps->setAccessibleName("Steps of the assembly");
    m_steps->setWordWrap(true);
    m_steps->setAlternatingRowColors(true);
    m_steps->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    m_steps->setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    m_steps->setResizeMode(QListView::Adjust);
    m_steps->setSpacing(fontMetrics().height() / 8);
    connect(m_steps, &QListWidget::currentRowChanged, this, [this](int row) {
        showButtons();
        if (!m_quiet)
            emit stepWanted(row);
    });
    m_problems = new QLabel(this);
    m_problems->setWordWrap(true);
    m_problems->setAccessibleName("Why there is no whole order");
    m_way = new QSlider(Qt::Horizontal, this);
    m_way->setRange(0, waySteps);
    m_way->setPageStep(pageSteps);
    m_way->setSingleStep(singleStep);
    m_way->setAccessibleName("How far the step has come");
    m_way->setToolTip("From apart, at the left, to together, at the right.");
    connect(m_way, &QSlider::valueChanged, this, [this](int value) {
        if (!m_quiet)
            emit apartWanted(1 - static_cast<double>(value) / waySteps);
    });
    m_before = new QPushButton("Step &before", this);
    m_play = new QPushButton(this);
    m_next = new QPushButton("Ne&xt step", this);
    connect(m_before, &QPushButton::clicked, this, [this] { m_steps->setCurrentRow(m_steps->currentRow() - 1); });
    connect(m_next, &QPushButton::clicked, this, [this] { m_steps->setCurrentRow(m_steps->currentRow() + 1); });
    connect(m_play, &QPushButton::clicked, this, [this] { emit playWanted(!m_playing); });
    auto* way = new QHBoxLayout;
    auto* apart = new QLabel("apart", this);
    way->addWidget(apart);
    way->addWidget(m_way, 1);
    way->addWidget(new QLabel("together", this));
    auto* buttons = new QHBoxLayout;
    buttons->addWidget(m_before);
    buttons->addWidget(m_play, 1);
    buttons->addWidget(m_next);
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(6, 6, 6, 6);
    column->addWidget(m_empty, 1);
    column->addWidget(m_steps, 1);
    column->addWidget(m_problems);
    column->addLayout(way);
    column->addLayout(buttons);
    calmWheel(*this);
    setPlaying(false);
    setWhyNone("No part yet.");
}

int OrderPanel::step() const
{
    return m_steps->currentRow();
}

void OrderPanel::setPlan(const core::AssemblyPlan& plan)
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_steps->clear();
    int number = 0;
    for (const core::AssemblyStep& step : plan.steps)
        m_steps->addItem(QString("%1. %2").arg(++number).arg(fromStd(step.words)));
    QStringList problems;
    for (const core::AssemblyProblem& problem : plan.problems)
        problems << QStringLiteral("\u26A0 ") + fromStd(problem.text);
    m_problems->setText(problems.join('\n'));
    m_problems->setVisible(!problems.isEmpty());
    m_empty->setVisible(plan.steps.empty() && problems.isEmpty());
    m_empty->setText("The part is in one piece: there is nothing to put together.");
    m_steps->setVisible(!m_empty->isVisibleTo(this));
    showButtons();
}

void OrderPanel::setWhyNone(const QString& why)
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_steps->clear();
    m_steps->hide();
    m_problems->hide();
    m_empty->setText(why);
    m_empty->show();
    showButtons();
}

void OrderPanel::showStep(int step, double apart)
{
    const QScopedValueRollback quiet(m_quiet, true);
    m_steps->setCurrentRow(step);
    m_way->setValue(qRound((1 - apart) * waySteps));
    showButtons();
}

void OrderPanel::setPlaying(bool playing)
{
    m_playing = playing;
    m_play->setText(playing ? "&Stop" : "&Show it");
    showButtons();
}

void OrderPanel::showButtons()
{
    const int at = m_steps->currentRow(), count = m_steps->count();
    const QString none = "There are no steps.";
    m_before->setEnabled(at > 0);
    m_before->setToolTip(count == 0 ? none : at > 0 ? "The step before this one." : "This is the first step.");
    m_next->setEnabled(at + 1 < count);
    m_next->setToolTip(count == 0 ? none : at + 1 < count ? "The step after this one." : "This is the last step.");
    m_play->setEnabled(count > 0);
    m_play->setToolTip(count == 0  ? none
                       : m_playing ? "Stays where it is."
                                   : "Moves the pieces together, step by step from the chosen one.");
    m_way->setEnabled(at >= 0);
}

} // namespace quoin::ui

#include "moc_order_panel.cpp"
