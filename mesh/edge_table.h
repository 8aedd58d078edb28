// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <limits>
#include <span>
#include <utility>

namespace quoin::mesh {

/// Half-edge h = 3 * triangle + k runs from corner k of its triangle to corner (k + 1) % 3.
inline constexpr Index noHalfEdge = std::numeric_limits<Index>::max();

constexpr Index nextHalfEdge(Index h)
{
    return h % 3 == 2 ? h - 2 : h + 1;
}
constexpr Index previousHalfEdge(Index h)
{
    return h % 3 == 0 ? h + 2 : h - 1;
}
inline Index startOf(const Mesh& mesh, Index h)
{
    return mesh.triangles[h / 3][h % 3];
}
inline Index endOf(const Mesh& mesh, Index h)
{
    return startOf(mesh, nextHalfEdge(h));
}
/// The corner across from the half-edge.
inline Index apexOf(const Mesh& mesh, Index h)
{
    return startOf(mesh, previousHalfEdge(h));
}

/// One use of an undirected edge by a triangle. Good for 7e8 triangles.
struct EdgeUse {
    Index high; ///< the end with the higher index
    Index code; ///< twice the half-edge, plus one when it runs from the high end to the low one

    Index halfEdge() const { return code / 2; }
    Index triangle() const { return code / 6; }
    bool reversed() const { return (code & 1) != 0; }
};

/// All uses of all edges of a mesh, by vertex index: a bucket a lower vertex, sorted by higher vertex, then triangle.
/// Linear time, two arrays. Doesn't keep the mesh.
class EdgeTable {
public:
    explicit EdgeTable(const Mesh& mesh);

    /// Calls visit(low, high, std::span<const EdgeUse>) for each undirected edge, in order of (low, high). An edge
    /// from a vertex to itself (triangle with two equal corners) is visited with low == high.
    template <class Visit>
    void forEachEdge(const Visit& visit) const
    {
        for (std::size_t low = 0; low + 1 < m_begin.size(); ++low)
            for (std::size_t i = m_begin[low], end = m_begin[low + 1]; i < end;) {
                std::size_t j = i + 1;
                while (j < end && m_uses[j].high == m_uses[i].high)
                    ++j;
                visit(static_cast<Index>(low), m_uses[i].high, std::span(m_uses.data() + i, j - i));
                i = j;
            }
    }

    /// The uses of one edge; empty when there is none.
    std::span<const EdgeUse> uses(Index a, Index b) const;

private:
    std::vector<std::size_t> m_begin;
    Buffer<EdgeUse> m_uses;
};

/// For each half-edge the one that runs the same edge the other way, or noHalfEdge where the edge isn't used by
/// exactly two triangles in opposite directions.
Buffer<Index> oppositeHalfEdges(const Mesh& mesh, const EdgeTable& table);

} // namespace quoin::mesh
