// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/grid_search.h"

#include "mesh/transform.h"

#include <fmt/format.h>

#include <algorithm>
#include <numbers>
#include <tuple>

namespace quoin::core {

using Clock = std::chrono::steady_clock;
using mesh::Vec3;

namespace {

/// Grids that are really cut, at most, and those of them that are cut again with moved planes.
constexpr std::size_t mostWays = 12;
constexpr std::size_t movedWays = 2;

/// A grid whose estimate is this much above the best result so far is not cut.
constexpr double hopeless = 1.5;

/// When marked places block all grids, the part's axes are also turned about each other by these angles.
constexpr double turnsDegrees[] = {45, 30, 60, 15, 75};

bool better(const CutTree& a, const CutTree& b)
{
    return std::tie(a.pieces, a.withoutRoom, a.areaMm2) < std::tie(b.pieces, b.withoutRoom, b.areaMm2);
}

/// The axes by the number of cells along them, the most first: fewer and larger faces are cut again.
std::array<int, 3> mostFirst(const CellCounts& counts)
{
    std::array<int, 3> order{0, 1, 2};
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
        return counts[static_cast<std::size_t>(a)] > counts[static_cast<std::size_t>(b)];
    });
    return order;
}

std::vector<GridFrame> turnedFrames()
{
    std::vector<GridFrame> frames;
    for (const double degrees : turnsDegrees)
        for (int axis = 0; axis < 3; ++axis) {
            const double a = degrees * std::numbers::pi / 180, c = std::cos(a), s = std::sin(a);
            GridFrame frame{{Vec3{1, 0, 0}, {0, c, s}, {0, -s, c}},
                            fmt::format("turned by {:g} degrees to keep clear of marked places", degrees)};
            for (Vec3& v : frame.axes)
                v = axis == 0 ? v : axis == 1 ? Vec3{v.z, v.x, v.y} : Vec3{v.y, v.z, v.x};
            frames.push_back(frame);
        }
    return frames;
}

} // namespace

GridSearch::GridSearch(mesh::Mesh leaf, std::vector<HalfSpace> within, int leastPieces, const Shared& shared)
    : m_leaf(std::move(leaf)),
      m_within(std::move(within)),
      m_leastPieces(leastPieces),
      m_shared(shared),
      m_shape(m_leaf),
      m_cloud(m_leaf, m_shape.outline(), shared.options.seed)
{
}

std::string GridSearch::words() const
{
    return fmt::format("a grid of {} x {} x {} cells {}", m_bestWay.counts[0], m_bestWay.counts[1], m_bestWay.counts[2],
                       m_bestWay.frame.words);
}

bool GridSearch::done() const
{
    return m_shared.context.cancelled() || Clock::now() > m_shared.deadline;
}

void GridSearch::progress(std::size_t step) const
{
    if (onProgress)
        onProgress(static_cast<double>(step) / static_cast<double>(m_ways.size() + movedWays));
}

/// All grids in some frames, by estimate.
std::vector<GridWay> GridSearch::waysIn(const std::vector<GridFrame>& frames) const
{
    std::vector<GridWay> all;
    for (const GridFrame& frame : frames) {
        const Vec3 extents = boundsIn(frame, m_shape.outline()).extents();
        for (const CellCounts& n : leastCellCounts(extents, m_shared.beds, m_shared.options.fit))
            all.push_back({frame, n, mostFirst(n), false, m_cloud.cellsHeld(frame, n)});
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const GridWay& a, const GridWay& b) { return a.cellsHeld < b.cellsHeld; });
    return all;
}

/// The best along the part's own axes is among the first two, so that the plain grid is always tried.
std::vector<GridWay> GridSearch::ways() const
{
    const std::vector<GridFrame> frames = gridFrames(m_shape, mesh::massProperties(m_leaf));
    std::vector<GridWay> all = waysIn(frames);
    const auto plain =
        std::find_if(all.begin(), all.end(), [&](const GridWay& w) { return w.frame.words == frames.front().words; });
    if (plain != all.end() && plain - all.begin() > 1)
        std::rotate(all.begin() + 1, plain, plain + 1);
    all.resize(std::min(all.size(), mostWays));
    return all;
}

/// @return whether it is better than what was known
bool GridSearch::attempt(const GridWay& way)
{
    GridJob job{m_shared.beds, m_shared.options.fit, m_shared.options.islandsApart, m_shared.context, std::nullopt};
    if (const KeepClear* marked = m_shared.options.keepClear.get(); marked && !marked->empty()) {
        job.keepClear = marked;
        job.within = m_within;
    }
    if (m_best) {
        job.deadline = m_shared.deadline;
        job.mostPieces = m_best->pieces;
    }
    ++m_tried;
    auto tree = cutByGrid(m_leaf, m_cloud, way, job);
    if (!tree) {
        if (!m_problem && tree.problem().reason != Reason::Cancelled)
            m_problem = tree.problem();
        return false;
    }
    if (m_best && !better(*tree, *m_best))
        return false;
    m_best = std::move(*tree);
    m_bestWay = way;
    return true;
}

/// When marked places have blocked every grid: the other orders of the axes, then frames turned further.
void GridSearch::tryHarder()
{
    for (const GridWay& tried : m_ways) {
        GridWay way = tried;
        std::sort(way.order.begin(), way.order.end());
        do {
            if (!m_best && !done() && way.order != tried.order)
                attempt(way);
        } while (std::next_permutation(way.order.begin(), way.order.end()));
    }
    if (m_best || done())
        return;
    std::vector<GridWay> turned = waysIn(turnedFrames());
    turned.resize(std::min(turned.size(), mostWays));
    for (const GridWay& way : turned)
        if (!m_best && !done())
            attempt(way);
}

Status GridSearch::first()
{
    m_ways = ways();
    while (!m_best && m_next < m_ways.size() && !m_shared.context.cancelled()) {
        progress(m_next);
        attempt(m_ways[m_next++]);
    }
    if (!m_best && m_shared.options.keepClear && !m_shared.options.keepClear->empty())
        tryHarder();
    if (m_shared.context.cancelled())
        return Problem{Reason::Cancelled, "cancelled while looking for cuts", {}, {}, {}};
    if (m_best)
        return Done{};
    return m_problem ? *m_problem
                     : Problem{Reason::DoesNotFit,
                               fmt::format("the part would take more than {:g} cells of a grid", mostCells),
                               {},
                               {},
                               "Give a larger bed or a smaller scale."};
}

void GridSearch::improve(const std::function<void()>& onBetter)
{
    const auto enough = [&] { return done() || m_best->pieces <= m_leastPieces; };
    const auto tryOne = [&](const GridWay& way) {
        if (attempt(way) && onBetter)
            onBetter();
    };
    for (; m_next < m_ways.size() && !enough(); ++m_next) {
        progress(m_next);
        if (static_cast<double>(m_ways[m_next].cellsHeld) <= hopeless * m_best->pieces)
            tryOne(m_ways[m_next]);
    }
    progress(m_ways.size());
    GridWay way = m_bestWay;
    std::sort(way.order.begin(), way.order.end());
    do {
        if (way.order != m_bestWay.order && !enough())
            tryOne(way);
    } while (std::next_permutation(way.order.begin(), way.order.end()));
    progress(m_ways.size() + 1);
    way = m_bestWay;
    way.choosePlaces = true;
    if (!done())
        tryOne(way);
}

} // namespace quoin::core
