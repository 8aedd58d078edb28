// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <numeric>
#include <utility>
#include <vector>

namespace quoin::mesh {

/// Numbers 0 to n - 1 in sets that grow together (Galler and Fischer 1964, paths halved as in Tarjan and van Leeuwen
/// 1984). The lowest number of a set stands for it, whatever the order of joining.
template <class Number>
class DisjointSets {
public:
    explicit DisjointSets(std::size_t n) : m_parent(n) { std::iota(m_parent.begin(), m_parent.end(), Number{0}); }

    std::size_t size() const { return m_parent.size(); }
    /// The number that stands for i's set.
    Number find(Number i)
    {
        while (m_parent[i] != i)
            i = m_parent[i] = m_parent[m_parent[i]];
        return i;
    }
    void join(Number a, Number b)
    {
        a = find(a);
        b = find(b);
        m_parent[std::max(a, b)] = std::min(a, b);
    }

private:
    std::vector<Number> m_parent;
};

} // namespace quoin::mesh
