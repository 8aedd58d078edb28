// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/chart_style.h"
#include "ui/plan_chart.h"

#include <QScrollBar>

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::ui {

namespace {

constexpr std::array daySteps{1, 2, 7, 14, 28, 91, 364};
constexpr std::array hourSteps{1, 3, 6, 12};
constexpr double leastGridPx = 7;

/// The first midnight from here on.
CivilMinute midnightFrom(CivilMinute minute)
{
    return (minute + minutesInDay - 1) / minutesInDay * minutesInDay;
}

bool isWeekend(CivilMinute day)
{
    return dateTimeOf(day).date().dayOfWeek() >= 6;
}

struct LegendEntry {
    enum class What { Bar, Test, Wished, Waiting, Attended, Deadline, Now };
    What what;
    const char* words;
};
constexpr std::array legend{
    LegendEntry{LegendEntry::What::Bar, QT_TRANSLATE_NOOP("ChartLegend", "print, with its plate's number")},
    LegendEntry{LegendEntry::What::Test, QT_TRANSLATE_NOOP("ChartLegend", "test fit")},
    LegendEntry{LegendEntry::What::Wished, QT_TRANSLATE_NOOP("ChartLegend", "wanted first")},
    LegendEntry{LegendEntry::What::Waiting, QT_TRANSLATE_NOOP("ChartLegend", "done, waits until somebody comes")},
    LegendEntry{LegendEntry::What::Attended, QT_TRANSLATE_NOOP("ChartLegend", "somebody is there")},
    LegendEntry{LegendEntry::What::Deadline, QT_TRANSLATE_NOOP("ChartLegend", "must be ready")},
    LegendEntry{LegendEntry::What::Now, QT_TRANSLATE_NOOP("ChartLegend", "now")},
};

} // namespace

void PlanChart::paintDays(QPainter& painter, const Layout& l) const
{
    const ChartStyle style(palette());
    const double bottom = viewport()->height() - l.foot;
    const double dayPx = 24 * m_pxPerHour;
    const QFontMetricsF metrics(font());
    int step = daySteps.back();
    for (const int s : daySteps)
        if (s * dayPx > metrics.horizontalAdvance(QStringLiteral("Wed 30 Nov  "))) {
            step = s;
            break;
        }
    int hours = 0; // between clock lines
    for (const int h : hourSteps)
        if (hours == 0 && h * m_pxPerHour > metrics.horizontalAdvance(QStringLiteral("00:00  ")))
            hours = h;
    for (CivilMinute day = midnightFrom(m_data.from) - minutesInDay; day <= m_data.to; day += minutesInDay) {
        const double x = xOf(day, l);
        if (x > viewport()->width())
            break;
        if (x + dayPx < l.names)
            continue;
        const bool labelled = (day / minutesInDay - midnightFrom(m_data.from) / minutesInDay) % step == 0;
        painter.setPen(QPen(style.grid, isWeekend(day) || labelled ? 1.5 : 1));
        if ((labelled || dayPx > leastGridPx) && x >= l.names)
            painter.drawLine(QPointF(x, labelled ? 0 : l.head), QPointF(x, bottom));
        painter.setPen(style.ink);
        if (labelled) {
            // The first day's name stays in sight while the day does.
            const double left = std::max(x, l.names) + 4;
            const QString words = dayWords(day);
            if (left + metrics.horizontalAdvance(words) < x + step * dayPx)
                painter.drawText(QPointF(left, 0.3 * l.line + metrics.ascent()), words);
        }
        for (int h = hours; hours > 0 && h < 24; h += hours) {
            const double at = xOf(day + h * minutesInHour, l);
            if (at < l.names)
                continue;
            painter.setPen(QPen(style.grid, 1, Qt::DotLine));
            painter.drawLine(QPointF(at, l.head), QPointF(at, bottom));
        }
    }
}

void PlanChart::paintRows(QPainter& painter, const Layout& l) const
{
    const ChartStyle style(palette());
    for (std::size_t r = 0; r < m_data.rows.size(); ++r) {
        const double top = l.head + static_cast<double>(r) * l.row - verticalScrollBar()->value();
        for (const auto& [from, to] : m_data.rows[r].attended) {
            const double a = std::max(l.names, xOf(from, l)), b = xOf(to, l);
            if (b > l.names && a < viewport()->width())
                painter.fillRect(QRectF(a, top + 1, b - a, l.row - 2), style.attended);
        }
        painter.setPen(QPen(style.grid, 1));
        painter.drawLine(QPointF(0, top + l.row), QPointF(viewport()->width(), top + l.row));
    }
}

void PlanChart::paintBar(QPainter& painter, const ChartBar& bar, const Layout& l) const
{
    const QRectF area = rectOf(bar, l);
    const double ready = xOf(bar.ready, l);
    if (std::max(area.right(), ready) < l.names || area.left() > viewport()->width())
        return;
    const ChartStyle style(palette());
    const QRectF waiting = bar.ready > bar.to ? QRectF(area.right(), area.top() + area.height() / 4,
                                                       ready - area.right(), area.height() / 2)
                                              : QRectF();
    paintChartBar(painter, style, area, waiting, bar.kind);
    const QFontMetricsF metrics(font());
    if (metrics.horizontalAdvance(bar.label) + 4 <= area.width()) {
        if (bar.kind != ChartBar::Kind::Ordinary) {
            const QRectF words = metrics.boundingRect(area, Qt::AlignCenter, bar.label).adjusted(-2, 0, 2, 0);
            painter.fillRect(words, style.fill); // the number stays readable on the hatching
        }
        painter.setPen(style.onFill);
        painter.drawText(area, Qt::AlignCenter, bar.label);
    }
    if (bar.id == m_selected) {
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(style.select, 3));
        painter.drawRect(area.adjusted(-2, -3, 2, 3));
    }
}

void PlanChart::paintLines(QPainter& painter, const Layout& l) const
{
    const ChartStyle style(palette());
    const double bottom = viewport()->height() - l.foot;
    const QFontMetricsF metrics(font());
    double taken = -1; // right end of what stands in the foot
    const auto line = [&](CivilMinute at, const QColor& colour, Qt::PenStyle dash, const QString& words) {
        const double x = xOf(at, l);
        if (x < l.names || x > viewport()->width())
            return;
        painter.setPen(QPen(colour, 2, dash));
        painter.drawLine(QPointF(x, l.head - 0.2 * l.line), QPointF(x, bottom));
        const double width = metrics.horizontalAdvance(words);
        const double left = std::clamp(x - width / 2, l.names, std::max(l.names, viewport()->width() - width - 2));
        if (left > taken)
            painter.drawText(QPointF(left, bottom + 0.1 * l.line + metrics.ascent()), words);
        taken = left + width + l.line;
    };
    // The deadline's words go first where both don't have room.
    if (m_data.deadline)
        line(*m_data.deadline, style.deadline, Qt::SolidLine,
             tr("must be ready %1").arg(momentWords(*m_data.deadline)));
    const double deadlineLeft = m_data.deadline ? xOf(*m_data.deadline, l) : 1e9;
    if (m_data.now) {
        const double width = metrics.horizontalAdvance(tr("now"));
        if (xOf(*m_data.now, l) + width < deadlineLeft - 8 * l.line)
            taken = -1;
        line(*m_data.now, style.now, Qt::DashLine, tr("now"));
    }
}

void PlanChart::paintNames(QPainter& painter, const Layout& l) const
{
    const ChartStyle style(palette());
    painter.fillRect(QRectF(0, 0, l.names, viewport()->height()), style.ground);
    const QFontMetricsF metrics(font());
    painter.setPen(style.ink);
    for (std::size_t r = 0; r < m_data.rows.size(); ++r) {
        const double top = l.head + static_cast<double>(r) * l.row - verticalScrollBar()->value();
        const QString name = metrics.elidedText(m_data.rows[r].name, Qt::ElideMiddle, l.names - 0.6 * l.line);
        painter.drawText(QRectF(0.3 * l.line, top, l.names, l.row), Qt::AlignVCenter | Qt::AlignLeft, name);
    }
    painter.fillRect(QRectF(0, 0, l.names, l.head), style.ground);
    painter.setPen(QPen(style.grid, 1));
    painter.drawLine(QPointF(l.names, 0), QPointF(l.names, viewport()->height() - l.foot));
}

void PlanChart::paintEvent(QPaintEvent*)
{
    QPainter painter(viewport());
    painter.setFont(font());
    const ChartStyle style(palette());
    painter.fillRect(viewport()->rect(), style.ground);
    const Layout l = layoutNow();
    if (m_data.rows.empty()) {
        painter.setPen(palette().color(QPalette::PlaceholderText));
        painter.drawText(viewport()->rect(), Qt::AlignCenter, tr("No plan yet"));
        return;
    }
    paintRows(painter, l);
    paintDays(painter, l);
    for (const ChartBar& bar : m_data.bars)
        if (bar.id != m_selected)
            paintBar(painter, bar, l);
    if (const ChartBar* bar = barOf(m_selected))
        paintBar(painter, *bar, l);
    paintLines(painter, l);
    paintNames(painter, l);
    if (hasFocus()) {
        painter.setPen(QPen(style.ink, 1, Qt::DotLine));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(viewport()->rect().adjusted(0, 0, -1, -1));
    }
}

ChartLegend::ChartLegend(QWidget* parent) : QWidget(parent)
{
    QSizePolicy policy(QSizePolicy::Preferred, QSizePolicy::Fixed);
    policy.setHeightForWidth(true);
    setSizePolicy(policy);
    QStringList all;
    for (const LegendEntry& e : legend)
        all << tr(e.words);
    setAccessibleName(tr("What the chart shows: %1").arg(all.join(QStringLiteral(", "))));
}

int ChartLegend::place(int width, const std::function<void(int, QRectF, QRectF)>& use) const
{
    const QFontMetricsF metrics(font());
    const double line = metrics.height(), swatch = 1.6 * line, gap = 0.4 * line;
    double x = 0, y = 0;
    for (std::size_t i = 0; i < legend.size(); ++i) {
        const double words = metrics.horizontalAdvance(tr(legend[i].words));
        if (x > 0 && x + swatch + gap + words > width) {
            x = 0;
            y += 1.2 * line;
        }
        if (use)
            use(static_cast<int>(i), QRectF(x, y + 0.15 * line, swatch, 0.8 * line),
                QRectF(x + swatch + gap, y, words + 2, line));
        x += swatch + gap + words + line;
    }
    return static_cast<int>(std::ceil(y + 1.15 * line));
}

int ChartLegend::heightForWidth(int width) const
{
    return place(width, {});
}

QSize ChartLegend::sizeHint() const
{
    return {40 * fontMetrics().height(), heightForWidth(std::max(1, width()))};
}

void ChartLegend::resizeEvent(QResizeEvent* event)
{
    QWidget::resizeEvent(event);
    updateGeometry();
}

void ChartLegend::paintEvent(QPaintEvent*)
{
    using What = LegendEntry::What;
    QPainter painter(this);
    const ChartStyle style(palette());
    place(width(), [&](int entry, QRectF swatch, QRectF words) {
        const LegendEntry& e = legend[static_cast<std::size_t>(entry)];
        const double x = swatch.center().x();
        switch (e.what) {
        case What::Attended:
            painter.fillRect(swatch, style.attended);
            painter.setPen(style.grid);
            painter.setBrush(Qt::NoBrush);
            painter.drawRect(swatch);
            break;
        case What::Deadline:
        case What::Now:
            painter.setPen(e.what == What::Now ? QPen(style.now, 2, Qt::DashLine) : QPen(style.deadline, 2));
            painter.drawLine(QPointF(x, swatch.top()), QPointF(x, swatch.bottom()));
            break;
        case What::Waiting: {
            const QRectF bar(swatch.left(), swatch.top(), swatch.width() / 2, swatch.height());
            paintChartBar(painter, style, bar,
                          QRectF(bar.right(), bar.top() + bar.height() / 4, bar.width(), bar.height() / 2),
                          ChartBar::Kind::Ordinary);
            break;
        }
        default:
            paintChartBar(painter, style, swatch, {},
                          e.what == What::Test     ? ChartBar::Kind::TestFit
                          : e.what == What::Wished ? ChartBar::Kind::Wished
                                                   : ChartBar::Kind::Ordinary);
        }
        painter.setPen(palette().color(QPalette::WindowText));
        painter.drawText(words, Qt::AlignVCenter | Qt::AlignLeft | Qt::TextDontClip, tr(e.words));
    });
}

} // namespace quoin::ui
