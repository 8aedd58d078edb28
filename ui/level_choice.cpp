// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/level_choice.h"

#include <algorithm>
#include <queue>

namespace quoin::ui {

std::vector<std::size_t> chooseLevels(const std::vector<LevelCandidate>& solids, std::size_t mostTriangles)
{
    struct Step {
        double perPixel;
        std::size_t solid;
        bool operator<(const Step& o) const
        {
            return perPixel != o.perPixel ? perPixel < o.perPixel : solid > o.solid; // the first of equals goes first
        }
    };
    std::vector<std::size_t> chosen(solids.size(), 0);
    std::priority_queue<Step> steps;
    std::size_t total = 0;
    const auto count = [&](std::size_t i) { return solids[i].triangles[chosen[i]]; };
    const auto offer = [&](std::size_t i) {
        constexpr double leastSizePx = 1;
        const double size = std::max(solids[i].sizePx, leastSizePx);
        if (chosen[i] + 1 < solids[i].triangles.size())
            steps.push({static_cast<double>(count(i)) / (size * size), i});
    };
    for (std::size_t i = 0; i < solids.size(); ++i) {
        if (solids[i].triangles.empty())
            continue;
        if (!(solids[i].sizePx > 0))
            chosen[i] = solids[i].triangles.size() - 1;
        total += count(i);
        offer(i);
    }
    while (total > mostTriangles && !steps.empty()) {
        const std::size_t i = steps.top().solid;
        steps.pop();
        total -= count(i);
        ++chosen[i];
        total += count(i);
        offer(i);
    }
    return chosen;
}

} // namespace quoin::ui
