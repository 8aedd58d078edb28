// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/verdict_mark.h"

#include <QWidget>

namespace quoin::ui {

/// A verdict's mark as a widget of one line's height, in the colours of the palette at any time.
class VerdictLabel : public QWidget {
    Q_OBJECT
public:
    explicit VerdictLabel(Verdict verdict, QWidget* parent) : QWidget(parent), m_verdict(verdict)
    {
        setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
    }
    QSize sizeHint() const override { return {fontMetrics().height(), fontMetrics().height()}; }

protected:
    void paintEvent(QPaintEvent*) override
    {
        QPainter painter(this);
        paintVerdict(painter, rect(), m_verdict, verdictColour(m_verdict, isDark(palette())));
    }

private:
    Verdict m_verdict;
};

} // namespace quoin::ui
