// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/plans.h"

namespace quoin::test {

core::CutPlan planOf(const std::vector<mesh::Plane>& planes)
{
    core::CutPlan plan;
    // Depth first, so that node 0 is the first plane and every subtree repeats the rest.
    const auto grow = [&](const auto& self, std::size_t next) -> int {
        if (next == planes.size())
            return -1;
        const std::size_t node = plan.nodes.size();
        plan.nodes.push_back({planes[next], -1, -1});
        const int below = self(self, next + 1);
        plan.nodes[node].below = below;
        const int above = self(self, next + 1);
        plan.nodes[node].above = above;
        return static_cast<int>(node);
    };
    grow(grow, 0);
    return plan;
}

} // namespace quoin::test
