// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <tbb/parallel_invoke.h>

#include <algorithm>
#include <array>
#include <limits>
#include <span>
#include <utility>

namespace quoin::mesh {

/// A box in single precision, rounded outwards: never smaller than what it stands for.
struct TightBox {
    std::array<float, 3> min, max;

    static TightBox around(const Box3& box);
    void add(const TightBox& o)
    {
        for (std::size_t k = 0; k < 3; ++k) {
            min[k] = std::min(min[k], o.min[k]);
            max[k] = std::max(max[k], o.max[k]);
        }
    }
    bool overlaps(const TightBox& o) const
    {
        return min[0] <= o.max[0] && o.min[0] <= max[0] && min[1] <= o.max[1] && o.min[1] <= max[1] &&
               min[2] <= o.max[2] && o.min[2] <= max[2];
    }
    /// Square of the distance to a point; zero inside.
    double squaredDistance(Vec3 p) const
    {
        double sum = 0;
        for (std::size_t k = 0; k < 3; ++k) {
            const double x = p[static_cast<int>(k)];
            const double d = x < min[k] ? min[k] - x : x > max[k] ? x - max[k] : 0;
            sum += d * d;
        }
        return sum;
    }
};

/// A balanced tree of boxes over numbered items (median splits along the longest axis, leaves of up to four), for use
/// inside mesh/ only: it answers with items whose boxes qualify, the caller tests the items. Built on all cores.
class BoxTree {
public:
    BoxTree() = default;
    /// Item i has boxes[i]; numbers up to 2^32 - 2.
    explicit BoxTree(const std::vector<Box3>& boxes);

    bool empty() const { return m_items.empty(); }

    /// Calls visit(item) for the items of all leaves reached through boxes for which enter(box) holds, in tree order.
    /// visit returns false to stop.
    template <class Enter, class Visit>
    void walk(const Enter& enter, const Visit& visit) const;

    /// Items in rising order of cost(box), a lower bound for what visit(item, best) returns; subtrees whose bound is
    /// not below the best so far are left out. Returns the best, starting from `best`.
    template <class Cost, class Visit>
    double cheapest(double best, const Cost& cost, const Visit& visit) const;

    /// Calls visit(i, j) once for each pair of items whose boxes overlap, from several threads at once. stop() is
    /// asked now and then.
    template <class Visit, class Stop>
    void forEachPair(const Visit& visit, const Stop& stop) const
    {
        if (!empty())
            pairsWithin(0, visit, stop);
    }
    /// The same for pairs of an item of this tree and one of the other.
    template <class Visit, class Stop>
    void forEachPair(const BoxTree& other, const Visit& visit, const Stop& stop) const
    {
        if (!empty() && !other.empty())
            pairsBetween(0, other, 0, visit, stop);
    }

private:
    struct Node {
        TightBox box;
        Index link;  ///< inner: the right child (the left one is next); leaf: first place in m_items
        Index count; ///< items of a leaf; 0 for an inner node
    };
    static constexpr std::size_t leafSize = 4;
    /// Subtrees higher than this (in leaves, as a power of two) are worth a thread.
    static constexpr Index leavesWorthAThread = 512;
    static constexpr std::size_t stackDepth = 64;

    /// What is sorted while building: small, so that many fit in the cache.
    struct Entry {
        std::array<float, 3> centre;
        Index item;
    };
    void build(std::size_t node, std::size_t first, std::size_t count, Buffer<Entry>& entries,
               const std::vector<Box3>& boxes);
    Index leavesUnder(Index node) const
    {
        return m_nodes[node].count != 0 ? 1 : m_nodes[node].link - node; // twice the leaves on the left: close enough
    }
    template <class Visit, class Stop>
    void pairsWithin(Index node, const Visit& visit, const Stop& stop) const;
    template <class Visit, class Stop>
    void pairsBetween(Index a, const BoxTree& other, Index b, const Visit& visit, const Stop& stop) const;

    std::vector<Node> m_nodes;
    std::vector<Index> m_items;
    std::vector<TightBox> m_boxes; ///< of the items, in the order of m_items
};

template <class Enter, class Visit>
void BoxTree::walk(const Enter& enter, const Visit& visit) const
{
    if (empty())
        return;
    std::array<Index, stackDepth> stack;
    std::size_t depth = 0;
    stack[depth++] = 0;
    while (depth > 0) {
        const Index at = stack[--depth];
        const Node& node = m_nodes[at];
        if (!enter(node.box))
            continue;
        if (node.count == 0) {
            stack[depth++] = node.link;
            stack[depth++] = at + 1;
            continue;
        }
        for (Index i = node.link; i < node.link + node.count; ++i)
            if (enter(m_boxes[i]) && !visit(m_items[i]))
                return;
    }
}

template <class Cost, class Visit>
double BoxTree::cheapest(double best, const Cost& cost, const Visit& visit) const
{
    if (empty())
        return best;
    std::array<std::pair<double, Index>, stackDepth> stack;
    std::size_t depth = 0;
    stack[depth++] = {cost(m_nodes[0].box), 0};
    while (depth > 0) {
        const auto [bound, at] = stack[--depth];
        if (!(bound < best))
            continue;
        const Node& node = m_nodes[at];
        if (node.count == 0) {
            std::pair<double, Index> near{cost(m_nodes[at + 1].box), at + 1};
            std::pair<double, Index> far{cost(m_nodes[node.link].box), node.link};
            if (far.first < near.first)
                std::swap(near, far);
            stack[depth++] = far;
            stack[depth++] = near;
            continue;
        }
        for (Index i = node.link; i < node.link + node.count; ++i)
            if (cost(m_boxes[i]) < best)
                best = visit(m_items[i], best);
    }
    return best;
}

template <class Visit, class Stop>
void BoxTree::pairsWithin(Index node, const Visit& visit, const Stop& stop) const
{
    if (stop())
        return;
    const Node& n = m_nodes[node];
    if (n.count != 0) {
        for (Index i = n.link; i < n.link + n.count; ++i)
            for (Index j = i + 1; j < n.link + n.count; ++j)
                if (m_boxes[i].overlaps(m_boxes[j]))
                    visit(m_items[i], m_items[j]);
        return;
    }
    const auto left = [&] { pairsWithin(node + 1, visit, stop); };
    const auto right = [&] { pairsWithin(n.link, visit, stop); };
    const auto across = [&] { pairsBetween(node + 1, *this, n.link, visit, stop); };
    if (leavesUnder(node) >= leavesWorthAThread)
        tbb::parallel_invoke(left, right, across);
    else {
        left();
        right();
        across();
    }
}

template <class Visit, class Stop>
void BoxTree::pairsBetween(Index a, const BoxTree& other, Index b, const Visit& visit, const Stop& stop) const
{
    const Node& na = m_nodes[a];
    const Node& nb = other.m_nodes[b];
    if (!na.box.overlaps(nb.box) || stop())
        return;
    if (na.count != 0 && nb.count != 0) {
        for (Index i = na.link; i < na.link + na.count; ++i)
            for (Index j = nb.link; j < nb.link + nb.count; ++j)
                if (m_boxes[i].overlaps(other.m_boxes[j]))
                    visit(m_items[i], other.m_items[j]);
        return;
    }
    const bool splitA = nb.count != 0 || (na.count == 0 && leavesUnder(a) >= other.leavesUnder(b));
    const auto first = [&] {
        splitA ? pairsBetween(a + 1, other, b, visit, stop) : pairsBetween(a, other, b + 1, visit, stop);
    };
    const auto second = [&] {
        splitA ? pairsBetween(na.link, other, b, visit, stop) : pairsBetween(a, other, nb.link, visit, stop);
    };
    if (leavesUnder(a) + other.leavesUnder(b) >= leavesWorthAThread)
        tbb::parallel_invoke(first, second);
    else {
        first();
        second();
    }
}

} // namespace quoin::mesh
