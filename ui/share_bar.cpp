// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/share_bar.h"

#include "ui/quantity_text.h"
#include "ui/theme.h"

#include <QCoreApplication>
#include <QPainter>

#include <cmath>
#include <numeric>

namespace quoin::ui {

namespace {

constexpr double hatchStrength = 0.55;

struct Look {
    QRgb light, dark;
    Qt::BrushStyle hatch;
};
// Hues of Okabe and Ito (2008), in falling lightness; every second one hatched.
constexpr std::array<Look, core::printShares.size()> looks{{
    {0xff2f7fb5, 0xff56a9dc, Qt::NoBrush},
    {0xff9ccbe8, 0xff2c5f82, Qt::FDiagPattern},
    {0xffe9bf6b, 0xffc18a1e, Qt::NoBrush},
    {0xffd79ac0, 0xff8d4f77, Qt::BDiagPattern},
    {0xffc9c6be, 0xff6a7176, Qt::NoBrush},
}};

QString nameOf(std::size_t i)
{
    return QString::fromStdString(core::shareName(core::printShares[i]));
}

void paintOne(QPainter& painter, const QRectF& area, std::size_t i, const QPalette& palette)
{
    const bool dark = isDark(palette);
    painter.fillRect(area, QColor::fromRgba(dark ? looks[i].dark : looks[i].light));
    if (looks[i].hatch != Qt::NoBrush) {
        QColor lines = palette.color(QPalette::Text);
        lines.setAlphaF(static_cast<float>(hatchStrength));
        painter.fillRect(area, QBrush(lines, looks[i].hatch));
    }
    painter.setPen(QPen(outlineColour(dark), 1));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(area);
}

} // namespace

QString shareWords(const Shares& shares)
{
    const double all = std::accumulate(shares.begin(), shares.end(), 0.0);
    QStringList words;
    for (std::size_t i = 0; i < shares.size(); ++i)
        if (all > 0 && shares[i] > 0)
            words << QStringLiteral("%1 %2 %").arg(nameOf(i), numberText(100 * shares[i] / all, 0));
    return words.join(QStringLiteral(", "));
}

void paintShares(QPainter& painter, const QRectF& area, const Shares& shares, const QPalette& palette)
{
    const double all = std::accumulate(shares.begin(), shares.end(), 0.0);
    if (all <= 0)
        return;
    painter.save();
    double x = area.left();
    for (std::size_t i = 0; i < shares.size(); ++i) {
        const double width = area.width() * shares[i] / all;
        if (width >= 1)
            paintOne(painter, QRectF(x, area.top(), width, area.height()), i, palette);
        x += width;
    }
    painter.restore();
}

void ShareDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const
{
    QStyledItemDelegate::paint(painter, option, index); // ground and selection
    const QVariantList list = index.data(Qt::UserRole).toList();
    if (list.size() != static_cast<qsizetype>(core::printShares.size()))
        return;
    Shares shares{};
    for (std::size_t i = 0; i < shares.size(); ++i)
        shares[i] = list[static_cast<qsizetype>(i)].toDouble();
    paintShares(*painter, QRectF(option.rect).adjusted(3, 4, -4, -4), shares, option.palette);
}

QSize ShareDelegate::sizeHint(const QStyleOptionViewItem& option, const QModelIndex&) const
{
    return {10 * option.fontMetrics.height(), option.fontMetrics.height() * 3 / 2};
}

ShareLegend::ShareLegend(QWidget* parent) : QWidget(parent)
{
    QStringList all;
    for (std::size_t i = 0; i < looks.size(); ++i)
        all << nameOf(i);
    setAccessibleName(tr("From left to right: %1").arg(all.join(QStringLiteral(", "))));
    setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
}

QSize ShareLegend::sizeHint() const
{
    int width = 0;
    for (std::size_t i = 0; i < looks.size(); ++i)
        width += fontMetrics().horizontalAdvance(nameOf(i)) + fontMetrics().height() * 5 / 2;
    return {width, fontMetrics().height() * 5 / 4};
}

void ShareLegend::paintEvent(QPaintEvent*)
{
    QPainter painter(this);
    const double line = fontMetrics().height();
    double x = 1;
    for (std::size_t i = 0; i < looks.size(); ++i) {
        paintOne(painter, QRectF(x, line * 0.2, line, line * 0.8), i, palette());
        painter.setPen(palette().color(QPalette::WindowText));
        painter.drawText(QPointF(x + line * 1.4, line * 0.125 + fontMetrics().ascent()), nameOf(i));
        x += fontMetrics().horizontalAdvance(nameOf(i)) + line * 2.5;
    }
}

} // namespace quoin::ui

#include "moc_share_bar.cpp"
