// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/print_plan_parts.h"
#include "core/same_word.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace quoin::core {

namespace {

constexpr double commonSpoolGrams = 1000;
constexpr double crumbGrams = 1; ///< less on a spool is nothing

double powerOf(const PrintPlan& plan, const PlanBar& bar)
{
    const double own = plan.request.machines[bar.machine].powerW;
    if (own > 0)
        return own;
    double most = 0;
    for (const PlatePiece& p : plan.plates[bar.plate].pieces)
        most = std::max(most, plan.job.pieces[p.piece].figures.powerW);
    return most;
}

const SpoolStock* stockOf(const PrintPlan& plan, const std::string& material)
{
    const auto& stock = plan.request.stock;
    const auto at =
        std::find_if(stock.begin(), stock.end(), [&](const SpoolStock& s) { return sameWord(s.material, material); });
    return at != stock.end() ? &*at : nullptr;
}

double spoolGramsOf(const PrintPlan& plan, const std::string& material)
{
    const SpoolStock* stock = stockOf(plan, material);
    return stock != nullptr ? stock->spoolGrams : commonSpoolGrams;
}

/// The spools of one machine: what is on it, and what was taken off half used.
class Spools {
public:
    Spools(PrintPlan& plan, std::size_t machine, const WorkTime& time) : m_plan(plan), m_machine(machine), m_time(time)
    {
    }

    void print(std::size_t index)
    {
        const PlanBar& bar = m_plan.bars[index];
        const std::string& material = m_plan.plates[bar.plate].material;
        m_full = spoolGramsOf(m_plan, material);
        if (m_material != material) {
            if (!m_material.empty())
                change(index, bar.change, true, fmt::format("{} in place of {}", material, m_material));
            m_aside[m_material].push_back(m_left);
            m_material = material;
            m_left = pick(std::min(bar.grams, m_full));
        }
        if (const double better = bestStart(bar); better != m_left) {
            // It would run out while nobody is there: another one first, this one is kept for a smaller plate.
            const double left = m_left;
            m_left = better < m_full ? pick(better) : m_full;
            change(index, bar.change, true,
                   fmt::format("another spool of {}, with {:.0f} g on it; the one with {:.0f} g is kept for a smaller "
                               "plate",
                               material, m_left, left));
            m_aside[material].push_back(left);
        }
        double done = 0;
        while (m_left < bar.grams - done) {
            done += m_left;
            const Moment at = bar.start + Minutes(std::lround(60 * bar.hours * done / bar.grams));
            change(index, at, false, fmt::format("a new spool of {} where the last runs out", material));
            m_left = m_full;
        }
        m_left -= bar.grams - done;
    }

private:
    /// How often the spool runs out while nobody is there, beginning with so much on it.
    int missed(const PlanBar& bar, double left) const
    {
        int count = 0;
        for (double done = left; done < bar.grams; done += m_full)
            count += attendedAt(bar.start + Minutes(std::lround(60 * bar.hours * done / bar.grams))) ? 0 : 1;
        return count;
    }

    /// The spool to begin a plate with: the one that is on, unless another runs out less often while nobody is there.
    double bestStart(const PlanBar& bar)
    {
        double best = m_left;
        int least = missed(bar, m_left);
        std::vector<double> others = m_aside[m_material];
        others.push_back(m_full);
        for (const double other : others)
            if (other > crumbGrams && missed(bar, other) < least) {
                least = missed(bar, other);
                best = other;
            }
        return best;
    }
    bool attendedAt(Moment at) const { return m_time.attended(m_time.minuteOf(at)); }

    void change(std::size_t bar, Moment at, bool before, const std::string& what)
    {
        const bool attended = before || attendedAt(at);
        m_plan.spoolChanges.push_back(
            {m_machine, bar, at, m_plan.plates[m_plan.bars[bar].plate].material, before, attended,
             fmt::format("{} on {}: {}{}", momentWords(at), m_plan.request.machines[m_machine].name, what,
                         attended ? ""
                                  : "; nobody is there, so that the machine waits or fails: watch it, or split "
                                    "the plate")});
        ++m_plan.use[m_machine].spoolChanges;
    }

    /// The least of those kept that does, else a full one.
    double pick(double grams)
    {
        std::vector<double>& kept = m_aside[m_material];
        auto best = kept.end();
        for (auto at = kept.begin(); at != kept.end(); ++at)
            if (*at >= grams && *at > crumbGrams && (best == kept.end() || *at < *best))
                best = at;
        if (best == kept.end())
            return m_full;
        const double left = *best;
        kept.erase(best);
        return left;
    }

    PrintPlan& m_plan;
    std::size_t m_machine;
    const WorkTime& m_time;
    std::string m_material;
    double m_left = 0, m_full = commonSpoolGrams;
    std::map<std::string, std::vector<double>> m_aside;
};

void addNeed(PrintPlan& plan, const std::string& material, double grams, double spare)
{
    SpoolNeed need;
    need.material = material;
    need.grams = grams;
    need.spareGrams = spare;
    need.spoolGrams = spoolGramsOf(plan, material);
    const SpoolStock* stock = stockOf(plan, material);
    need.stockKnown = stock != nullptr;
    need.stockGrams = stock != nullptr ? stock->grams() : 0;
    need.cost = stock != nullptr ? grams / 1000 * stock->pricePerKg : 0;
    const double wanted = grams + spare;
    need.shortGrams = std::max(0.0, wanted - need.stockGrams);
    need.buySpools = static_cast<int>(std::ceil(need.shortGrams / need.spoolGrams - 1e-9));
    std::vector<const PlanBar*> bars;
    for (const PlanBar& b : plan.bars)
        if (plan.plates[b.plate].material == material)
            bars.push_back(&b);
    std::stable_sort(bars.begin(), bars.end(), [](const PlanBar* a, const PlanBar* b) { return a->start < b->start; });
    double used = 0;
    for (const PlanBar* b : bars) {
        used += b->grams * wanted / grams; // the spare in even parts
        if (used > need.stockGrams + crumbGrams && !need.shortFrom)
            need.shortFrom = b->start;
    }
    need.words = fmt::format("{}: {:.0f} g, and {:.0f} g to spare for reprints", material, grams, spare);
    if (!need.stockKnown)
        need.words += fmt::format("; no stock is known: {} spools of {:g} g", need.buySpools, need.spoolGrams);
    else if (need.buySpools > 0)
        need.words += fmt::format("; {:.0f} g are there: buy {} spool{} of {:g} g, to be there by {}", need.stockGrams,
                                  need.buySpools, need.buySpools == 1 ? "" : "s", need.spoolGrams,
                                  momentWords(need.shortFrom.value_or(plan.finish)));
    else
        need.words += fmt::format("; {:.0f} g are there: enough", need.stockGrams);
    plan.cost += need.cost;
    plan.spools.push_back(std::move(need));
}

} // namespace

void addUse(PrintPlan& plan)
{
    plan.use.assign(plan.request.machines.size(), {});
    for (const PlanBar& bar : plan.bars) {
        const Machine& machine = plan.request.machines[bar.machine];
        MachineUse& use = plan.use[bar.machine];
        const double kwh = powerOf(plan, bar) / 1000 * bar.hours;
        ++use.plates;
        use.hours += bar.hours;
        use.grams += bar.grams;
        use.energyKwh += kwh;
        use.cost += bar.hours * machine.costPerHour + kwh * plan.request.pricePerKwh;
    }
    const double span = hoursBetween(plan.request.start, plan.finish);
    for (MachineUse& use : plan.use) {
        use.busyShare = span > 0 ? use.hours / span : 0;
        plan.hours += use.hours;
        plan.grams += use.grams;
        plan.energyKwh += use.energyKwh;
        plan.cost += use.cost;
    }
}

void addReprints(PrintPlan& plan)
{
    for (const PlanBar& bar : plan.bars) {
        const FailureRate& failure = plan.request.machines[bar.machine].failure;
        const double lost = failure.meanHours(bar.hours) - bar.hours;
        plan.reprints.failures += failure.meanFailures(bar.hours);
        plan.reprints.hours += lost;
        plan.reprints.grams += bar.grams * (bar.hours > 0 ? lost / bar.hours : 0);
    }
    plan.reprints.words =
        fmt::format("On average {:.1f} of {} plates fail and are printed again: {:.1f} h and {:.0f} g more.",
                    plan.reprints.failures, plan.bars.size(), plan.reprints.hours, plan.reprints.grams);
}

void addSpools(PrintPlan& plan)
{
    const auto times = workTimes(plan.request);
    for (std::size_t m = 0; m < plan.request.machines.size(); ++m) {
        Spools spools(plan, m, *times[m]);
        for (std::size_t b = 0; b < plan.bars.size(); ++b)
            if (plan.bars[b].machine == m)
                spools.print(b);
    }
    std::map<std::string, std::pair<double, double>> needs;
    for (const PlanBar& bar : plan.bars) {
        const FailureRate& failure = plan.request.machines[bar.machine].failure;
        auto& [grams, spare] = needs[plan.plates[bar.plate].material];
        grams += bar.grams;
        if (bar.hours > 0)
            spare += bar.grams * (failure.meanHours(bar.hours) / bar.hours - 1);
    }
    for (const auto& [material, need] : needs)
        if (need.first > 0)
            addNeed(plan, material, need.first, need.second);
}

void addChance(PrintPlan& plan, int runs, const Context& context)
{
    const auto times = workTimes(plan.request);
    std::vector<SimulatedPlate> plates;
    for (const Plate& p : plan.plates)
        plates.push_back({p.hours, p.grams, logSpreadOf(p.lowHours, p.highHours), p.urgency, p.machines});
    std::vector<SimulatedMachine> machines;
    for (std::size_t m = 0; m < plan.request.machines.size(); ++m) {
        const Machine& machine = plan.request.machines[m];
        SimulatedMachine s{times[m].get(),
                           machine.speedFactor,
                           static_cast<long>(std::ceil(machine.changeMinutes)),
                           times[m]->minuteOf(plan.request.start),
                           machine.failure,
                           {}};
        for (const PlanBar& b : plan.bars)
            if (b.machine == m) {
                if (s.queue.empty()) // a machine that is still busy begins when it is free
                    s.freeFrom = std::max(s.freeFrom, times[m]->minuteOf(b.change));
                s.queue.push_back(b.plate);
            }
        machines.push_back(std::move(s));
    }
    SimulationRules rules;
    rules.runs = runs;
    rules.seed = plan.request.seed;
    rules.waitForTests = plan.request.testFits == TestFits::FirstAndWait;
    if (plan.request.deadline)
        rules.deadline = times[0]->minuteOf(*plan.request.deadline);
    PlanChance chance;
    chance.simulation = simulate(plates, machines, rules, context);
    const Simulation& s = chance.simulation;
    if (s.runs == 0)
        return;
    const auto momentOf = [&](double share) {
        const long minute = s.readyBy(share);
        return times[0]->momentOf(std::min(minute, static_cast<long>(WorkTime::daysAhead) * 24 * 60));
    };
    chance.likely = momentOf(0.5);
    chance.late = momentOf(0.9);
    chance.words =
        fmt::format("With failures and the spread of the estimate, one half of {} tries is ready by {}, nine "
                    "of ten by {}",
                    s.runs, momentWords(chance.likely), momentWords(chance.late));
    if (plan.request.deadline) {
        chance.kept = plan.left.empty() ? s.chance() : 0;
        chance.words += fmt::format("; the deadline holds with a chance of {:.0f} % (give or take {:.0f})",
                                    100 * *chance.kept, 200 * s.chanceError());
    }
    chance.words += ".";
    std::map<Moment, int> days;
    for (const long minute : s.finish)
        if (minute < static_cast<long>(WorkTime::daysAhead) * 24 * 60)
            ++days[Moment(std::chrono::floor<std::chrono::days>(times[0]->momentOf(minute)))];
    for (const auto& [day, count] : days)
        chance.days.push_back({day, static_cast<double>(count) / s.runs});
    plan.chance = std::move(chance);
}

} // namespace quoin::core
