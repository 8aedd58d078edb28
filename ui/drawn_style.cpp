// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/drawn_style.h"

#include "ui/theme.h"

#include <QPainter>
#include <QStyleFactory>
#include <QStyleOption>

namespace quoin::ui {

namespace {

constexpr double barPx = 3; ///< below a tool button that is on

void drawCheck(const QStyleOption& option, QPainter& painter)
{
    const bool enabled = option.state & QStyle::State_Enabled;
    const auto group = enabled ? QPalette::Active : QPalette::Disabled;
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    const QRectF box = QRectF(option.rect).adjusted(1, 1, -1, -1);
    painter.setPen(QPen(outlineColour(isDark(option.palette)), 1.3));
    painter.setBrush(option.palette.color(group, QPalette::Base));
    painter.drawRoundedRect(box, 2, 2);
    const double w = box.width(), h = box.height();
    const auto at = [&box, w, h](double x, double y) { return QPointF(box.left() + x * w, box.top() + y * h); };
    painter.setPen(
        QPen(option.palette.color(group, QPalette::Text), w / 6, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    if (option.state & QStyle::State_On)
        painter.drawPolyline(QPolygonF({at(0.22, 0.52), at(0.42, 0.74), at(0.78, 0.26)}));
    else if (option.state & QStyle::State_NoChange)
        painter.drawLine(at(0.25, 0.5), at(0.75, 0.5));
    painter.restore();
}

void drawOutline(const QStyleOption& option, QPainter& painter)
{
    const bool focus = option.state & QStyle::State_HasFocus;
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setBrush(Qt::NoBrush);
    const QColor colour = focus ? option.palette.color(QPalette::Link) : outlineColour(isDark(option.palette));
    painter.setPen(QPen(colour, focus ? 1.6 : 1));
    painter.drawRoundedRect(QRectF(option.rect).adjusted(0.5, 0.5, -0.5, -0.5), 2, 2);
    painter.restore();
}

} // namespace

DrawnStyle::DrawnStyle() : QProxyStyle(QStyleFactory::create("Fusion")) {}

void DrawnStyle::drawPrimitive(PrimitiveElement element, const QStyleOption* option, QPainter* painter,
                               const QWidget* widget) const
{
    if (element == PE_IndicatorItemViewItemCheck || element == PE_IndicatorCheckBox) {
        drawCheck(*option, *painter);
        return;
    }
    QProxyStyle::drawPrimitive(element, option, painter, widget);
    if (element == PE_PanelLineEdit) {
        const auto* frame = qstyleoption_cast<const QStyleOptionFrame*>(option);
        if (frame != nullptr && frame->lineWidth > 0 && (option->state & State_Enabled))
            drawOutline(*option, *painter);
    }
    if (element == PE_PanelButtonTool && (option->state & State_On)) {
        const QColor bar = option->palette.color(QPalette::Link);
        const QRectF area(option->rect);
        painter->fillRect(QRectF(area.left() + 2, area.bottom() - barPx - 1, area.width() - 4, barPx), bar);
    }
}

void DrawnStyle::drawComplexControl(ComplexControl control, const QStyleOptionComplex* option, QPainter* painter,
                                    const QWidget* widget) const
{
    QProxyStyle::drawComplexControl(control, option, painter, widget);
    if (control == CC_SpinBox && (option->state & State_Enabled))
        drawOutline(*option, *painter);
}

} // namespace quoin::ui

#include "moc_drawn_style.cpp"
