// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/bench.h"

#include <QVariantAnimation>

namespace quoin::ui {

class OrderPanel;
class ViewController;

/// The order of assembly: sought in the background while it is looked at, stepped through in the view.
class OrderController : public QObject {
    Q_OBJECT
public:
    OrderController(Bench& bench, OrderPanel& panel, ViewController& view, QObject* parent);

private:
    bool looking() const;
    void follow();
    void seek();
    void showStep(int step, double apart);
    void setApart(double apart);
    void play(bool on);

    Bench& m_bench;
    OrderPanel& m_panel;
    ViewController& m_view;
    Latest m_seeking;
    core::RealisedPtr m_of; ///< whose order is shown, or sought
    std::shared_ptr<const core::AssemblyPlan> m_plan;
    int m_step = 0;
    double m_apart = 1;
    QVariantAnimation m_way;
};

} // namespace quoin::ui
