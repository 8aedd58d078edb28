// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/work_calendar.h"
#include "mesh/context.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

/// Plates over machines, so that the last one is done as early as possible (scheduling unrelated machines, R || Cmax in
/// the notation of Graham, Lawler, Lenstra and Rinnooy Kan 1979, with hours in which somebody is there).
namespace quoin::core {

/// A plate to be printed.
struct Job {
    double hours = 0;          ///< on a machine of speed factor 1
    std::vector<char> allowed; ///< for each machine: whether it can print it
    int urgency = 1;           ///< lower ones go first on every machine, whatever it costs: test fits are 0
    std::optional<long> due;   ///< minute at which it should be ready; among equally urgent ones
    double rank = 0;           ///< wish: lower ones earlier, when the last one is not later for it
};

/// A machine for it. All WorkTimes have the same epoch; minutes count from there.
struct JobMachine {
    const WorkTime* time = nullptr;
    double speedFactor = 1;
    long changeMinutes = 0;
    long freeFrom = 0;
};

/// Whole minutes of a job on a machine, rounded up.
long jobMinutes(const Job& job, const JobMachine& machine);

struct JobRun {
    std::size_t job = 0;
    std::size_t machine = 0;
    WorkTime::Run run;
};

struct Schedule {
    std::vector<std::vector<std::size_t>> order; ///< jobs of each machine
    std::vector<JobRun> runs;                    ///< by machine, in their order
    long finish = 0;                             ///< all taken off; LONG_MAX when something can't be printed
    long lateness = 0;                           ///< the most by which a job is ready after it is due; negative: before
};

struct ScheduleRules {
    bool waitForTests = false; ///< nothing of urgency 1 or more begins before all of urgency 0 are ready
    long tries = 30'000;       ///< of the local search, or nodes of the exact one
    long alikeMinutes = 1;     ///< ends that are apart by less count as the same, so that wishes decide
    std::uint64_t seed = 1;
    std::vector<std::vector<std::size_t>> start; ///< an order to begin from besides the longest-first one; may be empty
};

/// The order given, timed: each machine runs its jobs one after the other, the more urgent first.
Schedule timed(const std::vector<Job>& jobs, const std::vector<JobMachine>& machines,
               std::vector<std::vector<std::size_t>> order, const ScheduleRules& rules = {});

/// The longest first, each where it is ready soonest. On alike machines without hours this is Graham's LPT rule, never
/// worse than 4/3 - 1/(3m) of the best (Graham 1969); on machines of different speeds never worse than 2 - 2/(m + 1)
/// (Gonzalez, Ibarra and Sahni 1977).
Schedule longestFirst(const std::vector<Job>& jobs, const std::vector<JobMachine>& machines,
                      const ScheduleRules& rules = {});

/// A minute before which no schedule can have all jobs ready, whatever the order and the wishes, with what proves it.
struct ScheduleBound {
    long finish = 0;
    std::string words;
};
/// The largest of: each job alone on its best machine; for every set of machines, the work of the jobs that only they
/// can do by the time in which they may be hot (plate changes included); and for every such set of m machines and k,
/// the time for k + 1 jobs as long as the (k m + 1)-th on the quickest of them, since some machine has to do as many.
/// Sets are tried one by one for up to ten machines, only the whole beyond.
ScheduleBound scheduleBound(const std::vector<Job>& jobs, const std::vector<JobMachine>& machines);

struct ScheduleAnswer {
    Schedule best;
    Schedule first; ///< what the longest-first rule gave
    ScheduleBound bound;
    bool optimal = false;                ///< no schedule ends earlier: the bound is reached, or all were gone through
    std::string how;                     ///< how it was found, in words
    std::vector<std::size_t> impossible; ///< jobs that no machine can ever run; not in `best`
};

/// Longest first, then all schedules by branch and bound when there are few jobs, else a local search from there; last,
/// wishes are met as far as the finish stays. Deterministic. When cancelled, what was found so far.
ScheduleAnswer schedule(const std::vector<Job>& jobs, const std::vector<JobMachine>& machines,
                        const ScheduleRules& rules = {}, const Context& context = {});

/// All schedules gone through (their machines' orders; states met before are not entered again): the best, or none when
/// that takes more than `nodes`. Wishes aside, urgency 0 and its wait included.
std::optional<Schedule> scheduleExactly(const std::vector<Job>& jobs, const std::vector<JobMachine>& machines,
                                        const ScheduleRules& rules, const Schedule& start, long lowest, long nodes);

} // namespace quoin::core
