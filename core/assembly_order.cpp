// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/assembly.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

namespace quoin::core {

std::vector<AssemblyProblem> gapsIn(const AssemblyPlan& plan, std::size_t pieces)
{
    std::vector<AssemblyProblem> gaps;
    std::set<std::vector<int>> together; // what is finished so far, each in rising order
    std::set<int> single;
    for (int n = 1; n <= static_cast<int>(pieces); ++n)
        single.insert(n);
    // What the plan owns up to not being able to join counts as joined: it is told of already.
    for (const AssemblyProblem& problem : plan.problems) {
        together.insert(problem.pieces);
        for (const int n : problem.pieces)
            single.erase(n);
    }
    for (const int n : single)
        together.insert({n});
    for (const AssemblyStep& step : plan.steps) {
        std::vector<int> both;
        std::ranges::set_union(step.moving, step.onto, std::back_inserter(both));
        // Islands of one leaf come as one, though nothing joins them yet; what is together stays so.
        std::size_t found = 0;
        const auto taken = std::erase_if(together, [&](const std::vector<int>& group) {
            const bool here = std::ranges::includes(step.moving, group) || std::ranges::includes(step.onto, group);
            found += here ? group.size() : 0;
            return here;
        });
        if (taken == 0 || found != step.moving.size() + step.onto.size() || found != both.size()) {
            gaps.push_back({both, fmt::format("a step moves {} onto {}, and these are not what is together by then",
                                              fmt::join(step.moving, "+"), fmt::join(step.onto, "+"))});
            return gaps;
        }
        together.insert(both);
    }
    const auto largest =
        std::ranges::max_element(together, {}, [](const std::vector<int>& group) { return group.size(); });
    std::vector<int> left;
    for (const std::vector<int>& group : together)
        if (group != *largest)
            left.insert(left.end(), group.begin(), group.end());
    if (!left.empty())
        gaps.push_back({left, fmt::format("no step brings {} to the others", fmt::join(left, ", "))});
    return gaps;
}

} // namespace quoin::core
