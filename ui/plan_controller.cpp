// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plan_controller.h"

#include "ui/plan_board.h"
#include "ui/plan_panel.h"
#include "ui/window_words.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::ui {

PlanController::PlanController(Bench& bench, PlanBoard& board, PlanPanel& panel, QWidget* window)
    : QObject(window),
      m_bench(bench),
      m_board(board),
      m_panel(panel),
      m_window(window),
      m_book(new PlanBook(bench, this)),
      m_cache(std::make_shared<PlanCache>()),
      m_working(bench.jobs(), this),
      m_comparing(bench.jobs(), this),
      m_planning(bench.jobs(), this)
{
    connect(&bench.document(), &Document::opened, this, [this] {
        m_wanted = false;
        forget();
        show();
    });
    connect(&bench.document(), &Document::designChanged, this, &PlanController::refresh);
    connect(&bench.document(), &Document::workChanged, this, &PlanController::refresh);
    connect(&bench.document(), &Document::fileChanged, this, &PlanController::showSettings);
    connect(&bench, &Bench::chosen, this, [this] {
        const bool came = isLookedAt() && !m_lookedAt;
        m_lookedAt = isLookedAt();
        if (came)
            refresh();
    });
    connect(m_book, &PlanBook::changed, this, [this] {
        refresh();
        if (m_stale)
            return;
        m_plan.reset();
        if (isLookedAt())
            askPlan();
    });
    connectPanel();
    show();
}

JobStanding::Planning PlanController::planning() const
{
    using Planning = JobStanding::Planning;
    if (m_working.busy() || m_planning.busy())
        return Planning::Working;
    if (m_problem)
        return Planning::Failed;
    return m_plan ? Planning::Made : Planning::None;
}

std::optional<bool> PlanController::dateKept() const
{
    return m_plan ? m_plan->keepsDeadline : std::nullopt;
}

void PlanController::readSetup()
{
    auto setup = core::loadPrintSetup();
    if (setup)
        m_setup = std::move(*setup);
    else
        m_bench.refuse(setup.problem());
}

QString PlanController::whyNot() const
{
    const core::Design& design = m_bench.design();
    if (design.parts.empty())
        return tr("Open a model first.");
    if (design.beds.empty())
        return tr("Choose the beds first: a piece is weighed as it stands on its plate.");
    for (const core::PartDesign& part : design.parts) {
        const PartWork* work = m_bench.document().work(part.id);
        const QString name = QString::fromStdString(part.name);
        if (work != nullptr && work->problem())
            return tr("%1 can't be worked out: %2").arg(name, windowWords(work->problem()->sentence()));
        if (work == nullptr || work->busy() || !work->view())
            return tr("%1 is being worked out…").arg(name);
        const core::RealisedPtr& realised = work->view()->realised;
        if (!realised->fitsBeds())
            return tr("%1 has pieces that fit no bed: cut it first.").arg(name);
        if (realised->stage != core::Realised::Stage::Jointed)
            return tr("%1 has no joints yet.").arg(name);
    }
    return {};
}

core::PrintSetup PlanController::pricedSetup() const
{
    core::PrintSetup setup = m_setup;
    const std::vector<core::Machine> machines = m_book->machines();
    setup.machinePerHour = 0;
    for (const core::Machine& m : machines)
        setup.machinePerHour += m.costPerHour / static_cast<double>(machines.size());
    setup.pricePerKwh = m_book->document().request.pricePerKwh;
    return setup;
}

PlanQuestion PlanController::question() const
{
    PlanQuestion q;
    q.design = m_bench.design();
    for (const core::PartDesign& part : q.design.parts)
        q.realised[part.id] = m_bench.document().work(part.id)->view()->realised;
    const core::PlanDocument& d = m_book->document();
    q.setup = pricedSetup();
    q.setup.recipe = d.recipe.empty() ? core::usualRecipe : d.recipe;
    q.recipes = d.recipes;
    q.quantities = d.quantities;
    q.first = d.first;
    q.coupon = d.coupon;
    return q;
}

namespace {

/// What a question holds besides the parts' geometry, as text to be compared.
std::string textOf(const PlanQuestion& q)
{
    std::string text;
    for (const core::PartDesign& p : q.design.parts)
        text += fmt::format("{}\n{}\n{}\n{}\n{}\n", p.id, p.name, p.material, p.machine, p.quantity);
    text += fmt::format("{}\n{}\n{} {}\n", q.setup.recipe, q.coupon, q.setup.machinePerHour, q.setup.pricePerKwh);
    for (const auto& [part, recipe] : q.recipes)
        text += part + "=" + recipe + "\n";
    for (const auto& [part, n] : q.quantities)
        text += fmt::format("{}*{}\n", part, n);
    for (const std::string& f : q.first)
        text += f + "\n";
    for (const core::Recipe& r : q.setup.recipes.own())
        text += core::recipeJson(r).dump();
    text += q.setup.log.csv();
    for (const core::Filament& f : q.setup.filaments.own())
        text += fmt::format("{} {} {} {}\n", f.material, f.densityGPerCm3, f.diameterMm, f.pricePerKg);
    return text;
}

} // namespace

bool PlanController::isLookedAt() const
{
    return m_bench.state().step == JobStep::Plan;
}

void PlanController::forget()
{
    m_working.drop();
    m_comparing.drop();
    m_planning.drop();
    m_stale = true;
    m_asked.clear();
    m_work.reset();
    m_plan.reset();
    m_problem.reset();
}

void PlanController::refresh()
{
    if (isLookedAt() && !m_wanted) {
        m_wanted = true;
        m_book->readShop();
        readSetup();
    }
    if (!m_wanted)
        return;
    if (!whyNot().isEmpty()) {
        forget();
        show();
        return;
    }
    const PlanQuestion q = question();
    std::vector<core::RealisedPtr> realised;
    for (const auto& [id, r] : q.realised)
        realised.push_back(r);
    const std::string text = textOf(q);
    if (realised == m_asked && text == m_askedText && (m_work || m_working.busy())) {
        if (isLookedAt() && m_work && !m_plan && !m_planning.busy())
            askPlan(); // it was stopped
        else if (isLookedAt())
            show();
        return;
    }
    if (!isLookedAt()) { // nobody waits for it
        forget();
        show();
        return;
    }
    m_asked = std::move(realised);
    m_askedText = text;
    askWork();
}

void PlanController::askWork()
{
    m_stale = true;
    m_compared = false;
    m_comparing.drop();
    m_planning.drop();
    m_problem.reset();
    m_working.ask<Result<PlanWorkPtr>>(
        tr("Estimating weight and hours"),
        [cache = m_cache, q = question()](const Context& context) { return cache->work(q, context); },
        [this](Result<PlanWorkPtr> outcome) { worked(std::move(outcome)); });
    show();
}

void PlanController::worked(Result<PlanWorkPtr> outcome)
{
    if (!outcome) {
        m_problem = outcome.problem();
        m_work.reset();
        m_plan.reset();
        m_asked.clear(); // asked again by the next change, or by looking again
        m_bench.refuse(outcome.problem());
        show();
        return;
    }
    m_work = std::move(*outcome);
    m_stale = false;
    askPlan();
}

void PlanController::askComparison()
{
    m_compared = true;
    PlanQuestion q = question();
    q.compare = true;
    m_comparing.ask<Result<PlanWorkPtr>>(
        tr("Trying a larger nozzle"), [cache = m_cache, q](const Context& context) { return cache->work(q, context); },
        [this](Result<PlanWorkPtr> outcome) {
            if (!outcome || !m_work)
                return; // it costs no more than a hint
            m_work = std::move(*outcome);
            askPlan();
        });
}

void PlanController::askPlan()
{
    if (!m_work)
        return;
    m_problem.reset();
    using Outcome = Result<PrintPlanPtr>;
    m_planning.ask<Outcome>(
        tr("Planning the prints"),
        [job = m_work->job, request = m_book->request()](const Context& context) -> Outcome {
            auto plan = core::planPrinting(*job, request, context);
            if (!plan)
                return plan.problem();
            return std::make_shared<const core::PrintPlan>(std::move(*plan));
        },
        [this](Outcome outcome) { planned(std::move(outcome)); });
    show();
}

void PlanController::planned(Result<PrintPlanPtr> outcome)
{
    if (outcome) {
        m_plan = std::move(*outcome);
        m_book->made(*m_plan);
        // The answer first; what would help may come a little later.
        if (!m_compared && isLookedAt() && whyNot().isEmpty())
            askComparison();
    } else {
        m_problem = outcome.problem();
        m_plan.reset();
        m_bench.refuse(outcome.problem());
    }
    show();
}

} // namespace quoin::ui

#include "moc_plan_controller.cpp"
