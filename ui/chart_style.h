// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/plan_chart.h"
#include "ui/theme.h"

#include <QPainter>

namespace quoin::ui {

/// How things of the chart are drawn: for the chart and its legend.
struct ChartStyle {
    QColor ink, ground, attended, grid, fill, deadline, now, select, onFill;

    explicit ChartStyle(const QPalette& palette)
    {
        const bool dark = isDark(palette);
        ink = palette.color(QPalette::Text);
        ground = palette.color(QPalette::Base);
        // Hues of Okabe and Ito (2008), lighter and darker so that text stands on them at 7:1 and more.
        attended = dark ? QColor(0xff2b3a33) : QColor(0xffdfeadf);
        grid = dark ? QColor(0xff454d52) : QColor(0xffcfccc4);
        fill = dark ? QColor(0xff26567a) : QColor(0xffa8d0ec);
        onFill = dark ? QColor(0xffffffff) : QColor(0xff10202a);
        deadline = verdictColour(Verdict::Bad, dark);
        now = verdictColour(Verdict::Good, dark);
        select = dark ? QColor(0xffffe08a) : QColor(0xff102a33);
    }
};

/// A print's bar without its number. @param waiting  drawn behind it until somebody comes; may be empty
inline void paintChartBar(QPainter& painter, const ChartStyle& style, const QRectF& bar, const QRectF& waiting,
                          ChartBar::Kind kind)
{
    if (!waiting.isEmpty()) {
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(style.ink, 1, Qt::DotLine));
        painter.drawRect(waiting);
    }
    painter.setPen(QPen(style.ink, 1));
    painter.setBrush(style.fill);
    painter.drawRect(bar);
    if (kind == ChartBar::Kind::Ordinary)
        return;
    QColor lines = style.onFill;
    lines.setAlphaF(0.45F);
    painter.setPen(Qt::NoPen);
    painter.setBrush(QBrush(lines, kind == ChartBar::Kind::TestFit ? Qt::BDiagPattern : Qt::HorPattern));
    painter.drawRect(bar);
}

} // namespace quoin::ui
