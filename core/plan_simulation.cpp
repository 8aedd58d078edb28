// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/plan_simulation.h"

#include <algorithm>
#include <climits>
#include <cmath>
#include <deque>
#include <numbers>
#include <random>

namespace quoin::core {

namespace {

/// Nine of ten of a normal distribution lie within so many standard deviations of its middle.
constexpr double nineOfTen = 1.6448536269514722;
constexpr int mostAttempts = 200; ///< of one plate in one run: with any rate allowed all but impossible

class Dice {
public:
    explicit Dice(std::uint64_t seed) : m_random(seed) {}
    /// Over (0, 1), never an end: 53 bits.
    double even() { return (static_cast<double>(m_random() >> 11) + 0.5) * 0x1p-53; }
    double exponential(double rate) { return -std::log(even()) / rate; }
    /// Box and Muller 1958.
    double normal() { return std::sqrt(-2 * std::log(even())) * std::cos(2 * std::numbers::pi * even()); }

private:
    std::mt19937_64 m_random;
};

class OneRun {
public:
    OneRun(const std::vector<SimulatedPlate>& plates, const std::vector<SimulatedMachine>& machines,
           const SimulationRules& rules, double factor, Dice& dice, Simulation& sums)
        : m_plates(plates), m_machines(machines), m_rules(rules), m_factor(factor), m_dice(dice), m_sums(sums)
    {
        for (const SimulatedMachine& m : machines) {
            m_free.push_back(m.freeFrom);
            m_queue.emplace_back(m.queue.begin(), m.queue.end());
        }
    }

    /// The minute at which all is ready; LONG_MAX when it can't be.
    long finish()
    {
        if (m_rules.waitForTests) {
            printAll([&](std::size_t plate) { return m_plates[plate].urgency == 0; });
            const long tested = m_finish;
            for (long& f : m_free)
                f = std::max(f, tested);
        }
        printAll([](std::size_t) { return true; });
        return m_finish;
    }

private:
    template <class May>
    void printAll(const May& may)
    {
        while (m_finish != LONG_MAX) {
            // The machine that is free soonest goes on.
            std::size_t machine = m_machines.size();
            for (std::size_t m = 0; m < m_machines.size(); ++m)
                if (!m_queue[m].empty() && may(m_queue[m].front()) &&
                    (machine == m_machines.size() || m_free[m] < m_free[machine]))
                    machine = m;
            if (machine == m_machines.size())
                return;
            if (m_rules.lendHands)
                lend(may);
            const std::size_t plate = m_queue[machine].front();
            m_queue[machine].pop_front();
            print(plate, machine);
        }
    }

    long minutes(std::size_t plate, std::size_t machine) const
    {
        return static_cast<long>(
            std::ceil(60 * m_plates[plate].hours * m_factor / m_machines[machine].speedFactor - 1e-9));
    }

    /// When a machine would have its whole queue ready, if nothing failed.
    long endOf(std::size_t machine) const
    {
        long free = m_free[machine];
        for (const std::size_t plate : m_queue[machine]) {
            const auto run =
                m_machines[machine].time->runFrom(free, m_machines[machine].changeMinutes, minutes(plate, machine));
            if (!run.ok())
                return LONG_MAX;
            free = run.ready;
        }
        return free;
    }

    /// An idle machine takes the last plate of the one that would be ready last.
    template <class May>
    void lend(const May& may)
    {
        for (std::size_t idle = 0; idle < m_machines.size(); ++idle) {
            if (!m_queue[idle].empty())
                continue;
            std::size_t last = m_machines.size();
            long lastEnd = 0;
            for (std::size_t m = 0; m < m_machines.size(); ++m)
                if (m_queue[m].size() > 1 && m_plates[m_queue[m].back()].machines[idle] != 0 && may(m_queue[m].back()))
                    if (const long end = endOf(m); end > lastEnd) {
                        last = m;
                        lastEnd = end;
                    }
            if (last == m_machines.size())
                continue;
            const std::size_t plate = m_queue[last].back();
            const auto run =
                m_machines[idle].time->runFrom(m_free[idle], m_machines[idle].changeMinutes, minutes(plate, idle));
            if (run.ok() && run.ready < lastEnd) {
                m_queue[last].pop_back();
                m_queue[idle].push_back(plate);
            }
        }
    }

    void print(std::size_t plate, std::size_t machine)
    {
        const SimulatedMachine& m = m_machines[machine];
        const long whole = minutes(plate, machine);
        for (int attempt = 0; attempt < mostAttempts; ++attempt) {
            const auto run = m.time->runFrom(m_free[machine], m.changeMinutes, whole);
            if (!run.ok())
                break;
            const double hours = static_cast<double>(whole) / 60;
            double until = hours;
            bool fails = false;
            if (m.failure.rate > 0 && m.failure.per == FailureRate::Per::Hour) {
                until = m_dice.exponential(m.failure.rate);
                fails = until < hours;
            } else if (m.failure.rate > 0) {
                fails = m_dice.even() < m.failure.rate;
            }
            if (!fails) {
                m_free[machine] = run.ready;
                m_finish = std::max(m_finish, run.ready);
                return;
            }
            ++m_sums.meanFailures;
            m_sums.meanLostHours += until;
            m_sums.meanLostGrams += m_plates[plate].grams * until / hours;
            const long seen = m.time->nextAttended(run.start + static_cast<long>(std::ceil(60 * until - 1e-9)));
            if (seen < 0)
                break;
            m_free[machine] = seen;
        }
        m_finish = LONG_MAX;
    }

    const std::vector<SimulatedPlate>& m_plates;
    const std::vector<SimulatedMachine>& m_machines;
    const SimulationRules& m_rules;
    double m_factor;
    Dice& m_dice;
    Simulation& m_sums;
    std::vector<long> m_free;
    std::vector<std::deque<std::size_t>> m_queue;
    long m_finish = 0;
};

} // namespace

double logSpreadOf(double low, double high)
{
    return low > 0 && high > low ? std::log(high / low) / (2 * nineOfTen) : 0;
}

double Simulation::chanceError() const
{
    return runs > 0 ? std::sqrt(chance() * (1 - chance()) / runs) : 0;
}

long Simulation::readyBy(double share) const
{
    if (finish.empty())
        return 0;
    const auto index = static_cast<std::size_t>(std::ceil(share * static_cast<double>(finish.size())));
    return finish[std::clamp<std::size_t>(index, 1, finish.size()) - 1];
}

Simulation simulate(const std::vector<SimulatedPlate>& plates, const std::vector<SimulatedMachine>& machines,
                    const SimulationRules& rules, const Context& context)
{
    Simulation out;
    double spread = 0, hours = 0;
    for (const SimulatedPlate& p : plates) {
        spread += p.logSpread * p.hours;
        hours += p.hours;
    }
    spread = hours > 0 ? spread / hours : 0;
    Dice dice(rules.seed);
    for (int n = 0; n < rules.runs && !context.cancelled(); ++n) {
        if (n % 64 == 0)
            context.report(static_cast<double>(n) / rules.runs, "playing the plan through");
        const double factor = std::exp(spread * dice.normal());
        const long finish = OneRun(plates, machines, rules, factor, dice, out).finish();
        out.finish.push_back(finish);
        out.kept += rules.deadline && finish <= *rules.deadline ? 1 : 0;
        ++out.runs;
    }
    std::sort(out.finish.begin(), out.finish.end());
    if (out.runs > 0) {
        out.meanFailures /= out.runs;
        out.meanLostHours /= out.runs;
        out.meanLostGrams /= out.runs;
    }
    return out;
}

} // namespace quoin::core
