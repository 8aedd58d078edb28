// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plan_board.h"

#include "ui/estimate_page.h"
#include "ui/plan_headline.h"
#include "ui/plan_page.h"
#include "ui/scaling_page.h"
#include "ui/tick_page.h"

#include <QTabWidget>
#include <QVBoxLayout>

namespace quoin::ui {

PlanBoard::PlanBoard(QWidget* parent)
    : QWidget(parent),
      m_headline(new PlanHeadline(this)),
      m_tabs(new QTabWidget(this)),
      m_plan(new PlanPage(this)),
      m_estimates(new EstimatePage(this)),
      m_ticks(new TickPage(this)),
      m_scaling(new ScalingPage(this))
{
    m_tabs->setObjectName(QStringLiteral("planTabs"));
    m_tabs->setDocumentMode(true);
    const auto page = [this](QWidget* widget, const QString& name, const QString& tip) {
        m_tabs->setTabToolTip(m_tabs->addTab(widget, name), tip);
    };
    page(m_plan, tr("Machines and plates"), tr("What is printed when, on which machine, and together with what"));
    page(m_estimates, tr("Estimates"), tr("Weight, hours and money of each piece, and with which recipe"));
    page(m_ticks, tr("Tick off"), tr("What has been printed, what has failed, and planning again"));
    page(m_scaling, tr("What scaling does"), tr("Small and large side by side, with the reasons"));
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_headline);
    layout->addWidget(m_tabs, 1);
}

} // namespace quoin::ui

#include "moc_plan_board.cpp"
