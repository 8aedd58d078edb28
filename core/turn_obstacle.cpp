// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/assembly.h"
#include "core/assembly_search.h"
#include "core/assembly_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace quoin::core {

namespace {

/// A stud with a thread of the other hand at its second end would draw its pieces together without turning them, but
/// something would have to turn the stud, and once the faces meet nothing reaches it.
constexpr const char* instead =
    "Take a draw bolt with dowels, or a key with a draw bolt: these go together straight. A stud with a right-hand and "
    "a left-hand end is no way out: when the faces meet nothing reaches it to turn it.";

/// Edges of the blocking graph that lead from one piece to another, nearest first.
std::vector<std::pair<int, int>> chain(AssemblyWays& ways, const std::vector<int>& whole, int from, int to,
                                       std::size_t motion)
{
    std::map<int, int> cameFrom{{from, from}};
    std::vector<int> open{from};
    for (std::size_t i = 0; i < open.size() && !cameFrom.contains(to); ++i)
        for (const int other : whole)
            if (!cameFrom.contains(other) && ways.block(open[i], other, motion) != nullptr) {
                cameFrom[other] = open[i];
                open.push_back(other);
            }
    std::vector<std::pair<int, int>> edges;
    for (int at = to; cameFrom.contains(at) && at != from; at = cameFrom[at])
        edges.insert(edges.begin(), {cameFrom[at], at});
    return edges;
}

} // namespace

std::optional<std::string> turnObstacle(const AssemblyInput& input, const Joint& turning)
{
    std::vector<Joint> joints = *input.joints;
    joints.push_back(turning);
    AssemblyInput with = input;
    with.joints = &joints;
    const Context context;
    AssemblySearch search(with, context);
    const AssemblyPlan plan = search.run();
    const Seam& seam = (*input.seams)[turning.seam];
    const auto holds = [&](const AssemblyProblem& problem) {
        return std::binary_search(problem.pieces.begin(), problem.pieces.end(), seam.pieceBelow) &&
               std::binary_search(problem.pieces.begin(), problem.pieces.end(), seam.pieceAbove);
    };
    const auto stuck = std::find_if(plan.problems.begin(), plan.problems.end(), holds);
    if (stuck == plan.problems.end())
        return {};
    AssemblyWays& ways = search.ways();
    const std::size_t motion = ways.numberOf(wayOff(turning, input.cutOf(turning)));
    const auto edges = chain(ways, stuck->pieces, seam.pieceAbove, seam.pieceBelow, motion);
    const std::string start =
        fmt::format("A {} on seam {} can't be turned in any order of assembly: ", kindName(turning.kind), seam.mark);
    if (edges.empty())
        return start + stuck->text + " " + instead;
    std::string reason;
    for (const auto& [piece, other] : edges) {
        reason += (reason.empty() ? "" : ", and taking it along, ") +
                  ways.words(piece, other, motion, *ways.block(piece, other, motion));
    }
    return start + reason + ". " + instead;
}

} // namespace quoin::core
