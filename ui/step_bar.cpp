// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/step_bar.h"

#include "ui/verdict_mark.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QPainter>
#include <QShortcut>

#include <algorithm>

namespace quoin::ui {

namespace {

struct StepWords {
    const char* name;
    const char* help;
};

constexpr std::array<StepWords, StepBar::stepCount> words{{
    {"Load", "The model files that the sculpture is made of, and whether they are sound."},
    {"Scale", "How large it shall be, and what that does to gaps, walls and mass."},
    {"Cut", "The planes that part it into pieces which fit the beds."},
    {"Joint", "Dowels and their bores on the cut faces."},
    {"Prove", "Writes the pieces and proves on the written files that they fit and go together."},
    {"Plan", "Weight, hours and money, what is printed together on which machine and when, and whether the date holds."},
}};

constexpr int paddingPx = 10, gapPx = 7, currentBarPx = 3;

} // namespace

StepButton::StepButton(int number, const QString& name, const QString& help, QWidget* parent)
    : QAbstractButton(parent), m_number(number), m_help(help)
{
    setText(name);
    setCheckable(true);
    setFocusPolicy(Qt::StrongFocus);
    setAttribute(Qt::WA_Hover);
    describe();
}

void StepButton::setState(const StepState& state)
{
    m_state = state;
    setEnabled(state.whyDisabled.isEmpty());
    describe();
    update();
}

Verdict StepButton::verdict() const
{
    switch (m_state.progress) {
    case StepState::Progress::Done:
        return Verdict::Good;
    case StepState::Progress::Attention:
        return Verdict::Warning;
    case StepState::Progress::Open:
        break;
    }
    return Verdict::None;
}

void StepButton::describe()
{
    QString state = "Still open.";
    if (!m_state.whyDisabled.isEmpty())
        state = "Not yet: " + m_state.whyDisabled;
    else if (m_state.progress == StepState::Progress::Done)
        state = m_state.reason.isEmpty() ? QString("Done.") : "Done: " + m_state.reason;
    else if (m_state.progress == StepState::Progress::Attention)
        state = m_state.reason.isEmpty() ? QString("Needs attention.") : "Needs attention: " + m_state.reason;
    setToolTip(QString("%1 (Ctrl+%2)\n%3").arg(m_help).arg(m_number).arg(state));
    setAccessibleName(QString("Step %1, %2").arg(m_number).arg(text()));
    setAccessibleDescription(state + ' ' + m_help);
}

QSize StepButton::sizeHint() const
{
    QFont bold = font();
    bold.setBold(true); // the current one; none may move when that changes
    const QFontMetrics metrics(bold);
    const int line = metrics.height();
    const int ring = line + 6;
    return {2 * paddingPx + ring + 2 * gapPx + metrics.horizontalAdvance(text()) + line, ring + 12 + currentBarPx};
}

void StepButton::paintEvent(QPaintEvent*)
{
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const QPalette& colours = palette();
    const auto group = isEnabled() ? QPalette::Active : QPalette::Disabled;
    const QColor ink = colours.color(group, QPalette::WindowText);
    const QColor accent = colours.color(group, QPalette::Highlight);
    const QRectF area = QRectF(rect()).adjusted(1, 1, -1, -1);
    if (isChecked() || (isEnabled() && underMouse()) || isDown())
        painter.fillRect(area, colours.color(isChecked() ? QPalette::Base : QPalette::Button));
    if (isChecked())
        painter.fillRect(QRectF(area.left(), area.bottom() - currentBarPx, area.width(), currentBarPx), accent);

    QFont letters = font();
    letters.setBold(isChecked());
    painter.setFont(letters);
    const double line = QFontMetricsF(letters).height(), ringSide = line + 6;
    const QRectF ring(paddingPx, (height() - currentBarPx - ringSide) / 2, ringSide, ringSide);
    painter.setPen(QPen(isChecked() ? accent : ink, 1.5));
    painter.setBrush(isChecked() ? QBrush(accent) : Qt::NoBrush);
    painter.drawEllipse(ring.adjusted(1, 1, -1, -1));
    painter.setPen(isChecked() ? colours.color(QPalette::HighlightedText) : ink);
    painter.drawText(ring, Qt::AlignCenter, QString::number(m_number));
    painter.setPen(ink);
    const QRectF name(ring.right() + gapPx, 0, width() - ring.right(), height() - currentBarPx);
    painter.drawText(name, Qt::AlignVCenter | Qt::AlignLeft, text());
    const QRectF mark(width() - paddingPx - line, (height() - currentBarPx - line) / 2, line, line);
    paintVerdict(painter, mark, verdict(), isEnabled() ? verdictColour(verdict(), isDark(colours)) : ink);
    if (hasFocus()) {
        painter.setPen(QPen(ink, 1, Qt::DotLine));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(area.adjusted(2, 2, -2, -2 - currentBarPx));
    }
}

StepBar::StepBar(QWidget* parent) : QWidget(parent)
{
    auto* layout = new QHBoxLayout(this);
    layout->setContentsMargins(4, 0, 4, 0);
    layout->setSpacing(0);
    setAccessibleName("Steps of the job");
    for (int step = Load; step <= stepCount; ++step) {
        const StepWords& w = words[step - 1];
        auto* button = m_buttons[step - 1] = new StepButton(step, w.name, w.help, this);
        layout->addWidget(button);
        // The click toggles the button; which step is current is for setCurrent to say.
        connect(button, &QAbstractButton::clicked, this, [this, step] {
            setCurrent(m_current);
            want(step);
        });
        auto* shortcut = new QShortcut(QKeySequence(Qt::CTRL | static_cast<Qt::Key>(Qt::Key_0 + step)), this);
        connect(shortcut, &QShortcut::activated, this, [this, step] { want(step); });
    }
    layout->addStretch();
    setCurrent(Load);
}

StepButton* StepBar::button(int step) const
{
    return m_buttons.at(step - 1);
}

void StepBar::setCurrent(int step)
{
    m_current = std::clamp(step, 1, stepCount);
    for (int i = 1; i <= stepCount; ++i)
        button(i)->setChecked(i == m_current);
}

void StepBar::setState(int step, const StepState& state)
{
    button(step)->setState(state);
}

void StepBar::want(int step)
{
    if (button(step)->isEnabled())
        emit stepWanted(step);
}

void StepBar::keyPressEvent(QKeyEvent* event)
{
    const int by = event->key() == Qt::Key_Right ? 1 : event->key() == Qt::Key_Left ? -1 : 0;
    if (by == 0) {
        QWidget::keyPressEvent(event);
        return;
    }
    int at = m_current;
    for (int i = 1; i <= stepCount; ++i)
        if (button(i)->hasFocus())
            at = i;
    for (int i = at + by; i >= 1 && i <= stepCount; i += by)
        if (button(i)->isEnabled()) {
            button(i)->setFocus(Qt::TabFocusReason);
            return;
        }
}

} // namespace quoin::ui

#include "moc_step_bar.cpp"
