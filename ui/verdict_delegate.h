// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/theme.h"

#include <QStyledItemDelegate>

namespace quoin::ui {

/// Shows a verdict's words in the colour of what they say, for the palette that the view has just now.
class VerdictDelegate : public QStyledItemDelegate {
public:
    /// @param holdsRole  of the items: a bool
    /// @param bold  what doesn't hold
    VerdictDelegate(int holdsRole, bool bold, QObject* parent)
        : QStyledItemDelegate(parent), m_holdsRole(holdsRole), m_bold(bold)
    {
    }

protected:
    void initStyleOption(QStyleOptionViewItem* option, const QModelIndex& index) const override
    {
        QStyledItemDelegate::initStyleOption(option, index);
        const bool good = index.data(m_holdsRole).toBool();
        option->palette.setColor(QPalette::Text,
                                 verdictColour(good ? Verdict::Good : Verdict::Bad, isDark(option->palette)));
        option->font.setBold(m_bold && !good);
    }
    /// A little air between lines; with uniform heights the first line speaks for all.
    QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override
    {
        const QSize size = QStyledItemDelegate::sizeHint(option, index);
        return {size.width(), size.height() + option.fontMetrics.height() / 3};
    }

private:
    int m_holdsRole;
    bool m_bold;
};

} // namespace quoin::ui
