// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/assembly.h"

#include "core/assembly_search.h"
#include "core/assembly_words.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::core {

namespace {

bool isIn(const std::vector<int>& sorted, int piece)
{
    return std::binary_search(sorted.begin(), sorted.end(), piece);
}

std::vector<int> without(const std::vector<int>& whole, const std::vector<int>& some)
{
    std::vector<int> rest;
    std::set_difference(whole.begin(), whole.end(), some.begin(), some.end(), std::back_inserter(rest));
    return rest;
}

} // namespace

const mesh::Plane& AssemblyInput::cutOf(const Joint& joint) const
{
    return plan->nodes[static_cast<std::size_t>((*seams)[joint.seam].cut)].plane;
}

AssemblyInput assemblyInput(const std::vector<Piece>& pieces, const CutPlan& plan, const std::vector<Seam>& seams,
                            const std::vector<Joint>& joints)
{
    AssemblyInput input{{}, {}, &plan, &seams, &joints};
    for (const Piece& piece : pieces) {
        input.meshes.push_back(&piece.mesh);
        input.paths.push_back(piece.path);
    }
    return input;
}

AssemblyPlan AssemblySearch::run()
{
    std::vector<int> whole(m_ways.input().count());
    std::iota(whole.begin(), whole.end(), 1);
    takeApart(whole);
    m_plan.blocking = m_ways.blockings();
    AssemblyWords(m_ways.input()).describe(m_plan.steps);
    return m_plan;
}

void AssemblySearch::takeApart(const std::vector<int>& whole)
{
    // Islands of one cell don't touch: there is nothing to put together.
    if (std::all_of(whole.begin(), whole.end(), [&](int p) { return path(p) == path(whole.front()); }))
        return;
    if (m_context.cancelled()) {
        m_plan.problems.push_back({whole, "cancelled before the order was found"});
        return;
    }
    std::optional<Split> split = atCut(whole);
    if (!split)
        split = anyWay(whole);
    if (!split) {
        addProblem(whole);
        return;
    }
    takeApart(split->rest);
    takeApart(split->leaving);
    addStep(*split);
}

/// The two sides of the cut that first parts them, by a motion that its joints want, else straight along its normal.
std::optional<AssemblySearch::Split> AssemblySearch::atCut(const std::vector<int>& whole)
{
    const auto turnOf = [&](int piece, std::size_t depth) {
        return depth < path(piece).size() ? std::optional(path(piece)[depth]) : std::nullopt;
    };
    std::size_t depth = 0;
    while (std::all_of(whole.begin(), whole.end(),
                       [&](int p) { return turnOf(p, depth) && turnOf(p, depth) == turnOf(whole.front(), depth); }))
        ++depth;
    Split split;
    int node = -1;
    for (const int p : whole) {
        const auto turn = turnOf(p, depth);
        if (!turn || (node >= 0 && turn->node != node))
            return {}; // never cut from the others
        node = turn->node;
        (turn->above ? split.leaving : split.rest).push_back(p);
    }
    std::vector<Motion> wanted;
    for (const std::size_t j : jointsBetween(split.leaving, split.rest)) {
        const Joint& joint = (*m_ways.input().joints)[j];
        if (!goesInLast(joint) && isIn(split.leaving, (*m_ways.input().seams)[joint.seam].pieceAbove))
            wanted.push_back(wayOff(joint, m_ways.input().cutOf(joint)));
    }
    wanted.push_back({Motion::Kind::Straight,
                      {0, 0, 0},
                      m_ways.input().plan->nodes[static_cast<std::size_t>(node)].plane.normal,
                      0,
                      0});
    for (const Motion& motion : wanted) {
        split.motion = m_ways.numberOf(motion);
        if (leaves(split.leaving, split.rest, split.motion))
            return split;
    }
    return {};
}

bool AssemblySearch::leaves(const std::vector<int>& some, const std::vector<int>& rest, std::size_t motion)
{
    return std::all_of(some.begin(), some.end(), [&](int piece) {
        return std::all_of(rest.begin(), rest.end(),
                           [&](int other) { return m_ways.block(piece, other, motion) == nullptr; });
    });
}

std::vector<std::size_t> AssemblySearch::jointsBetween(const std::vector<int>& some, const std::vector<int>& rest) const
{
    std::vector<std::size_t> joints;
    for (const int piece : some)
        for (const int other : rest) {
            const auto& between = m_ways.joints(piece, other);
            joints.insert(joints.end(), between.begin(), between.end());
        }
    std::sort(joints.begin(), joints.end());
    return joints;
}

std::vector<std::size_t> AssemblySearch::motionsWithin(const std::vector<int>& whole)
{
    const AssemblyInput& input = m_ways.input();
    std::vector<std::size_t> motions;
    const auto add = [&](const Motion& motion) {
        const std::size_t number = m_ways.numberOf(motion);
        if (std::find(motions.begin(), motions.end(), number) == motions.end())
            motions.push_back(number);
    };
    const auto within = [&](const Seam& seam) { return isIn(whole, seam.pieceBelow) && isIn(whole, seam.pieceAbove); };
    for (const Joint& joint : *input.joints)
        if (within((*input.seams)[joint.seam]))
            add(wayOff(joint, input.cutOf(joint)));
    for (const Seam& seam : *input.seams)
        if (within(seam))
            add({Motion::Kind::Straight,
                 {0, 0, 0},
                 input.plan->nodes[static_cast<std::size_t>(seam.cut)].plane.normal,
                 0,
                 0});
    return motions;
}

/// The piece with all that has to come along, ascending; empty when that is `most` pieces or more.
std::vector<int> AssemblySearch::carriedAlong(int piece, const std::vector<int>& whole, std::size_t motion,
                                              std::size_t most)
{
    std::vector<int> along{piece}, rest = without(whole, along);
    for (std::size_t i = 0; i < along.size() && along.size() < most; ++i)
        for (std::size_t k = 0; k < rest.size() && along.size() < most;)
            if (m_ways.block(along[i], rest[k], motion) != nullptr) {
                along.push_back(rest[k]);
                rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(k));
            } else
                ++k;
    if (along.size() >= most)
        return {};
    std::sort(along.begin(), along.end());
    return along;
}

/// Over all motions that joints and faces within suggest, the fewest pieces that can leave. A set that leaves along a
/// motion is what stays when the rest leaves the other way: one of the two ways is enough.
std::optional<AssemblySearch::Split> AssemblySearch::anyWay(const std::vector<int>& whole)
{
    std::optional<Split> best;
    std::size_t most = whole.size();
    for (const std::size_t motion : motionsWithin(whole))
        for (const int piece : whole) {
            const std::vector<int> along = carriedAlong(piece, whole, motion, most);
            if (along.empty())
                continue;
            most = along.size();
            best = Split{along, without(whole, along), motion};
            if (most == 1)
                return best;
        }
    return best;
}

void AssemblySearch::addStep(const Split& split)
{
    const auto volumeOf = [&](const std::vector<int>& pieces) {
        double sum = 0;
        for (const int p : pieces)
            sum += m_ways.volume(p);
        return sum;
    };
    const bool asIs = volumeOf(split.leaving) <= volumeOf(split.rest);
    const Motion off = m_ways.motion(split.motion);
    AssemblyStep step;
    step.moving = asIs ? split.leaving : split.rest;
    step.onto = asIs ? split.rest : split.leaving;
    step.motion = asIs ? off.reversed() : off;
    step.joints = jointsBetween(split.leaving, split.rest);
    if (off.kind == Motion::Kind::Straight)
        for (const std::size_t j : step.joints) {
            const Joint& joint = (*m_ways.input().joints)[j];
            if (joint.kind == JointForm::Kind::ClockingKey)
                continue;
            const bool slides = joint.kind == JointForm::Kind::Dovetail;
            step.motion.travelMm = std::max(step.motion.travelMm, slides ? joint.lengthMm : joint.depthMm);
        }
    m_plan.steps.push_back(std::move(step));
}

void AssemblySearch::addProblem(const std::vector<int>& whole)
{
    std::string text = fmt::format("pieces {} hold each other: no way that their joints allow takes any of them from "
                                   "the others",
                                   numberWords(whole));
    std::size_t told = 0;
    constexpr std::size_t mostTold = 4;
    for (const std::size_t motion : motionsWithin(whole))
        for (const int piece : whole)
            for (const int other : whole) {
                if (piece == other || told >= mostTold)
                    continue;
                const AssemblyWays::Block* block = m_ways.block(piece, other, motion);
                if (block != nullptr && block->why == AssemblyWays::Why::Hit) {
                    text += (told++ == 0 ? ". " : "; ") + m_ways.words(piece, other, motion, *block);
                }
            }
    for (const int piece : whole)
        for (const int other : whole)
            if (piece < other && told < mostTold)
                for (const std::size_t j : m_ways.joints(piece, other)) {
                    const Joint& joint = (*m_ways.input().joints)[j];
                    const auto motion = m_ways.numberOf(wayOff(joint, m_ways.input().cutOf(joint)));
                    const bool above = (*m_ways.input().seams)[joint.seam].pieceAbove == piece;
                    const int from = above ? piece : other, to = above ? other : piece;
                    const AssemblyWays::Block* block = m_ways.block(from, to, motion);
                    if (block != nullptr && block->why == AssemblyWays::Why::Joint && told < mostTold)
                        text += (told++ == 0 ? ". " : "; ") + m_ways.words(from, to, motion, *block);
                }
    m_plan.problems.push_back({whole, text + "."});
}

AssemblyPlan planAssembly(const AssemblyInput& input, const Context& context)
{
    return AssemblySearch(input, context).run();
}

StepMeasure measureStep(const AssemblyInput& input, const AssemblyStep& step)
{
    AssemblyWays ways(input);
    const std::size_t off = ways.numberOf(step.motion.reversed());
    StepMeasure least{false, gapSoughtMm};
    for (const int piece : step.moving)
        for (const int other : step.onto) {
            const StepMeasure one = ways.measure(piece, other, off);
            least.swept = least.swept || one.swept;
            least.gapMm = std::min(least.gapMm, one.gapMm);
        }
    return least;
}

} // namespace quoin::core
