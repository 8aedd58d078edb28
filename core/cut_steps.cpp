// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_steps.h"

#include "core/tidy_cut.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::core {

namespace {

/// Grows the tree of a part's cuts, step by step.
class Cutting {
public:
    Cutting(const mesh::Mesh& part, const std::vector<CutStep>& steps, const Context& context)
        : m_steps(steps), m_context(context)
    {
        m_leaves.push_back({{}, part});
    }

    Status make(const CutStep& step)
    {
        std::vector<Leaf> next;
        for (Leaf& leaf : m_leaves) {
            if (m_context.cancelled())
                return Problem{Reason::Cancelled, "cancelled while cutting", {}, {}, {}};
            if (!reaches(step, leaf)) {
                next.push_back(std::move(leaf));
                continue;
            }
            const std::size_t node = m_out.plan.nodes.size();
            auto halves = cutTidily(leaf.mesh, step.plane, static_cast<mesh::Label>(node) + 1);
            if (!halves)
                return named(halves.problem(), step);
            if (halves->below.empty() || halves->above.empty()) {
                next.push_back(std::move(leaf));
                continue;
            }
            addNode(step, leaf.path);
            for (const bool above : {false, true}) {
                Path path = leaf.path;
                path.push_back({static_cast<int>(node), above});
                next.push_back({std::move(path), std::move(above ? halves->above : halves->below)});
            }
        }
        m_leaves = std::move(next);
        return Done{};
    }

    CutPart take()
    {
        // Halves stand next to each other, below first, so the list is in depth-first order already.
        m_out.leaves = std::move(m_leaves);
        return std::move(m_out);
    }

private:
    static Problem named(Problem problem, const CutStep& step)
    {
        problem.what = fmt::format("cut {}: {}", step.name.empty() ? std::to_string(step.id) : step.name, problem.what);
        return problem;
    }

    void addNode(const CutStep& step, const Path& path)
    {
        const int node = static_cast<int>(m_out.plan.nodes.size());
        m_out.plan.nodes.push_back({step.plane, -1, -1});
        m_out.cutOfNode.push_back(step.id);
        if (path.empty())
            return;
        CutPlan::Node& parent = m_out.plan.nodes[static_cast<std::size_t>(path.back().node)];
        (path.back().above ? parent.above : parent.below) = node;
    }

    bool reaches(const CutStep& step, const Leaf& leaf) const
    {
        return !leaf.mesh.empty() &&
               std::all_of(step.within.begin(), step.within.end(), [&](const CutSide& s) { return isOn(s, leaf); });
    }

    /// Whether a leaf lies on a side of an earlier cut. A cut that is switched off or gone limits nothing; one that
    /// didn't touch the leaf has it on one side whole, the side of its middle.
    bool isOn(const CutSide& side, const Leaf& leaf) const
    {
        for (const Step& turn : leaf.path)
            if (m_out.cutOfNode[static_cast<std::size_t>(turn.node)] == side.cut)
                return turn.above == side.above;
        const auto cut =
            std::find_if(m_steps.begin(), m_steps.end(), [&](const CutStep& s) { return s.id == side.cut; });
        if (cut == m_steps.end() || !cut->enabled)
            return true;
        return (cut->plane.distance(mesh::bounds(leaf.mesh).centre()) > 0) == side.above;
    }

    const std::vector<CutStep>& m_steps;
    const Context& m_context;
    CutPart m_out;
    std::vector<Leaf> m_leaves;
};

} // namespace

Result<CutPart> cutBySteps(const mesh::Mesh& part, const std::vector<CutStep>& steps, const Context& context)
{
    Cutting cutting(part, steps, context);
    std::size_t done = 0;
    for (const CutStep& step : steps) {
        context.report(static_cast<double>(done++) / static_cast<double>(steps.size()), "cutting");
        if (!step.enabled)
            continue;
        if (const Status s = cutting.make(step); !s)
            return s.problem();
    }
    return cutting.take();
}

std::vector<CutSide> sidesOf(const Path& path, const std::vector<int>& cutOfNode)
{
    std::vector<CutSide> sides;
    for (const Step& turn : path)
        sides.push_back({cutOfNode[static_cast<std::size_t>(turn.node)], turn.above});
    return sides;
}

} // namespace quoin::core
