// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/level_outline.h"

#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <vector>

namespace quoin::core {

namespace {

/// A corner of the outline is as good as on the border when the measure there is at most this.
constexpr double closeMm = 0.01;
/// Edges of the outline are halved until their middles are that close too, or they are this short.
constexpr double shortestMm = 0.1;
constexpr int mostHalvings = 8;
constexpr int mostTries = 12;

class Grid {
public:
    Grid(const Measure& measure, mesh::Vec2 low, mesh::Vec2 high, double stepMm, const Context& context)
        : m_measure(measure),
          m_step(stepMm),
          m_low(low - mesh::Vec2{stepMm, stepMm}),
          m_nx(static_cast<int>(std::ceil((high.x - low.x) / stepMm)) + 3),
          m_ny(static_cast<int>(std::ceil((high.y - low.y) / stepMm)) + 3),
          m_value(static_cast<std::size_t>(m_nx) * static_cast<std::size_t>(m_ny)),
          m_context(context)
    {
    }

    std::optional<mesh::Region> outline()
    {
        fill(0, m_nx - 1, 0, m_ny - 1);
        mesh::Region region;
        if (!m_context.cancelled())
            for (const std::vector<std::size_t>& chain : chains())
                region.push_back(loopOf(chain));
        return m_context.cancelled() ? std::nullopt : std::optional(std::move(region));
    }

private:
    std::size_t at(int i, int j) const
    {
        return static_cast<std::size_t>(j) * static_cast<std::size_t>(m_nx) + static_cast<std::size_t>(i);
    }
    mesh::Vec2 place(int i, int j) const { return {m_low.x + i * m_step, m_low.y + j * m_step}; }

    /// Values at the nodes of a rectangle (corners included), or bounds of the right sign where the sign is sure.
    void fill(int i0, int i1, int j0, int j1)
    {
        if (m_context.cancelled())
            return;
        const mesh::Vec2 middle = 0.5 * (place(i0, j0) + place(i1, j1));
        const double radius = mesh::length(place(i1, j1) - middle);
        const double value = m_measure(middle);
        const bool single = i0 == i1 && j0 == j1;
        if (single || std::abs(value) > radius) {
            for (int j = j0; j <= j1; ++j)
                for (int i = i0; i <= i1; ++i)
                    m_value[at(i, j)] = value >= 0 ? value - mesh::length(place(i, j) - middle)
                                                   : value + mesh::length(place(i, j) - middle);
            return;
        }
        const int im = (i0 + i1) / 2, jm = (j0 + j1) / 2;
        fill(i0, im, j0, jm);
        if (im < i1)
            fill(im + 1, i1, j0, jm);
        if (jm < j1)
            fill(i0, im, jm + 1, j1);
        if (im < i1 && jm < j1)
            fill(im + 1, i1, jm + 1, j1);
    }

    /// Edges of the grid are numbered: twice the node that they start from, plus one when they go up.
    static constexpr std::size_t up = 1;

    /// Closed chains of crossed edges, the inside to the left.
    std::vector<std::vector<std::size_t>> chains() const
    {
        std::map<std::size_t, std::size_t> next;
        for (int j = 0; j + 1 < m_ny; ++j)
            for (int i = 0; i + 1 < m_nx; ++i) {
                const std::array<std::size_t, 4> node{at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)};
                const std::array<std::size_t, 4> edge{2 * node[0], 2 * node[1] + up, 2 * node[3], 2 * node[0] + up};
                // Counter-clockwise round the square: from where the inside is left back to where it was entered.
                // Two separate insides in one square stay separate.
                for (std::size_t k = 0; k < 4; ++k)
                    if (inside(node[k]) && !inside(node[(k + 1) % 4])) {
                        std::size_t entry = k;
                        while (inside(node[entry]))
                            entry = (entry + 3) % 4;
                        next[edge[k]] = edge[entry];
                    }
            }
        std::vector<std::vector<std::size_t>> found;
        while (!next.empty()) {
            std::vector<std::size_t>& chain = found.emplace_back();
            for (auto it = next.begin(); it != next.end();) {
                const std::size_t to = it->second;
                chain.push_back(it->first);
                next.erase(it);
                it = next.find(to);
            }
        }
        return found;
    }
    bool inside(std::size_t node) const { return m_value[node] >= 0; }

    /// Where the border crosses an edge: on the inner side, found by false position, the stale end's weight halved
    /// (the Illinois rule: Dowell and Jarratt 1971).
    mesh::Vec2 crossing(std::size_t edge) const
    {
        const std::size_t from = edge / 2, to = from + (edge % 2 == up ? static_cast<std::size_t>(m_nx) : 1);
        const auto placeOf = [&](std::size_t node) {
            const auto n = static_cast<std::size_t>(m_nx);
            return place(static_cast<int>(node % n), static_cast<int>(node / n));
        };
        mesh::Vec2 in = placeOf(from), out = placeOf(to);
        if (!inside(from))
            std::swap(in, out);
        return between(in, m_measure(in), out, m_measure(out));
    }
    mesh::Vec2 between(mesh::Vec2 in, double valueIn, mesh::Vec2 out, double valueOut) const
    {
        double weightIn = valueIn, weightOut = valueOut;
        for (int i = 0; i < mostTries && valueIn > closeMm; ++i) {
            const double share = weightIn / (weightIn - weightOut);
            const mesh::Vec2 p = in + share * (out - in);
            const double value = m_measure(p);
            if (value >= 0) {
                in = p;
                valueIn = weightIn = value;
                weightOut /= 2;
            } else {
                out = p;
                weightOut = value;
                weightIn /= 2;
            }
        }
        return in;
    }

    mesh::Loop loopOf(const std::vector<std::size_t>& chain) const
    {
        mesh::Loop corners, loop;
        for (const std::size_t edge : chain)
            corners.push_back(crossing(edge));
        for (std::size_t i = 0; i < corners.size() && !m_context.cancelled(); ++i) {
            loop.push_back(corners[i]);
            bend(corners[i], corners[(i + 1) % corners.size()], 0, loop);
        }
        return loop;
    }

    /// Adds points between two corners where the border bends away from the edge.
    void bend(mesh::Vec2 a, mesh::Vec2 b, int halvings, mesh::Loop& loop) const
    {
        const mesh::Vec2 edge = b - a;
        const double l = mesh::length(edge);
        if (l < shortestMm || halvings == mostHalvings)
            return;
        const mesh::Vec2 inward{-edge.y / l, edge.x / l};
        mesh::Vec2 p = 0.5 * (a + b);
        double value = m_measure(p);
        if (std::abs(value) <= closeMm)
            return;
        // No farther than half the edge: past that the border has turned, and the halves will find it.
        const double most = l / 2;
        double moved = 0;
        for (int i = 0; i < mostTries && (value < 0 || value > closeMm) && std::abs(moved) <= most; ++i) {
            const double by = -value + (value < 0 ? closeMm / 2 : 0);
            const mesh::Vec2 next = p + by * inward;
            const double there = m_measure(next);
            // Outwards, steps that overshoot are not taken.
            if (value >= 0 && there < 0)
                break;
            p = next;
            value = there;
            moved += by;
        }
        if (value < 0 || std::abs(moved) > most)
            return;
        bend(a, p, halvings + 1, loop);
        loop.push_back(p);
        bend(p, b, halvings + 1, loop);
    }

    const Measure& m_measure;
    double m_step;
    mesh::Vec2 m_low;
    int m_nx, m_ny;
    std::vector<double> m_value;
    const Context& m_context;
};

} // namespace

Result<mesh::Region> levelOutline(const Measure& measure, mesh::Vec2 low, mesh::Vec2 high, double stepMm,
                                  const Context& context)
{
    auto region = Grid(measure, low, high, stepMm, context).outline();
    if (!region)
        return Problem{Reason::Cancelled, "cancelled while looking where a joint may go", {}, {}, {}};
    return std::move(*region);
}

} // namespace quoin::core
