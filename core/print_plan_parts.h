// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/print_plan.h"

#include <memory>

/// The steps of planning, for core/print_plan*.cpp only.
namespace quoin::core {

/// What is left to print, and from when each machine is free (minutes after the start).
struct ToPrint {
    PlateJob job;
    std::vector<long> freeFrom;
    std::size_t done = 0, all = 0;
    double printedGrams = 0, printedHours = 0;
    std::vector<Note> notes;
};
Result<ToPrint> stillToPrint(const PlateJob& job, const PlanRequest& request);

/// Calendars laid out, one object for machines of the same hours.
std::vector<std::shared_ptr<const WorkTime>> workTimes(const PlanRequest& request);

/// Plates put on machines and timed: plates (numbered in the order of their start), bars, finish and bound.
/// @param order  of each machine, by index into the set's plates: begun from when it isn't empty, then what was found
PrintPlan scheduledPlan(const ToPrint& toPrint, const PlanRequest& request, const PlateSet& set,
                        std::vector<std::vector<std::size_t>>& order, const Context& context);
/// The schedule that ends first, unless one that ends little later is plainly more likely to keep the date: one that
/// has the long and dear plates early, so that a failure can still be made good.
/// @param order  of each machine, by index into the set's plates
PrintPlan sturdyPlan(const ToPrint& toPrint, const PlanRequest& request, const PlateSet& set,
                     std::vector<std::vector<std::size_t>>& order, const Context& context);
/// Hours, money, energy of each machine; spools; reprints. Needs the bars.
void addUse(PrintPlan& plan);
void addSpools(PrintPlan& plan);
void addReprints(PrintPlan& plan);
/// @param runs  of the simulation
void addChance(PrintPlan& plan, int runs, const Context& context);

/// Each thing that might help, planned for; those that gain nothing are left out.
/// @param order  of the plan
std::vector<PlanHelp> whatHelps(const PrintPlan& plan, const ToPrint& toPrint, const PlateSet& set,
                                const std::vector<std::vector<std::size_t>>& order, const Context& context);

/// "3 d 4 h", "5 h", "20 min".
std::string spanWords(double hours);

} // namespace quoin::core
