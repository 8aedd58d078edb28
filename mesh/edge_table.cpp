// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/edge_table.h"

#include <algorithm>

namespace quoin::mesh {

namespace {

bool before(const EdgeUse& a, const EdgeUse& b)
{
    return a.high != b.high ? a.high < b.high : a.code < b.code;
}

} // namespace

EdgeTable::EdgeTable(const Mesh& mesh) : m_begin(mesh.points.size() + 1, 0)
{
    m_uses.resize(3 * mesh.triangles.size());
    for (const Triangle& t : mesh.triangles)
        for (std::size_t k = 0; k < 3; ++k)
            ++m_begin[std::min(t[k], t[(k + 1) % 3]) + 1u];
    for (std::size_t i = 1; i < m_begin.size(); ++i)
        m_begin[i] += m_begin[i - 1];
    // The starts run ahead while the buckets are filled, so that afterwards each is the start of the next.
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i)
        for (std::size_t k = 0; k < 3; ++k) {
            const Index from = mesh.triangles[i][k], to = mesh.triangles[i][(k + 1) % 3];
            const auto code = static_cast<Index>(2 * (3 * i + k) + (from > to ? 1 : 0));
            m_uses[m_begin[std::min(from, to)]++] = {std::max(from, to), code};
        }
    for (std::size_t i = m_begin.size() - 1; i > 0; --i)
        m_begin[i] = m_begin[i - 1];
    m_begin[0] = 0;
    for (std::size_t i = 0; i + 1 < m_begin.size(); ++i)
        std::sort(m_uses.begin() + static_cast<std::ptrdiff_t>(m_begin[i]),
                  m_uses.begin() + static_cast<std::ptrdiff_t>(m_begin[i + 1]), before);
}

std::span<const EdgeUse> EdgeTable::uses(Index a, Index b) const
{
    const Index low = std::min(a, b), high = std::max(a, b);
    const EdgeUse* first = m_uses.data() + m_begin[low];
    const EdgeUse* last = m_uses.data() + m_begin[low + 1u];
    first = std::lower_bound(first, last, high, [](const EdgeUse& use, Index h) { return use.high < h; });
    const EdgeUse* end = first;
    while (end != last && end->high == high)
        ++end;
    return {first, end};
}

Buffer<Index> oppositeHalfEdges(const Mesh& mesh, const EdgeTable& table)
{
    Buffer<Index> opposite;
    opposite.assign(3 * mesh.triangles.size(), noHalfEdge);
    table.forEachEdge([&](Index low, Index high, std::span<const EdgeUse> uses) {
        if (uses.size() != 2 || low == high || uses[0].reversed() == uses[1].reversed())
            return;
        opposite[uses[0].halfEdge()] = uses[1].halfEdge();
        opposite[uses[1].halfEdge()] = uses[0].halfEdge();
    });
    return opposite;
}

} // namespace quoin::mesh
