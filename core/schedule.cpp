// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/schedule.h"

#include <algorithm>
#include <climits>
#include <cmath>
#include <numeric>
#include <random>
#include <tuple>

namespace quoin::core {

namespace {

constexpr std::size_t fewJobs = 12; ///< gone through exactly
constexpr long exactNodes = 400'000;
constexpr double wholeSlack = 1e-9;

using Order = std::vector<std::vector<std::size_t>>;

/// What schedules are compared by: the end, then dates of single jobs, then when the urgent ones are ready, then how
/// even the machines are, then wishes.
using Cost = std::tuple<long, long, long, double, double>;

Cost costOf(const std::vector<Job>& jobs, const Schedule& s, const ScheduleRules& rules)
{
    std::vector<long> ends(s.order.size(), 0);
    double wishes = 0;
    long urgent = 0;
    for (std::size_t i = 0; i < s.runs.size(); ++i) {
        const JobRun& r = s.runs[i];
        ends[r.machine] = std::max(ends[r.machine], r.run.ready);
        urgent += jobs[r.job].urgency == 0 ? r.run.ready : 0;
        // Pairs that begin the other way round than wanted, by how much they are apart.
        for (std::size_t k = 0; k < i; ++k) {
            const double apart = jobs[r.job].rank - jobs[s.runs[k].job].rank;
            const long later = r.run.start - s.runs[k].run.start;
            if ((apart < 0 && later > 0) || (apart > 0 && later < 0))
                wishes += std::abs(apart);
        }
    }
    double uneven = 0;
    for (const long e : ends)
        uneven += static_cast<double>(e) * static_cast<double>(e);
    // Evenness only leads the search; two ends apart by less than an hour in all count as the same.
    const long end = s.finish == LONG_MAX ? LONG_MAX : s.finish / rules.alikeMinutes;
    const double even = std::round(std::sqrt(uneven) / 60);
    const long late = std::max(s.lateness, 0L);
    // Where ends count as alike, wishes are what it is about.
    return rules.alikeMinutes > 1 ? Cost{end, late, urgent, wishes, even} : Cost{end, late, urgent, even, wishes};
}

std::vector<std::size_t> longestOrder(const std::vector<Job>& jobs)
{
    std::vector<std::size_t> order(jobs.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return jobs[a].urgency != jobs[b].urgency ? jobs[a].urgency < jobs[b].urgency : jobs[a].hours > jobs[b].hours;
    });
    return order;
}

/// Where each machine's jobs stand in the order of the wishes: urgency, date, rank.
Order byWishes(const std::vector<Job>& jobs, Order order)
{
    for (auto& list : order)
        std::stable_sort(list.begin(), list.end(), [&](std::size_t a, std::size_t b) {
            const auto key = [&](std::size_t i) {
                return std::tuple(jobs[i].urgency, jobs[i].due.value_or(LONG_MAX), jobs[i].rank);
            };
            return key(a) < key(b);
        });
    return order;
}

class Search {
public:
    Search(const std::vector<Job>& jobs, const std::vector<JobMachine>& machines, const ScheduleRules& rules,
           const Context& context)
        : m_jobs(jobs), m_machines(machines), m_rules(rules), m_context(context), m_random(rules.seed)
    {
    }

    /// Moves and swaps, mostly of jobs of the machine that ends last, whatever isn't worse is kept.
    Schedule from(Schedule start, long lowest)
    {
        m_best = std::move(start);
        m_cost = costOf(m_jobs, m_best, m_rules);
        for (long n = 0; n < m_rules.tries && m_best.finish > lowest && !m_context.cancelled(); ++n) {
            if (n % 512 == 0)
                m_context.report(static_cast<double>(n) / static_cast<double>(m_rules.tries), "scheduling");
            Order order = m_best.order;
            change(order);
            if (m_random() % 4 == 0)
                change(order);
            keepIfBetter(std::move(order));
        }
        return m_best;
    }

    /// Each job at each other place of its machine, and urgent ones on other machines, until nothing gets better.
    Schedule withWishes(Schedule start)
    {
        m_best = std::move(start);
        m_cost = costOf(m_jobs, m_best, m_rules);
        keepIfBetter(byWishes(m_jobs, m_best.order));
        for (Cost before = m_cost; !m_context.cancelled(); before = m_cost) {
            spreadUrgent();
            for (std::size_t m = 0; m < m_best.order.size(); ++m)
                for (std::size_t from = 0; from < m_best.order[m].size(); ++from)
                    for (std::size_t to = 0; to < m_best.order[m].size(); ++to) {
                        Order order = m_best.order;
                        const std::size_t job = order[m][from];
                        order[m].erase(order[m].begin() + static_cast<std::ptrdiff_t>(from));
                        order[m].insert(order[m].begin() + static_cast<std::ptrdiff_t>(to), job);
                        keepIfBetter(std::move(order));
                    }
            if (m_cost == before)
                break;
        }
        return m_best;
    }

private:
    std::size_t any(std::size_t n) { return static_cast<std::size_t>(m_random() % n); }

    std::size_t lastMachine() const
    {
        std::size_t last = 0;
        for (const JobRun& r : m_best.runs)
            if (r.run.ready == m_best.finish)
                last = r.machine;
        return last;
    }

    /// Urgent jobs moved to other machines, or changed with one of them.
    void spreadUrgent()
    {
        for (std::size_t job = 0; job < m_jobs.size(); ++job)
            if (m_jobs[job].urgency == 0)
                for (std::size_t to = 0; to < m_machines.size(); ++to)
                    for (std::size_t with = 0; with <= m_best.order[to].size(); ++with)
                        moveTo(job, to, with);
    }

    void moveTo(std::size_t job, std::size_t to, std::size_t with)
    {
        Order order = m_best.order;
        for (std::size_t from = 0; from < order.size(); ++from) {
            const auto at = std::find(order[from].begin(), order[from].end(), job);
            if (at == order[from].end())
                continue;
            if (from == to || m_jobs[job].allowed[to] == 0)
                return;
            if (with < order[to].size()) {
                if (m_jobs[order[to][with]].allowed[from] == 0)
                    return;
                std::swap(*at, order[to][with]);
            } else {
                order[from].erase(at);
                order[to].insert(order[to].begin(), job);
            }
            keepIfBetter(std::move(order));
            return;
        }
    }

    void change(Order& order)
    {
        const std::size_t machines = order.size();
        std::size_t from = m_random() % 4 != 0 ? lastMachine() : any(machines);
        for (std::size_t k = 0; k < machines && order[from].empty(); ++k)
            from = (from + 1) % machines;
        const std::size_t at = any(order[from].size());
        const std::size_t job = order[from][at];
        const std::size_t to = any(machines);
        if (m_jobs[job].allowed[to] == 0)
            return;
        if (m_random() % 2 == 0 || order[to].empty()) {
            order[from].erase(order[from].begin() + static_cast<std::ptrdiff_t>(at));
            order[to].insert(order[to].begin() + static_cast<std::ptrdiff_t>(any(order[to].size() + 1)), job);
            return;
        }
        std::size_t& other = order[to][any(order[to].size())];
        if (m_jobs[other].allowed[from] != 0)
            std::swap(order[from][at], other);
    }

    void keepIfBetter(Order order)
    {
        Schedule s = timed(m_jobs, m_machines, std::move(order), m_rules);
        const Cost cost = costOf(m_jobs, s, m_rules);
        if (cost > m_cost)
            return;
        m_best = std::move(s);
        m_cost = cost;
    }

    const std::vector<Job>& m_jobs;
    const std::vector<JobMachine>& m_machines;
    ScheduleRules m_rules;
    const Context& m_context;
    std::mt19937_64 m_random;
    Schedule m_best;
    Cost m_cost;
};

} // namespace

long jobMinutes(const Job& job, const JobMachine& machine)
{
    return static_cast<long>(std::ceil(60 * job.hours / machine.speedFactor - wholeSlack));
}

Schedule timed(const std::vector<Job>& jobs, const std::vector<JobMachine>& machines, Order order,
               const ScheduleRules& rules)
{
    Schedule out;
    for (auto& list : order)
        std::stable_sort(list.begin(), list.end(),
                         [&](std::size_t a, std::size_t b) { return jobs[a].urgency < jobs[b].urgency; });
    out.order = std::move(order);
    std::vector<long> free;
    for (const JobMachine& m : machines)
        free.push_back(m.freeFrom);
    std::vector<std::size_t> next(machines.size(), 0);
    out.lateness = LONG_MIN;
    std::vector<std::vector<JobRun>> runs(machines.size());
    const auto runAll = [&](bool testsOnly) {
        for (std::size_t m = 0; m < machines.size(); ++m)
            for (; next[m] < out.order[m].size(); ++next[m]) {
                const std::size_t job = out.order[m][next[m]];
                if (testsOnly && jobs[job].urgency > 0)
                    break;
                const auto run =
                    machines[m].time->runFrom(free[m], machines[m].changeMinutes, jobMinutes(jobs[job], machines[m]));
                if (!run.ok() || jobs[job].allowed[m] == 0) {
                    out.finish = LONG_MAX;
                    continue;
                }
                free[m] = run.ready;
                runs[m].push_back({job, m, run});
                out.finish = std::max(out.finish, run.ready);
                if (jobs[job].due)
                    out.lateness = std::max(out.lateness, run.ready - *jobs[job].due);
            }
    };
    if (rules.waitForTests) {
        runAll(true);
        long tested = 0;
        for (const auto& list : runs)
            for (const JobRun& r : list)
                tested = std::max(tested, r.run.ready);
        for (long& f : free)
            f = std::max(f, tested);
    }
    runAll(false);
    for (auto& list : runs)
        out.runs.insert(out.runs.end(), list.begin(), list.end());
    return out;
}

Schedule longestFirst(const std::vector<Job>& jobs, const std::vector<JobMachine>& machines, const ScheduleRules& rules)
{
    Order order(machines.size());
    std::vector<long> free;
    for (const JobMachine& m : machines)
        free.push_back(m.freeFrom);
    for (const std::size_t job : longestOrder(jobs)) {
        std::size_t best = machines.size();
        long bestReady = LONG_MAX;
        for (std::size_t m = 0; m < machines.size(); ++m) {
            if (jobs[job].allowed[m] == 0)
                continue;
            const auto run =
                machines[m].time->runFrom(free[m], machines[m].changeMinutes, jobMinutes(jobs[job], machines[m]));
            if (run.ok() && run.ready < bestReady) {
                best = m;
                bestReady = run.ready;
            }
        }
        if (best == machines.size())
            continue; // nowhere, ever
        order[best].push_back(job);
        free[best] = bestReady;
    }
    return timed(jobs, machines, std::move(order), rules);
}

ScheduleAnswer schedule(const std::vector<Job>& jobs, const std::vector<JobMachine>& machines,
                        const ScheduleRules& rules, const Context& context)
{
    ScheduleAnswer out;
    out.first = longestFirst(jobs, machines, rules);
    std::vector<char> there(jobs.size(), 0);
    for (const auto& list : out.first.order)
        for (const std::size_t job : list)
            there[job] = 1;
    for (std::size_t j = 0; j < jobs.size(); ++j)
        if (there[j] == 0)
            out.impossible.push_back(j);
    std::vector<Job> possible = jobs;
    for (const std::size_t j : out.impossible)
        possible[j].hours = 0;
    if (out.impossible.size() == jobs.size()) {
        out.best = out.first;
        out.how = "nothing can be printed";
        return out;
    }
    std::vector<Job> bounded;
    for (std::size_t j = 0; j < jobs.size(); ++j)
        if (there[j] != 0)
            bounded.push_back(jobs[j]);
    out.bound = scheduleBound(bounded, machines);
    out.best = out.first;
    out.how = "longest first";
    if (rules.start.size() == machines.size()) {
        Schedule given = timed(jobs, machines, rules.start, rules);
        if (given.runs.size() == out.first.runs.size() && costOf(jobs, given, rules) < costOf(jobs, out.best, rules)) {
            out.best = std::move(given);
            out.how = "the order given";
        }
    }
    Search search(possible, machines, rules, context);
    bool all = false;
    if (out.best.finish > out.bound.finish && jobs.size() <= fewJobs && out.impossible.empty())
        if (auto exact = scheduleExactly(jobs, machines, rules, out.best, out.bound.finish, exactNodes)) {
            out.best = std::move(*exact);
            out.how = "all orders gone through";
            all = true;
        }
    if (out.best.finish > out.bound.finish && !all) {
        out.best = search.from(out.best, out.bound.finish);
        out.how = "local search";
    }
    out.best = search.withWishes(std::move(out.best));
    out.optimal = all || out.best.finish <= out.bound.finish;
    return out;
}

} // namespace quoin::core
