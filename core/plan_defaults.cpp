// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/plan_defaults.h"

#include "core/same_word.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::core {

namespace {

constexpr double usualCostPerHour = 0.50; ///< common practice, no source

} // namespace

std::vector<Machine> usualMachines(const std::vector<Bed>& beds, double marginMm)
{
    std::vector<Machine> machines;
    const auto taken = [&](const std::string& name) {
        return std::any_of(machines.begin(), machines.end(), [&](const Machine& m) { return sameWord(m.name, name); });
    };
    for (const Bed& bed : beds)
        for (int copy = 0; copy < bed.machines; ++copy) {
            Machine machine;
            const std::string base = bed.name.empty() ? sizeWords(bed) : bed.name;
            machine.name = base;
            for (int n = 2; taken(machine.name); ++n)
                machine.name = fmt::format("{} {}", base, n);
            machine.bed = bed;
            machine.bed.machines = 1;
            machine.marginMm = marginMm;
            machine.costPerHour = usualCostPerHour;
            machines.push_back(std::move(machine));
        }
    return machines;
}

Moment usualStart(const std::vector<Machine>& machines, Moment now)
{
    using std::chrono::hours;
    const Moment full(std::chrono::ceil<hours>(now));
    long best = -1;
    for (const Machine& m : machines) {
        const WorkTime time(m.calendar, full);
        const long at = time.nextAttended(time.minuteOf(full));
        if (at >= 0 && (best < 0 || at < best))
            best = at;
    }
    if (best < 0)
        return full;
    const Moment start = WorkTime(WorkCalendar::always(), full).momentOf(best);
    return Moment(std::chrono::ceil<hours>(start));
}

} // namespace quoin::core
