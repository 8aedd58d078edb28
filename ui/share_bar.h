// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/print_estimate.h"

#include <QStyledItemDelegate>
#include <QWidget>

#include <array>

namespace quoin::ui {

/// What a print is made of, from 0 on, in the order of core::printShares; any unit, only their proportions count.
using Shares = std::array<double, core::printShares.size()>;

/// "walls 42 %, skin 20 %, ..."
QString shareWords(const Shares& shares);
/// Lengths in proportion, told apart by lightness and hatching.
void paintShares(QPainter& painter, const QRectF& area, const Shares& shares, const QPalette& palette);

/// Shows a QVariantList of numbers (Qt::UserRole) as such a bar.
class ShareDelegate : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;
    void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override;
    QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;
};

/// Which hatching is what.
class ShareLegend : public QWidget {
    Q_OBJECT
public:
    explicit ShareLegend(QWidget* parent = nullptr);
    QSize sizeHint() const override;
    QSize minimumSizeHint() const override { return sizeHint(); }

protected:
    void paintEvent(QPaintEvent* event) override;
};

} // namespace quoin::ui
