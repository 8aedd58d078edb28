// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/schedule.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <climits>
#include <map>
#include <random>

using namespace quoin;
using namespace quoin::core;

namespace {

Moment at(const char* text)
{
    const auto m = momentFromText(text);
    REQUIRE(m);
    return *m;
}

const WorkTime& allTheTime()
{
    static const WorkTime time(WorkCalendar::always(), *momentFromText("2026-11-30"));
    return time;
}

std::vector<Job> jobsOf(const std::vector<double>& hours, std::size_t machines)
{
    std::vector<Job> jobs;
    for (const double h : hours) {
        Job j;
        j.hours = h;
        j.allowed.assign(machines, 1);
        jobs.push_back(j);
    }
    return jobs;
}

std::vector<JobMachine> alike(std::size_t count)
{
    return std::vector<JobMachine>(count, JobMachine{&allTheTime(), 1, 0, 0});
}

/// No two runs on one machine at a time, each job once on a machine that may, none outside the hours.
void checkSound(const Schedule& s, const std::vector<Job>& jobs, const std::vector<JobMachine>& machines)
{
    std::map<std::size_t, int> times;
    std::map<std::size_t, std::vector<WorkTime::Run>> runs;
    for (const JobRun& r : s.runs) {
        ++times[r.job];
        CHECK(jobs[r.job].allowed[r.machine] != 0);
        CHECK(r.run.end - r.run.start == jobMinutes(jobs[r.job], machines[r.machine]));
        CHECK(r.run.start - r.run.change == machines[r.machine].changeMinutes);
        const WorkTime& time = *machines[r.machine].time;
        for (long m = r.run.change; m <= r.run.start; ++m)
            CHECK(time.attended(m));
        CHECK(time.attended(r.run.ready));
        CHECK(time.mayRunMinutes(r.run.start, r.run.end) == r.run.end - r.run.start);
        CHECK(r.run.ready <= s.finish);
        runs[r.machine].push_back(r.run);
    }
    for (auto& [machine, list] : runs)
        for (std::size_t i = 1; i < list.size(); ++i)
            CHECK(list[i].change >= list[i - 1].ready);
    CHECK(times.size() == jobs.size());
}

} // namespace

TEST_CASE("schedule: Graham's tight family, where the longest-first rule is as bad as it gets")
{
    // Graham, "Bounds on multiprocessing timing anomalies", SIAM J. Appl. Math. 17, 1969: jobs 2m-1, 2m-1, ..., m+1,
    // m+1, m, m, m; the rule takes 4m - 1, the best 3m.
    for (int m = 2; m <= 5; ++m) {
        std::vector<double> hours{static_cast<double>(m)};
        for (int p = m; p <= 2 * m - 1; ++p) {
            hours.push_back(p);
            hours.push_back(p);
        }
        const auto machines = alike(static_cast<std::size_t>(m));
        const auto jobs = jobsOf(hours, machines.size());
        const ScheduleAnswer a = schedule(jobs, machines);
        INFO(m);
        CHECK(a.first.finish == (4 * m - 1) * 60);
        CHECK(a.best.finish == 3 * m * 60);
        CHECK(a.optimal);
        CHECK(a.bound.finish <= 3 * m * 60);
        if (m == 3) // max(sum p / m, p_max, p_m + p_(m+1)) is 9 for {5,5,4,4,3,3,3}
            CHECK(a.bound.finish == 9 * 60);
        checkSound(a.best, jobs, machines);
    }
}

TEST_CASE("schedule: machines of different speeds, within the rule's bound, and the best by trying all")
{
    // Gonzalez, Ibarra and Sahni, "Bounds for LPT schedules on uniform processors", SIAM J. Comput. 6, 1977:
    // longest first is at most 2 - 2/(m + 1) of the best. The best by going through every assignment, here.
    std::mt19937_64 random(5);
    for (int n = 0; n < 30; ++n) {
        const std::size_t m = 2 + random() % 2;
        std::vector<JobMachine> machines;
        for (std::size_t k = 0; k < m; ++k)
            machines.push_back({&allTheTime(), 1 + 0.5 * static_cast<double>(random() % 4), 0, 0});
        std::vector<double> hours;
        for (int k = 0; k < 6; ++k)
            hours.push_back(1 + static_cast<double>(random() % 20));
        const auto jobs = jobsOf(hours, m);
        long best = LONG_MAX;
        std::size_t all = 1;
        for (std::size_t k = 0; k < jobs.size(); ++k)
            all *= m;
        for (std::size_t code = 0; code < all; ++code) {
            std::vector<long> load(m, 0);
            std::size_t rest = code;
            for (const Job& j : jobs) {
                load[rest % m] += jobMinutes(j, machines[rest % m]);
                rest /= m;
            }
            best = std::min(best, *std::max_element(load.begin(), load.end()));
        }
        const ScheduleAnswer a = schedule(jobs, machines);
        CHECK(a.best.finish == best);
        CHECK(a.optimal);
        CHECK(a.bound.finish <= best);
        CHECK(static_cast<double>(a.first.finish) <=
              (2 - 2.0 / static_cast<double>(m + 1)) * static_cast<double>(best) + static_cast<double>(jobs.size()));
    }
}

TEST_CASE("schedule: dates on one machine, the earliest first")
{
    // Jackson 1955: p 3, 2, 5 with due dates 6, 4, 12 gives completions 2, 5, 10 and a largest lateness of -1.
    auto jobs = jobsOf({3, 2, 5}, 1);
    jobs[0].due = 6 * 60;
    jobs[1].due = 4 * 60;
    jobs[2].due = 12 * 60;
    const ScheduleAnswer a = schedule(jobs, alike(1));
    CHECK(a.best.order[0] == std::vector<std::size_t>{1, 0, 2});
    CHECK(a.best.lateness == -60);
    CHECK(a.best.finish == 600);
    CHECK(a.optimal);
}

TEST_CASE("schedule: nights, weekends and plate changes against every order gone through")
{
    std::mt19937_64 random(11);
    WorkCalendar shop = WorkCalendar::working(8, 18);
    WorkCalendar careful = shop;
    careful.nights = false;
    const WorkTime day(shop, at("2026-12-03")), none(careful, at("2026-12-03"));
    for (int n = 0; n < 12; ++n) {
        std::vector<JobMachine> machines{{&day, 1, 20, 9 * 60}, {&none, 1.5, 30, 10 * 60}};
        std::vector<double> hours;
        for (int k = 0; k < 5; ++k)
            hours.push_back(1 + static_cast<double>(random() % 90) / 10);
        hours[0] = 13.5; // never on the second: it may not run at night
        auto jobs = jobsOf(hours, 2);
        jobs[2].urgency = 0;
        std::vector<std::size_t> order{0, 1, 2, 3, 4};
        long best = LONG_MAX;
        do
            for (std::size_t cut = 0; cut <= order.size(); ++cut) {
                const std::vector<std::vector<std::size_t>> both{
                    {order.begin(), order.begin() + static_cast<std::ptrdiff_t>(cut)},
                    {order.begin() + static_cast<std::ptrdiff_t>(cut), order.end()}};
                best = std::min(best, timed(jobs, machines, both).finish);
            }
        while (std::next_permutation(order.begin(), order.end()));
        const ScheduleAnswer a = schedule(jobs, machines);
        CHECK(a.best.finish == best);
        CHECK(a.optimal);
        CHECK(a.bound.finish <= best);
        CHECK(a.impossible.empty());
        checkSound(a.best, jobs, machines);
        for (const JobRun& r : a.best.runs)
            if (r.job == 2)
                CHECK(r.run.change == machines[r.machine].freeFrom); // urgent: nothing before it
        // The search alone, without going through all, gets there too, and never below the bound.
        ScheduleRules wait;
        wait.waitForTests = true;
        const ScheduleAnswer later = schedule(jobs, machines, wait);
        long tested = 0;
        for (const JobRun& r : later.best.runs)
            if (r.job == 2)
                tested = r.run.ready;
        for (const JobRun& r : later.best.runs)
            CHECK((r.job == 2 || r.run.change >= tested));
        CHECK(later.best.finish >= best);
    }
}

TEST_CASE("schedule: many plates by local search, against the bound")
{
    std::mt19937_64 random(2);
    const WorkTime day(WorkCalendar::working(8, 18), at("2026-11-30"));
    std::vector<JobMachine> machines{{&day, 1, 20, 8 * 60}, {&day, 1.2, 20, 8 * 60}, {&day, 0.8, 15, 8 * 60}};
    std::vector<double> hours;
    for (int k = 0; k < 40; ++k)
        hours.push_back(1 + static_cast<double>(random() % 200) / 10);
    const auto jobs = jobsOf(hours, 3);
    ScheduleRules rules;
    rules.tries = 4000;
    const ScheduleAnswer a = schedule(jobs, machines, rules);
    CHECK(a.best.finish <= a.first.finish);
    CHECK(a.bound.finish <= a.best.finish);
    CHECK(a.best.finish < a.bound.finish * 3 / 2);
    checkSound(a.best, jobs, machines);
    const ScheduleAnswer again = schedule(jobs, machines, rules);
    CHECK(again.best.order == a.best.order);
}

TEST_CASE("schedule: wishes are met as far as the end stays")
{
    auto jobs = jobsOf({2, 3, 4, 5}, 1);
    jobs[3].rank = -1;
    jobs[1].rank = 2;
    const ScheduleAnswer a = schedule(jobs, alike(1));
    CHECK(a.best.finish == 14 * 60);
    CHECK(a.best.order[0].front() == 3);
    CHECK(a.best.order[0].back() == 1);
}

TEST_CASE("schedule: what can't be printed is said")
{
    WorkCalendar careful = WorkCalendar::working(8, 18);
    careful.nights = careful.weekends = false;
    const WorkTime none(careful, at("2026-11-30"));
    auto jobs = jobsOf({9, 11, 3}, 2);
    jobs[2].allowed = {0, 0};
    const std::vector<JobMachine> machines{{&none, 1, 20, 0}, {&none, 1, 20, 0}};
    const ScheduleAnswer a = schedule(jobs, machines);
    CHECK(a.impossible == std::vector<std::size_t>{1, 2});
    CHECK(a.best.runs.size() == 1);
    CHECK(a.best.finish == 8 * 60 + 20 + 9 * 60);
    CHECK(a.optimal);
    CHECK(schedule(jobsOf({30}, 2), machines).impossible.size() == 1);
}
