// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/layer_fill.h"

#include "core/layer_motion.h"
#include "core/parallel.h"
#include "mesh/region.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

using mesh::Region;

/// Of the line width: how true round corners of strips are.
constexpr double arcShare = 0.05;

double outlineMm(const Region& region)
{
    double sum = 0;
    for (const mesh::Loop& loop : region)
        for (std::size_t i = 0; i < loop.size(); ++i)
            sum += mesh::length(loop[(i + 1) % loop.size()] - loop[i]);
    return sum;
}

/// The sections of a run of layers seen through: every layer's own window of sections below and above, intersected.
class Window {
public:
    Window(const std::vector<LayerSection>& sections, const Recipe& recipe)
        : m_sections(sections),
          m_below(static_cast<std::size_t>(recipe.bottomLayers)),
          m_above(static_cast<std::size_t>(recipe.topLayers)),
          m_size(m_below + m_above + 1)
    {
    }
    /// Layers from the first one of a block on share their prefixes and suffixes: a block is what is worked at once.
    std::size_t blockSize() const { return m_size; }

    /// What each layer of a block [first, first + blockSize) lies under and over.
    std::vector<Region> block(std::size_t first) const
    {
        const std::size_t count = m_sections.size();
        // The window of layer i is [i - below, i + above]. For i in the block, split it before `middle`: suffixes run
        // down from there, prefixes up.
        const std::ptrdiff_t middle = static_cast<std::ptrdiff_t>(first) + static_cast<std::ptrdiff_t>(m_above);
        std::vector<Region> down(m_size), up(m_size); // down[k]: middle - k ... middle; up[k]: middle ... middle + k
        std::vector<char> airDown(m_size, 0), airUp(m_size, 0);
        run(middle, -1, down, airDown);
        run(middle, +1, up, airUp);
        std::vector<Region> covered(std::min(m_size, count - first));
        for (std::size_t above = 0; above < covered.size(); ++above) {
            const std::size_t below = m_size - 1 - above; // window: middle - below ... middle + above
            if (airDown[below] != 0 || airUp[above] != 0)
                continue;
            if (above == 0)
                covered[above] = down[below];
            else if (below == 0)
                covered[above] = up[above];
            else
                covered[above] = mesh::intersection(down[below], up[above]);
        }
        return covered;
    }

private:
    /// Intersections from one layer on in one direction; air from the first layer that isn't there.
    void run(std::ptrdiff_t from, int step, std::vector<Region>& out, std::vector<char>& air) const
    {
        const auto count = static_cast<std::ptrdiff_t>(m_sections.size());
        for (std::size_t k = 0; k < m_size; ++k) {
            const std::ptrdiff_t layer = from + step * static_cast<std::ptrdiff_t>(k);
            if (layer < 0 || layer >= count || (k > 0 && air[k - 1] != 0)) {
                air[k] = 1;
                continue;
            }
            const Region& outline = m_sections[static_cast<std::size_t>(layer)].outline;
            out[k] = k == 0 ? outline : mesh::intersection(out[k - 1], outline);
        }
    }

    const std::vector<LayerSection>& m_sections;
    std::size_t m_below, m_above, m_size;
};

/// Walls of a layer: strips one after the other. @return what is left inside them
Region layWalls(const LayerSection& section, double pitch, double layerMm, bool first, const Recipe& r, LayerFill& out)
{
    const auto speed = [&](double mmS) { return r.speedWithin(first ? std::min(mmS, r.firstLayerMmS) : mmS, layerMm); };
    Region rest = section.outline;
    double restMm2 = section.areaMm2;
    for (int wall = 0; wall < r.walls && !rest.empty(); ++wall) {
        const Region inside = mesh::offset(rest, -pitch, arcShare * r.lineWidthMm);
        const double insideMm2 = std::min(restMm2, mesh::area(inside));
        const double lengthMm = (restMm2 - insideMm2) / pitch;
        const Motion motion{speed(wall == 0 ? r.outerWallMmS : r.innerWallMmS), r.accelerationMmS2, r.cornerMmS};
        double around = 0, seconds = 0;
        for (const mesh::Loop& loop : rest) {
            around += outlineMm({loop});
            seconds += loopSeconds(loop, motion);
        }
        // The line runs in the middle of its strip, a little shorter or longer than the strip's edge.
        if (around > 0)
            seconds *= lengthMm / around;
        (wall == 0 ? out.outerWallMm : out.innerWallsMm) += lengthMm;
        (wall == 0 ? out.outerWallSeconds : out.innerWallsSeconds) += seconds;
        rest = inside;
        restMm2 = insideMm2;
    }
    return rest;
}

/// Moves between what isn't joined: along the outer loops, always to the nearest that is left; to holes, skins and
/// infills half the width of what holds them.
void addTravel(const Region& outline, LayerFill& out)
{
    std::vector<mesh::Vec2> places;
    double areaMm2 = 0;
    for (const mesh::Loop& loop : outline)
        if (mesh::signedArea(loop) > 0) {
            places.push_back(loop.front());
            areaMm2 += mesh::signedArea(loop);
        }
    if (places.empty())
        return;
    const std::size_t outer = places.size();
    mesh::Vec2 at = places.back();
    places.pop_back();
    while (!places.empty()) {
        const auto nearest = std::min_element(
            places.begin(), places.end(), [&](mesh::Vec2 a, mesh::Vec2 b) { return length(a - at) < length(b - at); });
        out.travelMm += mesh::length(*nearest - at);
        ++out.hops;
        at = *nearest;
        *nearest = places.back();
        places.pop_back();
    }
    const double within = static_cast<double>(outline.size() - outer) + out.skin.islands + out.infill.islands;
    out.travelMm += within * 0.5 * std::sqrt(areaMm2 / static_cast<double>(outer));
    out.hops += within;
}

LayerFill fillOf(const LayerSection& section, const Region& covered, double layerMm, bool first, const Recipe& r)
{
    LayerFill out;
    const double pitch = r.pitchMm(layerMm);
    out.contours = static_cast<int>(section.outline.size());
    const Region rest = layWalls(section, pitch, layerMm, first, r, out);
    const double restMm2 = std::max(0.0, section.areaMm2 - (out.outerWallMm + out.innerWallsMm) * pitch);
    const double sliverMm2 = 4 * pitch * pitch;
    if (r.infillShare >= 1 || rest.empty()) {
        out.skin = filledArea(rest, sliverMm2); // solid all through: no infill
    } else {
        const Region inner = mesh::intersection(rest, covered);
        out.infill = filledArea(inner, sliverMm2);
        out.skin = filledArea(mesh::difference(rest, inner), sliverMm2);
        out.infill.areaMm2 = std::min(out.infill.areaMm2, restMm2);
    }
    out.skin.areaMm2 = restMm2 - out.infill.areaMm2;
    addTravel(section.outline, out);
    return out;
}

} // namespace

FilledArea filledArea(const Region& region, double leastMm2)
{
    FilledArea out;
    for (const mesh::Loop& loop : region) {
        const double a = mesh::signedArea(loop);
        out.areaMm2 += a;
        out.islands += a > leastMm2 ? 1 : 0;
    }
    out.areaMm2 = std::max(0.0, out.areaMm2);
    out.outlineMm = outlineMm(region);
    return out;
}

Result<std::vector<LayerFill>> fillsOf(const std::vector<LayerSection>& sections, const LayerStack& stack,
                                       const Recipe& recipe, const Context& context, double progressFrom,
                                       double progressTo)
{
    const Window window(sections, recipe);
    std::vector<LayerFill> fills(sections.size());
    const std::size_t blocks = (sections.size() + window.blockSize() - 1) / window.blockSize();
    constexpr std::size_t batch = 8; // blocks between two words of progress
    for (std::size_t from = 0; from < blocks; from += batch) {
        context.report(progressFrom +
                           (progressTo - progressFrom) * static_cast<double>(from) / static_cast<double>(blocks),
                       "walls, skins and infill");
        forEachIndex(std::min(batch, blocks - from), [&](std::size_t b) {
            const std::size_t first = (from + b) * window.blockSize();
            const std::vector<Region> covered = window.block(first);
            for (std::size_t k = 0; k < covered.size() && !context.cancelled(); ++k)
                fills[first + k] =
                    fillOf(sections[first + k], covered[k], stack.thickness(first + k), first + k == 0, recipe);
        });
        if (context.cancelled())
            return Problem{Reason::Cancelled, "cancelled", {}, {}, {}};
    }
    return fills;
}

} // namespace quoin::core
