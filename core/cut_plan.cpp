// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_plan.h"

#include "core/tidy_cut.h"

#include <fmt/format.h>

#include <optional>

namespace quoin::core {

namespace {

Status cutBelow(const mesh::Mesh& part, const CutPlan& plan, int node, Path path, std::vector<Leaf>& leaves,
                const Context& context)
{
    if (context.cancelled())
        return Problem{Reason::Cancelled, "cancelled while cutting", {}, {}, {}};
    if (node < 0 || part.empty()) {
        leaves.push_back({std::move(path), part});
        return Done{};
    }
    const CutPlan::Node& cut = plan.nodes[static_cast<std::size_t>(node)];
    auto halves = cutTidily(part, cut.plane, static_cast<mesh::Label>(node) + 1);
    if (!halves) {
        Problem problem = halves.problem();
        problem.what = fmt::format("cut {}: {}", node + 1, problem.what);
        return problem;
    }
    for (const bool above : {false, true}) {
        Path next = path;
        next.push_back({node, above});
        const Status s = cutBelow(above ? halves->above : halves->below, plan, above ? cut.above : cut.below,
                                  std::move(next), leaves, context);
        if (!s)
            return s;
    }
    return Done{};
}

} // namespace

Result<std::vector<Leaf>> cutByPlan(const mesh::Mesh& part, const CutPlan& plan, const Context& context)
{
    std::vector<Leaf> leaves;
    if (const Status s = cutBelow(part, plan, plan.empty() ? -1 : 0, {}, leaves, context); !s)
        return s.problem();
    return leaves;
}

Result<CutPlan> planByCutting(const mesh::Mesh& part, const std::vector<mesh::Plane>& planes, const Context& context)
{
    CutPlan plan;
    std::optional<Problem> failed;
    const auto grow = [&](const auto& self, const mesh::Mesh& body, std::size_t next) -> int {
        if (next == planes.size() || failed)
            return -1;
        if (context.cancelled()) {
            failed = Problem{Reason::Cancelled, "cancelled while cutting", {}, {}, {}};
            return -1;
        }
        auto halves = cutTidily(body, planes[next], 1);
        if (!halves) {
            failed = halves.problem();
            failed->what = fmt::format("plane {}: {}", next + 1, failed->what);
            return -1;
        }
        if (halves->below.empty() || halves->above.empty())
            return self(self, body, next + 1);
        const std::size_t node = plan.nodes.size();
        plan.nodes.push_back({planes[next], -1, -1});
        const int below = self(self, halves->below, next + 1);
        plan.nodes[node].below = below;
        const int above = self(self, halves->above, next + 1);
        plan.nodes[node].above = above;
        return static_cast<int>(node);
    };
    grow(grow, part, 0);
    if (failed)
        return *failed;
    return plan;
}

} // namespace quoin::core
