// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/schedule.h"

#include <algorithm>
#include <climits>
#include <set>

namespace quoin::core {

namespace {

constexpr long urgencies = 64; ///< kinds of urgency that states tell apart

/// Depth first over "the machine that is free soonest prints this one next, or is done". A machine's own order is all
/// that matters on it, so every schedule is met; what has been met before, machines that are alike aside, is left.
class Exact {
public:
    Exact(const std::vector<Job>& jobs, const std::vector<JobMachine>& machines, const ScheduleRules& rules,
          const Schedule& start, long lowest, long nodes)
        : m_jobs(jobs), m_machines(machines), m_rules(rules), m_best(start), m_lowest(lowest), m_nodes(nodes)
    {
        for (const JobMachine& m : machines)
            m_free.push_back(m.freeFrom);
        m_done.assign(machines.size(), 0);
        m_order.resize(machines.size());
        m_urgency.assign(machines.size(), 0);
    }

    std::optional<Schedule> found()
    {
        enter(0, 0);
        return m_nodes >= 0 ? std::optional(m_best) : std::nullopt;
    }

private:
    using State = std::vector<long>;

    bool alikeMachines(std::size_t a, std::size_t b) const
    {
        const JobMachine &x = m_machines[a], &y = m_machines[b];
        return x.time == y.time && x.speedFactor == y.speedFactor && x.changeMinutes == y.changeMinutes &&
               std::all_of(m_jobs.begin(), m_jobs.end(), [&](const Job& j) { return j.allowed[a] == j.allowed[b]; });
    }

    bool alikeJobs(std::size_t a, std::size_t b) const
    {
        return m_jobs[a].hours == m_jobs[b].hours && m_jobs[a].allowed == m_jobs[b].allowed &&
               m_jobs[a].urgency == m_jobs[b].urgency;
    }

    State stateOf(unsigned made) const
    {
        State state;
        std::vector<char> taken(m_machines.size(), 0);
        for (std::size_t m = 0; m < m_machines.size(); ++m) {
            if (taken[m] != 0)
                continue;
            State group;
            for (std::size_t k = m; k < m_machines.size(); ++k)
                if (taken[k] == 0 && alikeMachines(m, k)) {
                    taken[k] = 1;
                    // What may still come on it is part of the state.
                    group.push_back(m_done[k] != 0 ? LONG_MAX : urgencies * m_free[k] + m_urgency[k]);
                }
            std::sort(group.begin(), group.end());
            state.insert(state.end(), group.begin(), group.end());
        }
        long ended = 0; // on machines that are done
        for (std::size_t m = 0; m < m_machines.size(); ++m)
            if (m_done[m] != 0)
                ended = std::max(ended, m_free[m]);
        state.push_back(ended);
        state.push_back(static_cast<long>(made));
        return state;
    }

    bool hopeless(unsigned made) const
    {
        const long before = m_best.finish - 1;
        double room = 0, work = 0;
        for (std::size_t m = 0; m < m_machines.size(); ++m)
            if (m_done[m] == 0)
                room += m_machines[m].speedFactor *
                        static_cast<double>(m_machines[m].time->mayRunMinutes(m_free[m], before));
        for (std::size_t j = 0; j < m_jobs.size(); ++j) {
            if ((made >> j & 1u) != 0)
                continue;
            work += 60 * m_jobs[j].hours;
            bool somewhere = false;
            for (std::size_t m = 0; m < m_machines.size() && !somewhere; ++m) {
                if (m_done[m] != 0 || m_jobs[j].allowed[m] == 0)
                    continue;
                const auto run = m_machines[m].time->runFrom(m_free[m], m_machines[m].changeMinutes,
                                                             jobMinutes(m_jobs[j], m_machines[m]));
                somewhere = run.ok() && run.ready <= before;
            }
            if (!somewhere)
                return true;
        }
        return work > room + 1e-6;
    }

    void enter(unsigned made, std::size_t count)
    {
        if (--m_nodes < 0 || m_best.finish <= m_lowest)
            return;
        if (count == m_jobs.size()) {
            Schedule s = timed(m_jobs, m_machines, m_order, m_rules);
            if (s.finish < m_best.finish)
                m_best = std::move(s);
            return;
        }
        if (hopeless(made) || !m_met.insert(stateOf(made)).second)
            return;
        std::size_t machine = m_machines.size();
        for (std::size_t m = 0; m < m_machines.size(); ++m)
            if (m_done[m] == 0 && (machine == m_machines.size() || m_free[m] < m_free[machine]))
                machine = m;
        if (machine == m_machines.size())
            return;
        tryJobs(machine, made, count);
        m_done[machine] = 1;
        enter(made, count);
        m_done[machine] = 0;
    }

    void tryJobs(std::size_t machine, unsigned made, std::size_t count)
    {
        std::vector<std::size_t> tried;
        for (std::size_t j = 0; j < m_jobs.size(); ++j) {
            if ((made >> j & 1u) != 0 || m_jobs[j].allowed[machine] == 0 ||
                std::any_of(tried.begin(), tried.end(), [&](std::size_t t) { return alikeJobs(t, j); }))
                continue;
            // The urgent ones of a machine come first on it.
            const auto& list = m_order[machine];
            if (!list.empty() && m_jobs[j].urgency < m_jobs[list.back()].urgency)
                continue;
            tried.push_back(j);
            const JobMachine& m = m_machines[machine];
            const auto run = m.time->runFrom(m_free[machine], m.changeMinutes, jobMinutes(m_jobs[j], m));
            if (!run.ok() || run.ready >= m_best.finish)
                continue;
            const long before = m_free[machine];
            const int urgency = m_urgency[machine];
            m_free[machine] = run.ready;
            m_urgency[machine] = m_jobs[j].urgency;
            m_order[machine].push_back(j);
            enter(made | 1u << j, count + 1);
            m_order[machine].pop_back();
            m_free[machine] = before;
            m_urgency[machine] = urgency;
        }
    }

    const std::vector<Job>& m_jobs;
    const std::vector<JobMachine>& m_machines;
    const ScheduleRules& m_rules;
    Schedule m_best;
    long m_lowest;
    long m_nodes;
    std::vector<long> m_free;
    std::vector<char> m_done;
    std::vector<int> m_urgency; ///< of the last job put on it
    std::vector<std::vector<std::size_t>> m_order;
    std::set<State> m_met;
};

} // namespace

std::optional<Schedule> scheduleExactly(const std::vector<Job>& jobs, const std::vector<JobMachine>& machines,
                                        const ScheduleRules& rules, const Schedule& start, long lowest, long nodes)
{
    // A state is what can still follow only while nothing waits for anything else.
    if (rules.waitForTests || jobs.size() > 20 ||
        std::any_of(jobs.begin(), jobs.end(), [](const Job& j) { return j.urgency < 0 || j.urgency >= urgencies; }))
        return std::nullopt;
    return Exact(jobs, machines, rules, start, lowest, nodes).found();
}

} // namespace quoin::core
