// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/order_controller.h"

#include "core/project_assembly.h"
#include "ui/joints_look.h"
#include "ui/order_panel.h"
#include "ui/view_controller.h"
#include "ui/window_words.h"

#include <QTimer>

namespace quoin::ui {

namespace {

constexpr int stepMs = 2200, pauseMs = 500;

} // namespace

OrderController::OrderController(Bench& bench, OrderPanel& panel, ViewController& view, QObject* parent)
    : QObject(parent), m_bench(bench), m_panel(panel), m_view(view), m_seeking(bench.jobs())
{
    m_way.setDuration(stepMs);
    m_way.setEasingCurve(QEasingCurve::InOutSine);
    connect(&m_way, &QVariantAnimation::valueChanged, this,
            [this](const QVariant& value) { setApart(value.toDouble()); });
    connect(&m_way, &QVariantAnimation::finished, this, [this] {
        if (!m_plan || m_step + 1 >= static_cast<int>(m_plan->steps.size())) {
            play(false);
            return;
        }
        QTimer::singleShot(pauseMs, this, [this, plan = m_plan, step = m_step] {
            if (m_plan != plan || m_step != step || m_way.state() == QAbstractAnimation::Running || m_apart != 0)
                return; // something else is looked at
            showStep(step + 1, 1);
            play(true);
        });
    });
    connect(&m_panel, &OrderPanel::stepWanted, this, [this](int step) {
        play(false);
        if (step >= 0)
            showStep(step, 1);
    });
    connect(&m_panel, &OrderPanel::apartWanted, this, [this](double apart) {
        play(false);
        setApart(apart);
    });
    connect(&m_panel, &OrderPanel::playWanted, this, &OrderController::play);
    connect(&bench.document(), &Document::designChanged, this, &OrderController::follow);
    connect(&bench.document(), &Document::workChanged, this, &OrderController::follow);
    connect(&bench, &Bench::chosen, this, &OrderController::follow);
}

bool OrderController::looking() const
{
    return m_bench.state().step == JobStep::Joint && m_bench.state().jointTab == JointTab::Order;
}

void OrderController::follow()
{
    if (!looking()) {
        play(false);
        if (m_bench.state().order)
            m_bench.look([](ViewState& state) { state.order.reset(); });
        return;
    }
    const PartWork* work = m_bench.work();
    const core::RealisedPtr realised = m_bench.realised();
    const bool laidOut = realised && work != nullptr && realised->stage == core::Realised::Stage::Jointed;
    if (laidOut && realised == m_of) {
        if (m_plan && !m_bench.state().order && !m_plan->steps.empty())
            showStep(m_step, m_apart); // back from elsewhere
        return;
    }
    if (laidOut) {
        m_of = realised;
        seek();
        return;
    }
    m_of.reset();
    m_plan.reset();
    m_seeking.drop();
    play(false);
    m_panel.setWhyNone(work == nullptr   ? tr("Open a model first.")
                       : work->problem() ? windowWords(work->problem()->sentence())
                                         : tr("The joints are being laid out."));
    if (m_bench.state().order)
        m_bench.look([](ViewState& state) { state.order.reset(); });
}

void OrderController::seek()
{
    m_plan.reset();
    m_panel.setWhyNone(tr("The order is being sought."));
    m_seeking.ask<Result<core::AssemblyPlan>>(
        tr("Order of assembly"), [of = m_of](const Context& context) { return core::assemblyOf(of->project, context); },
        [this, of = m_of](Result<core::AssemblyPlan> plan) {
            if (m_of != of)
                return;
            if (!plan) {
                m_panel.setWhyNone(plan.problem().reason == Reason::Cancelled
                                       ? tr("It was stopped. Come back to this page to seek it again.")
                                       : windowWords(plan.problem().sentence()));
                m_of.reset();
                return;
            }
            m_plan = std::make_shared<const core::AssemblyPlan>(std::move(*plan));
            m_panel.setPlan(*m_plan);
            if (!m_plan->steps.empty() && looking())
                showStep(std::min(m_step, static_cast<int>(m_plan->steps.size()) - 1), 1);
        });
}

void OrderController::showStep(int step, double apart)
{
    if (!m_plan || step < 0 || step >= static_cast<int>(m_plan->steps.size()))
        return;
    m_step = step;
    m_apart = apart;
    m_panel.showStep(step, apart);
    const PartWork* work = m_bench.work();
    m_bench.look([&](ViewState& state) {
        state.order = OrderShown{m_plan, m_of->cutStamp, static_cast<std::size_t>(step), apart};
    });
    if (work != nullptr && work->view())
        m_view.view().fitTo(OrderLook::reach(*work->view(), m_plan->steps[static_cast<std::size_t>(step)]));
}

void OrderController::setApart(double apart)
{
    m_apart = apart;
    if (!m_plan || !m_bench.state().order)
        return;
    m_panel.showStep(m_step, apart);
    m_bench.look([apart](ViewState& state) { state.order->apart = apart; });
}

void OrderController::play(bool on)
{
    if (!on) {
        m_way.stop();
        m_panel.setPlaying(false);
        return;
    }
    if (!m_plan || m_plan->steps.empty())
        return;
    if (m_apart == 0) // the last one was shown to its end
        showStep(m_step + 1 < static_cast<int>(m_plan->steps.size()) ? m_step : 0, 1);
    m_way.setStartValue(m_apart);
    m_way.setEndValue(0.0);
    m_way.start();
    m_panel.setPlaying(true);
}

} // namespace quoin::ui
