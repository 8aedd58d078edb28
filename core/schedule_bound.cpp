// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/schedule.h"

#include <fmt/format.h>

#include <algorithm>
#include <climits>
#include <cmath>

namespace quoin::core {

namespace {

constexpr std::size_t mostForSets = 10; ///< machines; their sets are gone through one by one

class Bound {
public:
    Bound(const std::vector<Job>& jobs, const std::vector<JobMachine>& machines) : m_jobs(jobs), m_machines(machines)
    {
        // Work in an order that makes the longest come first.
        for (std::size_t j = 0; j < jobs.size(); ++j)
            m_longest.push_back(j);
        std::stable_sort(m_longest.begin(), m_longest.end(),
                         [&](std::size_t a, std::size_t b) { return jobs[a].hours > jobs[b].hours; });
    }

    ScheduleBound found()
    {
        eachAlone();
        const std::size_t n = m_machines.size();
        if (n <= mostForSets)
            for (unsigned set = 1; set < 1u << n; ++set)
                ofSet([&](std::size_t m) { return (set >> m & 1u) != 0; }, set + 1 == 1u << n);
        else
            ofSet([](std::size_t) { return true; }, true);
        return m_best;
    }

private:
    void raise(long finish, const std::string& words)
    {
        if (finish > m_best.finish)
            m_best = {finish, words};
    }

    WorkTime::Run runOn(std::size_t machine, long free, const Job& job) const
    {
        const JobMachine& m = m_machines[machine];
        return m.time->runFrom(free, m.changeMinutes, jobMinutes(job, m));
    }

    void eachAlone()
    {
        for (const Job& job : m_jobs) {
            long least = LONG_MAX;
            for (std::size_t m = 0; m < m_machines.size(); ++m)
                if (job.allowed[m] != 0)
                    if (const auto run = runOn(m, m_machines[m].freeFrom, job); run.ok())
                        least = std::min(least, run.ready);
            if (least != LONG_MAX)
                raise(least, fmt::format("a single plate of {:.1f} h", job.hours));
        }
    }

    template <class Chosen>
    void ofSet(const Chosen& chosen, bool whole)
    {
        std::vector<std::size_t> set, only;
        for (std::size_t m = 0; m < m_machines.size(); ++m)
            if (chosen(m))
                set.push_back(m);
        for (const std::size_t j : m_longest) {
            bool elsewhere = false;
            for (std::size_t m = 0; m < m_machines.size(); ++m)
                elsewhere = elsewhere || (m_jobs[j].allowed[m] != 0 && !chosen(m));
            if (!elsewhere)
                only.push_back(j);
        }
        if (only.empty())
            return;
        const std::string who =
            whole ? std::string("all machines") : fmt::format("{} machine{}", set.size(), set.size() == 1 ? "" : "s");
        byWork(set, only, who);
        byCount(set, only, who);
    }

    /// Work by the time in which the machines may be hot. A change takes part of it, at least the one that costs least.
    void byWork(const std::vector<std::size_t>& set, const std::vector<std::size_t>& only, const std::string& who)
    {
        double change = 1e300;
        for (const std::size_t m : set)
            change = std::min(change, static_cast<double>(m_machines[m].changeMinutes) * m_machines[m].speedFactor);
        double work = 0;
        for (const std::size_t j : only)
            work += 60 * m_jobs[j].hours + change;
        const auto enough = [&](long until) {
            double done = 0;
            for (const std::size_t m : set)
                done += m_machines[m].speedFactor *
                        static_cast<double>(m_machines[m].time->mayRunMinutes(m_machines[m].freeFrom, until));
            return done >= work - 1e-6;
        };
        long low = 0, high = static_cast<long>(WorkTime::daysAhead) * 24 * 60;
        if (!enough(high))
            return;
        while (low + 1 < high) {
            const long middle = low + (high - low) / 2;
            (enough(middle) ? high : low) = middle;
        }
        // The last one is taken off by somebody.
        long ready = LONG_MAX;
        for (const std::size_t m : set)
            if (const long next = m_machines[m].time->nextAttended(high); next >= 0)
                ready = std::min(ready, next);
        if (ready != LONG_MAX)
            raise(ready, fmt::format("the hours of {} plates by the hours that {} may run", only.size(), who));
    }

    /// k m + 1 plates on m machines: one of them does k + 1.
    void byCount(const std::vector<std::size_t>& set, const std::vector<std::size_t>& only, const std::string& who)
    {
        for (std::size_t k = 1; k * set.size() < only.size(); ++k) {
            const Job& shortest = m_jobs[only[k * set.size()]];
            long least = LONG_MAX;
            for (const std::size_t m : set) {
                long free = m_machines[m].freeFrom;
                bool ok = true;
                for (std::size_t n = 0; n <= k && ok; ++n) {
                    const auto run = runOn(m, free, shortest);
                    ok = run.ok();
                    free = run.ready;
                }
                if (ok && k == 1)
                    free = std::max(free, twoOn(m, m_jobs[only[set.size() - 1]], shortest));
                if (ok)
                    least = std::min(least, free);
            }
            if (least != LONG_MAX)
                raise(least,
                      fmt::format("one of {} prints {} of the {} longest plates", who, k + 1, k * set.size() + 1));
        }
    }

    /// Two jobs one after the other, in the better order; 0 when that can't be.
    long twoOn(std::size_t machine, const Job& a, const Job& b) const
    {
        long least = LONG_MAX;
        for (const auto& [first, second] : {std::pair(&a, &b), std::pair(&b, &a)})
            if (const auto run = runOn(machine, m_machines[machine].freeFrom, *first); run.ok())
                if (const auto next = runOn(machine, run.ready, *second); next.ok())
                    least = std::min(least, next.ready);
        return least == LONG_MAX ? 0 : least;
    }

    const std::vector<Job>& m_jobs;
    const std::vector<JobMachine>& m_machines;
    std::vector<std::size_t> m_longest;
    ScheduleBound m_best{0, "nothing to do"};
};

} // namespace

ScheduleBound scheduleBound(const std::vector<Job>& jobs, const std::vector<JobMachine>& machines)
{
    return Bound(jobs, machines).found();
}

} // namespace quoin::core
