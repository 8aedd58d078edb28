// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/job_strip.h"

#include "ui/icons.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QProgressBar>
#include <QToolButton>
#include <QVBoxLayout>

#include <algorithm>

namespace quoin::ui {

namespace {

constexpr int clockMs = 500;
constexpr int barSteps = 1000;
constexpr int fewRows = 2, mostRows = 12;

} // namespace

QString durationText(qint64 milliseconds)
{
    const qint64 seconds = milliseconds / 1000;
    if (seconds < 60)
        return QString("%1 s").arg(seconds);
    if (seconds < 3600)
        return QString("%1 min %2 s").arg(seconds / 60).arg(seconds % 60, 2, 10, QChar('0'));
    return QString("%1 h %2 min").arg(seconds / 3600).arg(seconds / 60 % 60, 2, 10, QChar('0'));
}

JobStrip::JobStrip(QWidget* parent) : QWidget(parent)
{
    m_layout = new QVBoxLayout(this);
    m_layout->setContentsMargins(6, 2, 6, 2);
    m_layout->setSpacing(2);
    setAccessibleName("Work going on");
    m_more = new QToolButton(this);
    m_more->setAutoRaise(true);
    m_more->setFocusPolicy(Qt::StrongFocus);
    connect(m_more, &QToolButton::clicked, this, [this] {
        m_all = !m_all;
        showRows();
    });
    m_layout->addWidget(m_more, 0, Qt::AlignLeft);
    m_clock.setInterval(clockMs);
    connect(&m_clock, &QTimer::timeout, this, &JobStrip::tick);
    hide();
}

JobStrip::Row JobStrip::makeRow(int job, const QString& title, bool cancellable)
{
    Row row;
    row.widget = new QWidget(this);
    auto* line = new QHBoxLayout(row.widget);
    line->setContentsMargins(0, 0, 0, 0);
    auto* name = new QLabel(title, row.widget);
    QFont bold = name->font();
    bold.setBold(true);
    name->setFont(bold);
    name->setMinimumWidth(fontMetrics().averageCharWidth() * 24);
    row.stage = new QLabel(row.widget);
    row.stage->setMinimumWidth(fontMetrics().averageCharWidth() * 22);
    row.bar = new QProgressBar(row.widget);
    row.bar->setRange(0, 0);
    row.bar->setMinimumWidth(fontMetrics().averageCharWidth() * 16);
    row.bar->setAccessibleName("Progress of: " + title);
    row.elapsed = new QLabel(durationText(0), row.widget);
    row.elapsed->setMinimumWidth(fontMetrics().horizontalAdvance("00 min 00 s"));
    row.elapsed->setAlignment(Qt::AlignRight | Qt::AlignVCenter);
    row.cancel = new QToolButton(row.widget);
    row.cancel->setIcon(icon(Icon::Stop));
    row.cancel->setText("Cancel");
    row.cancel->setToolButtonStyle(Qt::ToolButtonTextBesideIcon);
    row.cancel->setFocusPolicy(Qt::StrongFocus);
    row.cancel->setAccessibleName("Cancel: " + title);
    row.cancel->setEnabled(cancellable);
    row.cancel->setToolTip(cancellable ? "Stop this; what was there before stays as it is."
                                       : "This can't be stopped halfway; it takes only a moment.");
    line->addWidget(name);
    line->addWidget(row.stage);
    line->addWidget(row.bar, 1);
    line->addWidget(row.elapsed);
    line->addWidget(row.cancel);
    connect(row.cancel, &QToolButton::clicked, this, [this, job] { cancel(job); });
    row.since.start();
    return row;
}

void JobStrip::start(int job, const QString& title, bool cancellable)
{
    finish(job);
    const Row row = makeRow(job, title, cancellable);
    m_layout->insertWidget(m_layout->count() - 1, row.widget);
    m_rows.emplace(job, row);
    showRows();
    m_clock.start();
    show();
}

void JobStrip::showRows()
{
    const int most = m_all ? mostRows : fewRows;
    int i = 0;
    for (auto& [job, row] : m_rows)
        row.widget->setVisible(i++ < most);
    if (count() <= fewRows)
        m_all = false;
    m_more->setVisible(count() > fewRows);
    const int hidden = std::max(0, count() - most);
    m_more->setText(m_all         ? hidden > 0 ? QString("Show fewer (%1 more are waiting)").arg(hidden) : "Show fewer"
                    : hidden == 1 ? QString("and 1 more")
                                  : QString("and %1 more").arg(hidden));
    m_more->setToolTip(m_all ? "Show only the first two" : "Show all the work that is going on");
}

void JobStrip::report(int job, double fraction, const QString& stage)
{
    const auto at = m_rows.find(job);
    if (at == m_rows.end())
        return;
    Row& row = at->second;
    if (!row.stopping)
        row.stage->setText(stage);
    if (fraction < 0)
        return;
    const int value = static_cast<int>(std::clamp(fraction, 0.0, 1.0) * barSteps);
    row.bar->setRange(0, barSteps);
    row.bar->setValue(std::max(value, row.bar->value()));
}

void JobStrip::finish(int job)
{
    const auto at = m_rows.find(job);
    if (at == m_rows.end())
        return;
    // Its cancel button may be the one whose click led here.
    at->second.widget->hide();
    m_layout->removeWidget(at->second.widget);
    at->second.widget->deleteLater();
    m_rows.erase(at);
    showRows();
    if (m_rows.empty()) {
        m_clock.stop();
        hide();
    }
}

void JobStrip::cancel(int job)
{
    const auto at = m_rows.find(job);
    if (at == m_rows.end() || at->second.stopping)
        return;
    Row& row = at->second;
    row.stopping = true;
    row.stage->setText("stopping");
    row.cancel->setEnabled(false);
    row.cancel->setToolTip("It stops at the next place where it can.");
    emit cancelWanted(job);
}

void JobStrip::tick()
{
    for (auto& [job, row] : m_rows)
        row.elapsed->setText(durationText(row.since.elapsed()));
}

} // namespace quoin::ui

#include "moc_job_strip.cpp"
