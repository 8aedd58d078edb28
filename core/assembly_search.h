// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/assembly_ways.h"

#include <numeric>

/// For core/assembly*.cpp only.
namespace quoin::core {

/// Takes the whole apart (core/assembly.h).
class AssemblySearch {
public:
    AssemblySearch(const AssemblyInput& input, const Context& context) : m_ways(input), m_context(context) {}

    AssemblyPlan run();
    AssemblyWays& ways() { return m_ways; }

private:
    /// A sub-assembly that leaves the rest.
    struct Split {
        std::vector<int> leaving, rest;
        std::size_t motion = 0;
    };

    void takeApart(const std::vector<int>& whole);
    std::optional<Split> atCut(const std::vector<int>& whole);
    std::optional<Split> anyWay(const std::vector<int>& whole);
    bool leaves(const std::vector<int>& some, const std::vector<int>& rest, std::size_t motion);
    std::vector<std::size_t> jointsBetween(const std::vector<int>& some, const std::vector<int>& rest) const;
    std::vector<std::size_t> motionsWithin(const std::vector<int>& whole);
    std::vector<int> carriedAlong(int piece, const std::vector<int>& whole, std::size_t motion, std::size_t most);
    void addStep(const Split& split);
    void addProblem(const std::vector<int>& whole);
    const Path& path(int piece) const { return m_ways.input().paths[static_cast<std::size_t>(piece) - 1]; }

    AssemblyWays m_ways;
    const Context& m_context;
    AssemblyPlan m_plan;
};

} // namespace quoin::core
