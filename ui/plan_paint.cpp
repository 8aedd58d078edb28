// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plan_pdf.h"

#include "core/nest_outline.h"

#include <QPainter>
#include <QPainterPath>

#include <algorithm>
#include <array>

namespace quoin::ui {

using core::Moment;

namespace {

constexpr std::array<QRgb, 8> plateColours{0xff9db8d3, 0xffd9b38c, 0xffa9c9a4, 0xffcfa8c4,
                                           0xffd6cf8f, 0xff9fcbc9, 0xffd4a5a0, 0xffb5b2da};

QColor colourOf(std::size_t i)
{
    return QColor::fromRgba(plateColours[i % plateColours.size()]);
}

QString qs(const std::string& text)
{
    return QString::fromStdString(text);
}

/// Days across, machines down.
class Chart {
public:
    Chart(QPainter& painter, const QRectF& area, const core::PrintPlan& plan)
        : m_painter(painter), m_plan(plan), m_first(std::chrono::floor<std::chrono::days>(plan.request.start))
    {
        const Moment last = std::max(plan.finish, plan.request.deadline.value_or(plan.finish));
        m_days = static_cast<int>((std::chrono::floor<std::chrono::days>(last) - m_first).count()) + 1;
        const QFontMetricsF metrics(painter.font(), painter.device());
        m_line = metrics.height();
        double names = 0;
        for (const core::Machine& m : plan.request.machines)
            names = std::max(names, metrics.horizontalAdvance(qs(m.name)));
        names = std::min(names + m_line, area.width() / 3);
        m_rows =
            QRectF(area.left() + names, area.top() + 1.4 * m_line, area.width() - names, area.height() - 2.8 * m_line);
        m_names = QRectF(area.left(), m_rows.top(), names, m_rows.height());
    }

    void paint()
    {
        const double row = m_rows.height() / static_cast<double>(m_plan.request.machines.size());
        for (std::size_t m = 0; m < m_plan.request.machines.size(); ++m)
            paintMachine(m, m_rows.top() + static_cast<double>(m) * row, row);
        paintDays();
        for (const core::PlanBar& b : m_plan.bars)
            paintBar(b, m_rows.top() + static_cast<double>(b.machine) * row, row);
        if (m_plan.request.deadline) {
            const double x = xOf(*m_plan.request.deadline);
            m_painter.setPen(QPen(QColor(0xb0, 0, 0x20), m_line / 8));
            m_painter.drawLine(QPointF(x, m_rows.top() - m_line / 3), QPointF(x, m_rows.bottom()));
            m_painter.drawText(QRectF(m_rows.left(), m_rows.bottom() + m_line / 4, x - m_rows.left(), m_line),
                               Qt::AlignRight | Qt::AlignTop | Qt::TextDontClip,
                               QStringLiteral("deadline ") + qs(core::momentWords(*m_plan.request.deadline)));
        }
    }

private:
    double xOf(Moment moment) const
    {
        const double days = static_cast<double>((moment - Moment(m_first)).count()) / (24 * 60);
        return m_rows.left() + m_rows.width() * days / m_days;
    }

    void paintMachine(std::size_t m, double top, double row)
    {
        const core::Machine& machine = m_plan.request.machines[m];
        m_painter.setPen(Qt::black);
        m_painter.drawText(QRectF(m_names.left(), top, m_names.width() - m_line / 3, row),
                           Qt::AlignVCenter | Qt::AlignLeft, qs(machine.name));
        for (int d = 0; d < m_days; ++d) {
            const auto day = m_first + std::chrono::days(d);
            const auto& away = machine.calendar.away;
            if (std::find(away.begin(), away.end(), day) != away.end())
                continue;
            for (const core::Attended& a : machine.calendar.days[std::chrono::weekday(day).iso_encoding() - 1]) {
                const double from = xOf(Moment(day) + core::Minutes(a.fromMinute));
                const double to = xOf(Moment(day) + core::Minutes(a.toMinute));
                m_painter.fillRect(QRectF(from, top + row / 20, to - from, row * 0.9), QColor(0xee, 0xf3, 0xe6));
            }
        }
    }

    void paintDays()
    {
        m_painter.setPen(QPen(QColor(0xcc, 0xcc, 0xcc), 0));
        for (int d = 0; d <= m_days; ++d) {
            const double x = m_rows.left() + m_rows.width() * d / m_days;
            m_painter.drawLine(QPointF(x, m_rows.top()), QPointF(x, m_rows.bottom()));
        }
        m_painter.setPen(Qt::darkGray);
        const double width = m_rows.width() / m_days;
        const QFontMetricsF metrics(m_painter.font(), m_painter.device());
        const int step =
            std::max(1, static_cast<int>(metrics.horizontalAdvance(QStringLiteral("Wed 30 Nov ")) / width) + 1);
        for (int d = 0; d < m_days; d += step) {
            const std::string words = core::momentWords(Moment(m_first + std::chrono::days(d)));
            m_painter.drawText(QRectF(m_rows.left() + width * d, m_rows.top() - 1.3 * m_line, width * step, m_line),
                               Qt::AlignLeft | Qt::AlignVCenter, qs(words.substr(0, words.rfind(' '))));
        }
    }

    void paintBar(const core::PlanBar& b, double top, double row)
    {
        const double from = xOf(b.start), to = std::max(xOf(b.end), from + m_line / 10);
        const QRectF bar(from, top + row * 0.15, to - from, row * 0.7);
        m_painter.setPen(QPen(QColor(0x55, 0x55, 0x55), 0, b.endsAttended ? Qt::SolidLine : Qt::DashLine));
        m_painter.setBrush(colourOf(b.plate));
        m_painter.drawRect(bar);
        m_painter.setBrush(Qt::NoBrush);
        m_painter.setPen(Qt::black);
        const QString number = QString::number(m_plan.plates[b.plate].number);
        const QFontMetricsF metrics(m_painter.font(), m_painter.device());
        if (metrics.horizontalAdvance(number) < bar.width())
            m_painter.drawText(bar, Qt::AlignCenter, number);
    }

    QPainter& m_painter;
    const core::PrintPlan& m_plan;
    std::chrono::local_days m_first;
    int m_days = 1;
    double m_line = 1;
    QRectF m_rows, m_names;
};

QPainterPath pathOf(const mesh::Region& region)
{
    QPainterPath path;
    path.setFillRule(Qt::OddEvenFill);
    for (const mesh::Loop& loop : region) {
        QPolygonF polygon;
        for (const mesh::Vec2 p : loop)
            polygon << QPointF(p.x, -p.y);
        path.addPolygon(polygon);
        path.closeSubpath();
    }
    return path;
}

} // namespace

void paintPlanChart(QPainter& painter, const QRectF& area, const core::PrintPlan& plan)
{
    if (plan.request.machines.empty())
        return;
    painter.save();
    Chart(painter, area, plan).paint();
    painter.restore();
}

void paintPlate(QPainter& painter, const QRectF& area, const core::PrintPlan& plan, std::size_t index)
{
    const core::Plate& plate = plan.plates[index];
    const core::Machine& machine = plan.request.machines[plate.laidOutFor];
    const core::Bed& bed = machine.bed;
    const double scale = std::min(area.width() / bed.widthMm, area.height() / bed.depthMm);
    painter.save();
    painter.translate(area.center());
    painter.scale(scale, scale);
    painter.setPen(QPen(Qt::black, 0));
    painter.setBrush(QColor(0xfa, 0xfa, 0xfa));
    const QRectF whole(-bed.widthMm / 2, -bed.depthMm / 2, bed.widthMm, bed.depthMm);
    const double m = machine.marginMm;
    const QRectF room = whole.adjusted(m, m, -m, -m);
    const bool round = bed.shape == core::Bed::Shape::Round;
    round ? painter.drawEllipse(whole) : painter.drawRect(whole);
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(QColor(0xbb, 0xbb, 0xbb), 0, Qt::DashLine));
    round ? painter.drawEllipse(room) : painter.drawRect(room);
    const auto outlines = core::placedOutlines(plan.job, plate);
    for (std::size_t i = 0; i < outlines.size(); ++i) {
        painter.setPen(QPen(QColor(0x44, 0x44, 0x44), 0));
        painter.setBrush(colourOf(i));
        painter.drawPath(pathOf(outlines[i]));
    }
    painter.restore();
    // Numbers in the page's own letters, whatever the scale: the list beside the picture says what they are.
    painter.save();
    painter.setPen(Qt::black);
    for (std::size_t i = 0; i < outlines.size(); ++i) {
        const core::FlatBox box = core::flatBounds(outlines[i]);
        const QPointF middle(area.center().x() + scale * (box.low.x + box.high.x) / 2,
                             area.center().y() - scale * (box.low.y + box.high.y) / 2);
        const double half = QFontMetricsF(painter.font(), painter.device()).height();
        painter.drawText(QRectF(middle.x() - 2 * half, middle.y() - half, 4 * half, 2 * half), Qt::AlignCenter,
                         QString::number(i + 1));
    }
    painter.restore();
}

} // namespace quoin::ui
