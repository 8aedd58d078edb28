// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/layer_sections.h"

#include "core/layer_loops.h"
#include "core/parallel.h"
#include "mesh/edge_table.h"
#include "mesh/region.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

using mesh::Index;
using mesh::Loop;
using mesh::Vec2;
using mesh::Vec3;

constexpr std::size_t chunkLayers = 24;
constexpr Index none = mesh::noHalfEdge;
/// Outlines of less than this are dust (mm2).
constexpr double dustMm2 = 1e-4;
/// By how much the area of all loops together may differ from that of their union before bodies lie in one another.
constexpr double overlapShare = 2e-3, overlapMm2 = 0.5;

/// Which layers each triangle meets, sorted for the sweep.
struct Sweep {
    const mesh::Mesh* mesh = nullptr;
    const LayerStack* stack = nullptr;
    std::vector<Index> levels;         ///< a point's: how many layers have their middle at or below it
    mesh::Buffer<Index> opposite;      ///< half-edges
    std::vector<std::size_t> chunkEnd; ///< of each chunk in `triangles`
    std::vector<Index> triangles;      ///< chunk by chunk

    Index low(Index t) const
    {
        const auto& c = mesh->triangles[t];
        return std::min({levels[c[0]], levels[c[1]], levels[c[2]]});
    }
    Index high(Index t) const
    {
        const auto& c = mesh->triangles[t];
        return std::max({levels[c[0]], levels[c[1]], levels[c[2]]});
    }
};

Index levelOf(const LayerStack& stack, double z)
{
    // Counted, then set right: the division may be a step off.
    const auto count = static_cast<double>(stack.count);
    double guess = std::floor((z - stack.middle(0)) / stack.layerMm) + 1;
    guess = std::clamp(guess, 0.0, count);
    auto level = static_cast<std::size_t>(guess);
    while (level < stack.count && stack.middle(level) <= z)
        ++level;
    while (level > 0 && stack.middle(level - 1) > z)
        --level;
    return static_cast<Index>(level);
}

Sweep sweepOf(const mesh::Mesh& mesh, const LayerStack& stack)
{
    Sweep s{&mesh, &stack, {}, mesh::oppositeHalfEdges(mesh, mesh::EdgeTable(mesh)), {}, {}};
    s.levels.resize(mesh.points.size());
    for (std::size_t i = 0; i < mesh.points.size(); ++i)
        s.levels[i] = levelOf(stack, mesh.points[i].z);
    const std::size_t chunks = (stack.count + chunkLayers - 1) / chunkLayers;
    std::vector<std::size_t> begin(chunks + 1, 0);
    const auto forEachChunk = [&](Index t, const auto& take) {
        const Index low = s.low(t), high = s.high(t);
        if (low < high)
            for (std::size_t c = low / chunkLayers; c <= (high - 1) / chunkLayers; ++c)
                take(c);
    };
    const auto count = static_cast<Index>(mesh.triangles.size());
    for (Index t = 0; t < count; ++t)
        forEachChunk(t, [&](std::size_t c) { ++begin[c + 1]; });
    for (std::size_t c = 0; c < chunks; ++c)
        begin[c + 1] += begin[c];
    s.triangles.resize(begin[chunks]);
    for (Index t = 0; t < count; ++t)
        forEachChunk(t, [&](std::size_t c) { s.triangles[begin[c]++] = t; });
    s.chunkEnd.assign(begin.begin(), begin.end() - 1);
    return s;
}

/// Where a plane meets an edge: the same point from either of its triangles.
Vec2 crossing(const mesh::Mesh& mesh, Index from, Index to, double z)
{
    const Vec3 a = mesh.points[std::min(from, to)], b = mesh.points[std::max(from, to)];
    const double t = a.z == b.z ? 0 : std::clamp((z - a.z) / (b.z - a.z), 0.0, 1.0);
    return {a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}

/// One layer's outline, followed from triangle to triangle.
class Tracer {
public:
    explicit Tracer(const Sweep& sweep) : m_sweep(sweep), m_place(sweep.mesh->triangles.size(), none) {}

    /// @param triangles  those that the layer's plane crosses
    MendedLoops trace(std::size_t layer, const std::vector<Index>& triangles)
    {
        begin(layer, triangles);
        std::vector<Loop> open;
        MendedLoops out;
        for (std::size_t i = 0; i < m_segments.size(); ++i)
            if (!m_segments[i].follows)
                open.push_back(walk(i, true));
        for (std::size_t i = 0; i < m_segments.size(); ++i)
            if (!m_segments[i].done)
                out.loops.push_back(walk(i, false));
        for (const Index t : triangles)
            m_place[t] = none;
        if (!open.empty()) {
            MendedLoops closed = closedChains(std::move(open));
            out.mended = closed.mended;
            std::move(closed.loops.begin(), closed.loops.end(), std::back_inserter(out.loops));
        }
        return out;
    }

private:
    struct Segment {
        Index down, up; ///< half-edges: where it begins and ends, the solid on its left
        Index next;     ///< segment, or none
        bool follows = false, done = false;
    };

    void begin(std::size_t layer, const std::vector<Index>& triangles)
    {
        m_z = m_sweep.stack->middle(layer);
        m_segments.clear();
        for (const Index t : triangles) {
            m_place[t] = static_cast<Index>(m_segments.size());
            Segment s{none, none, none};
            for (Index k = 0; k < 3; ++k) {
                const Index h = 3 * t + k;
                const bool from = m_sweep.levels[startOf(*m_sweep.mesh, h)] > layer;
                const bool to = m_sweep.levels[endOf(*m_sweep.mesh, h)] > layer;
                if (from && !to)
                    s.down = h;
                if (!from && to)
                    s.up = h;
            }
            m_segments.push_back(s);
        }
        for (Segment& s : m_segments)
            if (const Index across = m_sweep.opposite[s.up]; across != none) {
                s.next = m_place[across / 3];
                m_segments[s.next].follows = true;
            }
    }

    Loop walk(std::size_t first, bool open)
    {
        Loop loop;
        auto i = static_cast<Index>(first);
        while (i != none && !m_segments[i].done) {
            Segment& s = m_segments[i];
            s.done = true;
            loop.push_back(point(s.down));
            if (open && s.next == none)
                loop.push_back(point(s.up));
            i = s.next;
        }
        return loop;
    }

    Vec2 point(Index h) const
    {
        return crossing(*m_sweep.mesh, startOf(*m_sweep.mesh, h), endOf(*m_sweep.mesh, h), m_z);
    }

    const Sweep& m_sweep;
    std::vector<Index> m_place; ///< of each triangle's segment in this layer
    std::vector<Segment> m_segments;
    double m_z = 0;
};

LayerSection sectionOf(const MendedLoops& outline, double toleranceMm)
{
    LayerSection out;
    out.mended = outline.mended;
    mesh::Region loops;
    double sum = 0, simple = 0;
    for (const Loop& loop : outline.loops) {
        sum += mesh::signedArea(loop);
        Loop fewer = simplified(loop, toleranceMm);
        if (fewer.size() < 3 || std::fabs(mesh::signedArea(fewer)) < dustMm2)
            continue;
        simple += mesh::signedArea(fewer);
        loops.push_back(std::move(fewer));
    }
    out.outline = mesh::unionOf(loops, {});
    const double together = mesh::area(out.outline);
    out.overlapping = std::fabs(together - simple) > overlapMm2 + overlapShare * together;
    out.areaMm2 = out.overlapping ? together : std::max(0.0, sum);
    return out;
}

void sectionChunk(const Sweep& sweep, std::size_t chunk, double toleranceMm, std::vector<LayerSection>& out,
                  const Context& context)
{
    const std::size_t first = chunk * chunkLayers, last = std::min(first + chunkLayers, sweep.stack->count);
    std::vector<std::vector<Index>> layers(last - first);
    for (std::size_t i = chunk == 0 ? 0 : sweep.chunkEnd[chunk - 1]; i < sweep.chunkEnd[chunk]; ++i) {
        const Index t = sweep.triangles[i];
        const std::size_t to = std::min<std::size_t>(sweep.high(t), last);
        for (std::size_t layer = std::max<std::size_t>(sweep.low(t), first); layer < to; ++layer)
            layers[layer - first].push_back(t);
    }
    Tracer tracer(sweep);
    for (std::size_t layer = first; layer < last && !context.cancelled(); ++layer)
        out[layer] = sectionOf(tracer.trace(layer, layers[layer - first]), toleranceMm);
}

} // namespace

LayerStack stackOf(double lowMm, double highMm, double firstMm, double layerMm)
{
    LayerStack stack{lowMm, firstMm, layerMm, 0};
    const double height = highMm - lowMm;
    if (height > firstMm / 2)
        stack.count = 1 + static_cast<std::size_t>(std::max(0.0, std::ceil((height - firstMm) / layerMm - 0.5)));
    return stack;
}

Result<std::vector<LayerSection>> sectionsOf(const mesh::Mesh& mesh, const LayerStack& stack, double toleranceMm,
                                             const Context& context, double progressFrom, double progressTo)
{
    const Sweep sweep = sweepOf(mesh, stack);
    std::vector<LayerSection> out(stack.count);
    const std::size_t chunks = sweep.chunkEnd.size();
    constexpr std::size_t batch = 8; // chunks between two words of progress
    for (std::size_t from = 0; from < chunks; from += batch) {
        if (context.cancelled())
            return Problem{Reason::Cancelled, "cancelled", {}, {}, {}};
        context.report(progressFrom +
                           (progressTo - progressFrom) * static_cast<double>(from) / static_cast<double>(chunks),
                       "sections of the layers");
        forEachIndex(std::min(batch, chunks - from),
                     [&](std::size_t i) { sectionChunk(sweep, from + i, toleranceMm, out, context); });
    }
    if (context.cancelled())
        return Problem{Reason::Cancelled, "cancelled", {}, {}, {}};
    return out;
}

} // namespace quoin::core
