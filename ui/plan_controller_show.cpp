// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/estimate_page.h"
#include "ui/plan_board.h"
#include "ui/plan_controller.h"
#include "ui/plan_export_form.h"
#include "ui/plan_headline.h"
#include "ui/plan_money.h"
#include "ui/plan_panel.h"
#include "ui/quantity_text.h"
#include "ui/scaling_page.h"
#include "ui/tick_page.h"
#include "ui/window_words.h"

#include <QFileInfo>

#include <algorithm>

namespace quoin::ui {

namespace {

QString qs(const std::string& text)
{
    return QString::fromStdString(text);
}

QStringList recipeNames(const core::RecipeBook& book)
{
    QStringList names;
    for (const core::Recipe& r : book.all())
        names << qs(r.name);
    return names;
}

} // namespace

double PlanController::moneyOf(const core::PrintPlan& plan) const
{
    double money = 0;
    for (const core::MachineUse& use : plan.use)
        money += use.cost;
    for (const core::SpoolNeed& need : plan.spools)
        if (const auto filament = m_setup.filaments.find(need.material))
            money += need.grams / 1000 * filament->pricePerKg;
    return money;
}

void PlanController::show()
{
    showHeadline();
    showEstimates();
    m_board.plan().setPlan(m_plan, minuteNow());
    showTicks();
    m_board.scaling().setRows(
        m_work && m_work->scale > 0 ? m_work->scaling : std::vector<core::ScalingRow>{},
        m_work && m_work->scalingToCome ? tr("Being worked out…")
        : !m_work                       ? tr("Nothing has been estimated yet.")
        : m_work->scale <= 0 ? tr("The parts are scaled by different factors: there is no one table for them.")
        : m_work->scale == 1 ? tr("Nothing has been scaled yet: both columns are the same.")
                             : tr("The whole project as its files have it, printed in one piece each, and %1 times as "
                                  "large. Estimates for planning; strength is for a licensed engineer where people "
                                  "stand below.")
                                   .arg(numberText(m_work->scale, 3)));
    showSettings();
    QString why;
    if (!m_plan)
        why = m_problem ? windowWords(m_problem->sentence()) : tr("There is no plan yet");
    m_panel.files().setWhyNot(why);
    emit standingChanged();
}

void PlanController::showHeadline()
{
    HeadlineShown h;
    const QString why = m_wanted ? whyNot() : QString();
    if (m_work && !m_plan) {
        const core::PrintTotals all = m_work->estimate.all();
        h.mass = massText(all.grams);
        h.hours = hoursWords(all.hours);
    }
    if (m_plan) {
        const core::PrintPlan& p = *m_plan;
        h.mass = massText(p.grams);
        h.massTip = tr("Everything that is still to be printed, with support, brim and purging");
        h.hours = hoursWords(p.hours);
        h.hoursTip = tr("On all machines together, heating up included");
        h.money = moneyText(moneyOf(p), currencySymbol());
        h.moneyTip =
            tr("Filament, wear of the machines and energy, without prints that fail; %1").arg(qs(p.reprints.words));
        h.ready = p.bars.empty() ? QString() : momentWords(minuteOf(p.finish));
        h.readyTip = tr("The last plate is off the machine, if nothing fails");
        if (p.chance)
            h.readyTip += tr("; played through %1 times with failures, half were ready by %2, nine of ten by %3")
                              .arg(p.chance->simulation.runs)
                              .arg(momentWords(minuteOf(p.chance->likely)), momentWords(minuteOf(p.chance->late)));
        if (p.piecesDone > 0)
            h.massTip += tr("; %1 of %2 pieces are printed").arg(p.piecesDone).arg(p.piecesAll);
        h.words = windowWords(p.verdict);
        h.verdict = !p.left.empty() || p.keepsDeadline == false           ? Verdict::Bad
                    : p.chance && p.chance->kept && *p.chance->kept < 0.8 ? Verdict::Warning
                                                                          : Verdict::Good;
    }
    if (planning() == JobStanding::Planning::Working) {
        h.verdict = Verdict::Working;
        h.words = m_working.busy() ? tr("The pieces are being estimated…") : tr("The prints are being planned…");
    } else if (m_problem) {
        h.verdict = Verdict::Bad;
        h.words = m_problem->reason == Reason::Cancelled
                      ? tr("Stopped. Change something, or come back to this step, and it begins again.")
                      : windowWords(m_problem->sentence());
    } else if (!why.isEmpty()) {
        h.verdict = Verdict::Warning;
        h.words = why;
    }
    m_board.headline().setShown(h);
}

void PlanController::showEstimates()
{
    if (!m_work) {
        m_board.estimates().setEstimate(std::nullopt, tr("Nothing has been estimated yet."));
        return;
    }
    EstimateShown shown;
    shown.estimate = repriced(m_plan ? onMachines(m_work->estimate, *m_plan) : m_work->estimate, pricedSetup());
    shown.currency = currencySymbol();
    shown.past = qs(m_work->past);
    shown.recipes = recipeNames(m_setup.recipes);
    shown.partRecipes = m_book->document().recipes;
    m_board.estimates().setEstimate(shown);
}

void PlanController::showTicks()
{
    TickShown shown;
    if (m_work)
        shown.job = m_work->job;
    shown.progress = m_book->document().request.progress;
    shown.plan = m_plan;
    for (const core::Machine& m : m_book->machines())
        shown.machines << qs(m.name);
    shown.now = minuteNow();
    m_board.ticks().setShown(std::move(shown));
}

void PlanController::showSettings()
{
    const core::PlanRequest request = m_book->request();
    PlanSettings s;
    s.any = !m_bench.design().parts.empty();
    s.start = minuteOf(request.start);
    if (request.deadline)
        s.deadline = minuteOf(*request.deadline);
    s.testFits = request.testFits;
    s.recipes = recipeNames(m_setup.recipes);
    const std::string& recipe = m_book->document().recipe;
    s.recipe = recipe.empty() ? QString::fromLatin1(core::usualRecipe) : qs(recipe);
    for (const core::Machine& m : request.machines)
        s.machines << QStringLiteral("• %1: %2").arg(qs(m.name), qs(core::machineWords(m)));
    if (m_book->machinesAreUsual())
        s.machinesNote = request.machines.empty()
                             ? tr("There is no bed, and so no machine yet.")
                             : tr("One for each of the beds, with usual values: say what yours are.");
    QStringList prices;
    std::vector<std::string> materials;
    for (const core::PartDesign& part : m_bench.design().parts)
        if (std::find(materials.begin(), materials.end(), part.material) == materials.end()) {
            materials.push_back(part.material);
            if (const auto filament = m_setup.filaments.find(part.material))
                prices << tr("%1 %2/kg").arg(qs(part.material), moneyText(filament->pricePerKg, currencySymbol()));
        }
    prices << tr("energy %1/kWh").arg(moneyText(request.pricePerKwh, currencySymbol()));
    s.prices = tr("Prices: %1").arg(prices.join(QStringLiteral(", ")));
    m_panel.setSettings(s);
    m_panel.setHelp(m_plan ? m_plan->help : std::vector<core::PlanHelp>{}, request.deadline.has_value(),
                    !m_plan ? tr("Known as soon as there is a plan.")
                            : tr("Nothing that was tried makes it end earlier."));
    QStringList cautions;
    for (const std::string& c : m_plan ? m_plan->cautions : core::planCautions(request.machines))
        cautions << windowWords(c);
    m_panel.setCautions(cautions);
    const QString& file = m_bench.document().file();
    const QString base = file.isEmpty() ? QString() : QFileInfo(file).fileName().remove(QStringLiteral(".quoin.json"));
    m_panel.files().setUsualFolder(usualPlanFolder(file, base));
}

} // namespace quoin::ui
