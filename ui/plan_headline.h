// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/theme.h"

#include <QWidget>

#include <array>

class QLabel;

namespace quoin::ui {

/// What a newcomer wants to know first.
struct HeadlineShown {
    QString mass, hours, money, ready; ///< empty: not known yet
    QString massTip, hoursTip, moneyTip, readyTip;
    Verdict verdict = Verdict::None;
    QString words; ///< a sentence or two
};

/// Weight, hours, money and the end in large letters, and whether the date holds.
class PlanHeadline : public QWidget {
    Q_OBJECT
public:
    explicit PlanHeadline(QWidget* parent = nullptr);
    void setShown(const HeadlineShown& shown);

protected:
    void changeEvent(QEvent* event) override;

private:
    void dress();

    std::array<QLabel*, 4> m_figures{};
    QLabel* m_mark;
    QLabel* m_words;
    Verdict m_verdict = Verdict::None;
};

} // namespace quoin::ui
