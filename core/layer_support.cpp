// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/layer_support.h"

#include "core/parallel.h"
#include "mesh/region.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

using mesh::Region;

constexpr double stepMm = 0.8;
/// A step that reaches this much too far is rounding of the outlines, not an overhang; mm each side.
constexpr double noiseMm = 0.05;
constexpr double arcErrorMm = 0.05;

Problem cancelled()
{
    return {Reason::Cancelled, "cancelled", {}, {}, {}};
}

/// Steps of some layers; each has its lowest layer's section.
struct Steps {
    std::size_t layersEach = 1;
    std::size_t count = 0;

    Steps(std::size_t layers, double layerMm)
        : layersEach(std::max<std::size_t>(1, static_cast<std::size_t>(stepMm / layerMm + 1e-9))),
          count((layers + layersEach - 1) / layersEach)
    {
    }
    std::size_t first(std::size_t step) const { return step * layersEach; }
};

/// What of a section hangs over the one below it, mm2 of its face.
Region overhangOf(const Region& upper, const Region& lower, double reachMm)
{
    const Region carried = mesh::offset(lower, reachMm, arcErrorMm);
    const Region beyond = mesh::difference(upper, carried);
    const Region real = beyond.empty() ? beyond : mesh::offset(beyond, -noiseMm, arcErrorMm);
    if (real.empty())
        return {};
    // The face begins at the wall below, not where the reach ends.
    return mesh::intersection(mesh::offset(real, reachMm + noiseMm, arcErrorMm), mesh::difference(upper, lower));
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
    const double reachMm = static_cast<double>(steps.layersEach) * stack.layerMm * std::tan(recipe.overhang);
    std::vector<Region> overhang(steps.count), blocked(steps.count);
    context.report(progressFrom, "support");
    forEachIndex(steps.count, [&](std::size_t s) {
        if (context.cancelled())
            return;
        if (s > 0)
            overhang[s] = overhangOf(sections[steps.first(s)].outline, sections[steps.first(s - 1)].outline, reachMm);
        blocked[s] = mesh::offset(sections[steps.first(s)].outline, recipe.supportGapMm, arcErrorMm);
    });
    context.report((progressFrom + progressTo) / 2, "support");
    Region columns;
    for (std::size_t s = steps.count - 1; s-- > 0;) {
        if (context.cancelled())
            return cancelled();
        if (!overhang[s + 1].empty())
            columns = columns.empty() ? overhang[s + 1] : mesh::unionOf(columns, overhang[s + 1]);
        if (columns.empty())
            continue;
        columns = mesh::difference(columns, blocked[s]);
        const FilledArea area = filledArea(columns);
        if (area.areaMm2 > 0)
            out.push_back({steps.first(s), std::min(steps.layersEach, sections.size() - steps.first(s)), area});
    }
    if (context.cancelled())
        return cancelled();
    std::reverse(out.begin(), out.end());
    return out;
}

} // namespace quoin::core
