// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/layer_support.h"

#include "core/layer_loops.h"
#include "core/parallel.h"
#include "mesh/region.h"
#include "mesh/region_quick.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

using mesh::Region;

constexpr double stepMm = 0.8;
/// A step that reaches this much too far is rounding of the outlines, not an overhang; mm each side.
constexpr double noiseMm = 0.05;
constexpr double arcErrorMm = 0.05;

/// Support is rough anyway: outlines need be no finer, or columns would gather corners from every step above. Islands
/// smaller than a line or two are left out.
constexpr double roughMm = 0.05;
constexpr double dustMm2 = 0.5;

Region rough(const Region& region)
{
    Region out;
    for (const mesh::Loop& loop : region)
        if (std::fabs(mesh::signedArea(loop)) > dustMm2)
            if (mesh::Loop fewer = simplified(loop, roughMm); fewer.size() >= 3)
                out.push_back(std::move(fewer));
    return out;
}

Problem cancelled()
{
    return {Reason::Cancelled, "cancelled", {}, {}, {}};
}

/// Steps of some layers; each has the section of the layer in its middle, and overhangs as far as its last one does.
struct Steps {
    std::size_t layersEach = 1;
    std::size_t count = 0;

    Steps(std::size_t layers, double layerMm)
        : layersEach(std::max<std::size_t>(1, static_cast<std::size_t>(stepMm / layerMm + 1e-9))),
          count((layers + layersEach - 1) / layersEach)
    {
    }
    std::size_t first(std::size_t step) const { return step * layersEach; }
    std::size_t middle(std::size_t step, std::size_t layers) const
    {
        return std::min(first(step) + layersEach / 2, layers - 1);
    }
    std::size_t last(std::size_t step, std::size_t layers) const
    {
        return std::min(first(step) + layersEach, layers) - 1;
    }
};

/// What of a section hangs over the one below it, mm2 of its face.
Region overhangOf(const Region& upper, const Region& lower, double reachMm)
{
    const Region carried = mesh::offset(lower, reachMm, arcErrorMm);
    const Region beyond = mesh::quickDifference(upper, carried);
    const Region real = beyond.empty() ? beyond : mesh::offset(beyond, -noiseMm, arcErrorMm);
    if (real.empty())
        return {};
    // The face begins at the wall below, not where the reach ends; what of it lies within that wall is taken off with
    // the wall. So faces of steps one over another leave no gap between them.
    return rough(mesh::quickIntersection(mesh::offset(real, reachMm + noiseMm, arcErrorMm), upper));
}

} // namespace

Result<std::vector<SupportFill>> supportOf(const std::vector<LayerSection>& sections, const LayerStack& stack,
                                           const Recipe& recipe, const Context& context, double progressFrom,
                                           double progressTo)
{
    std::vector<SupportFill> out;
    if (!recipe.support || recipe.supportShare <= 0 || sections.size() < 2)
        return out;
    const Steps steps(sections.size(), stack.layerMm);
    const double reachOfLayerMm = stack.layerMm * std::tan(recipe.overhang);
    std::vector<Region> overhang(steps.count), blocked(steps.count);
    const auto outline = [&](std::size_t step) -> const Region& {
        return sections[steps.middle(step, sections.size())].outline;
    };
    context.report(progressFrom, "support");
    forEachIndex(steps.count, [&](std::size_t s) {
        if (context.cancelled())
            return;
        if (s > 0) {
            const std::size_t upper = steps.last(s, sections.size()), lower = steps.middle(s - 1, sections.size());
            overhang[s] = overhangOf(sections[upper].outline, sections[lower].outline,
                                     static_cast<double>(upper - lower) * reachOfLayerMm);
        }
        blocked[s] = rough(mesh::offset(outline(s), recipe.supportGapMm, arcErrorMm));
    });
    context.report((progressFrom + progressTo) / 2, "support");
    // What comes down is carried on without the gap: a column that leaves its wall must not lose what lay beside it.
    Region columns;
    for (std::size_t s = steps.count; s-- > 0;) {
        if (context.cancelled())
            return cancelled();
        if (!columns.empty())
            columns = rough(mesh::quickDifference(columns, outline(s)));
        // What begins in this step is held up from its wall on: it stands beside it, or under it from the next step on.
        if (!overhang[s].empty())
            columns = columns.empty() ? overhang[s] : mesh::quickUnion(columns, overhang[s]);
        if (columns.empty())
            continue;
        const FilledArea area = filledArea(mesh::quickDifference(columns, blocked[s]));
        if (area.areaMm2 > 0)
            out.push_back({steps.first(s), std::min(steps.layersEach, sections.size() - steps.first(s)), area});
    }
    if (context.cancelled())
        return cancelled();
    std::reverse(out.begin(), out.end());
    return out;
}

} // namespace quoin::core
