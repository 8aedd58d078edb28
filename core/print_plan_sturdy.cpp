// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/print_plan_parts.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

constexpr double minutesInHour = 60;
constexpr int sturdyRuns = 800;         ///< of the simulation, for each order that is compared
constexpr double sturdyShare = 0.03;    ///< of the time from start to end by which a sturdier order may end later
constexpr double leastSturdier = 0.025; ///< chance; less is within what 800 runs can tell
constexpr double lateHourShare = 0.01;  ///< an hour of the late end against a chance

/// How well a plan stands failures: the chance of its date, else how late nine of ten are ready. More is better.
double sturdiness(const PlanChance& chance)
{
    return chance.kept ? *chance.kept : -hoursBetween(Moment{}, chance.late) * lateHourShare;
}

} // namespace

PrintPlan sturdyPlan(const ToPrint& toPrint, const PlanRequest& request, const PlateSet& set,
                     std::vector<std::vector<std::size_t>>& order, const Context& context)
{
    PrintPlan best = scheduledPlan(toPrint, request, set, order, context);
    if (!request.sturdy || request.simulations == 0 || best.bars.size() < 3)
        return best;
    addChance(best, std::min(request.simulations, sturdyRuns), context);
    const Moment latest =
        best.finish + Minutes(std::lround(hoursBetween(request.start, best.finish) * minutesInHour * sturdyShare));
    for (const long alike : {60L, 240L, 720L}) {
        PlanRequest other = request;
        other.alikeMinutes = alike;
        std::vector<std::vector<std::size_t>> otherOrder;
        PrintPlan plan = scheduledPlan(toPrint, other, set, otherOrder, context);
        if (context.cancelled() || plan.finish > latest || plan.bars.size() != best.bars.size() || !best.chance)
            continue;
        addChance(plan, std::min(request.simulations, sturdyRuns), context);
        if (!plan.chance || sturdiness(*plan.chance) <= sturdiness(*best.chance) + leastSturdier)
            continue;
        plan.how += ", of several orders that end nearly alike the one most likely to stand failures";
        best = std::move(plan);
        order = std::move(otherOrder);
    }
    best.chance.reset();
    return best;
}

} // namespace quoin::core
