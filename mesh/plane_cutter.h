// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

// Inside the plane cut (mesh/plane_cut.h): not for use elsewhere.

#include "mesh/crossing_edges.h"
#include "mesh/plane_cut.h"
#include "mesh/plane_side.h"
#include "mesh/triangulate.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <vector>

namespace quoin::mesh::cutting {

// Where a vertex goes, in one word: two bits for its side, the rest its place among the vertices of that side. With
// "on" set in both bits, the AND of three words tells at once which half a triangle belongs to.
constexpr Index belowBit = 1u << 30, aboveBit = 2u << 30, onBits = 3u << 30, placeMask = (1u << 30) - 1;
constexpr std::size_t maxVertices = placeMask;

enum Side { Below = 0, Above = 1, On = 2 };
using SideCount = std::array<Index, 3>;

/// A vertex of the section: made on the crossed edge from `below` to `above`, or an old vertex (both equal).
struct RimVertex {
    Index below, above;
};

struct TriangleChunk {
    std::array<std::size_t, 2> whole{0, 0};     ///< how many whole triangles go to each half; then where they start
    std::vector<Index> crossing;                ///< triangles with corners strictly on both sides
    std::vector<OutlineEdge> onEdges;           ///< edges in the plane of triangles of the lower half, as old vertices
    std::array<std::vector<Index>, 2> touching; ///< whole triangles of each half with a corner in the plane
};

/// The state of one cut. Chunks are cut by size, not by thread, so the outcome doesn't hang on the threads.
class Cutter {
public:
    Cutter(const Mesh& mesh, const Plane& plane, const CutOptions& options);

    Result<CutHalves> run();

    /// Rim outline only: what the section looks like.
    Result<Region> section();

private:
    static Box3 boundsOfPoints(const Mesh& mesh);

    static constexpr std::size_t chunkSize = 1u << 15;
    static std::size_t chunksOf(std::size_t n) { return (n + chunkSize - 1) / chunkSize; }

    void placeVertices();

    /// Each vertex gets its place; points strictly on one side go to their half, in order (with Copy), those in the
    /// plane are noted as rim vertices.
    template <bool Copy>
    void numberVertices();

    /// A triangle in the plane belongs to the half that its outside faces away from.
    bool facesUp(const Triangle& t) const
    {
        const Vec3 a = m_mesh.points[t[0]];
        return dot(cross(m_mesh.points[t[1]] - a, m_mesh.points[t[2]] - a), m_plane.normal) > 0;
    }
    /// 1 below, 2 above, 0 crossing.
    Index halfOf(const Triangle& t, Index all) const
    {
        const Index half = all >> 30;
        return half != 3 ? half : facesUp(t) ? 1 : 2;
    }

    /// Sorts the triangles by half. On one thread they are copied in the same pass, into buffers that could take all
    /// of them (memory that is never touched costs nothing); on several, each chunk must first know where it starts.
    void sortTriangles();

    void sizeTriangles(std::array<std::size_t, 2> sizes, std::size_t extra);

    /// Where the next whole triangle of each half goes; indexed by 1 (below) and 2 (above).
    struct Writer {
        std::array<Triangle*, 3> next{};
        std::array<Label*, 3> label{};
        Writer() = default;
        Writer(Cutter& c, std::array<std::size_t, 2> start)
            : next{nullptr, c.m_out.below.triangles.data() + start[0], c.m_out.above.triangles.data() + start[1]},
              label{nullptr, c.m_out.below.labels.data() + start[0], c.m_out.above.labels.data() + start[1]}
        {
        }
        std::array<std::size_t, 2> written(const Cutter& c) const
        {
            return {static_cast<std::size_t>(next[1] - c.m_out.below.triangles.data()),
                    static_cast<std::size_t>(next[2] - c.m_out.above.triangles.data())};
        }
    };

    /// A whole triangle with a corner in the plane, as it stands in its half.
    Triangle placedTriangle(const Triangle& t, std::size_t half) const
    {
        const auto placed = [&](Index v) {
            return (m_where[v] & placeMask) + (m_where[v] >= onBits ? m_total[half] : 0);
        };
        return {placed(t[0]), placed(t[1]), placed(t[2])};
    }

    /// Calls f with every triangle of a half that has a corner on the rim.
    template <class F>
    void forRimTriangles(std::size_t half, F&& f) const
    {
        const Mesh& out = half == Below ? m_out.below : m_out.above;
        if (m_merged) {
            std::for_each(out.triangles.begin(), out.triangles.end(), f);
            return;
        }
        for (const TriangleChunk& chunk : m_chunks)
            for (const Index i : chunk.touching[half])
                f(placedTriangle(m_mesh.triangles[i], half));
        std::for_each(out.triangles.begin() + static_cast<std::ptrdiff_t>(m_whole[half]), out.triangles.end(), f);
    }

    /// One chunk of triangles, counted and noted (first pass) or written, or both.
    template <bool Write, bool Note = true>
    void scan(std::size_t c, Writer& writer);

    void copyTriangles();

    void noteOnEdges(const Triangle& t, std::vector<OutlineEdge>& edges) const;

    /// The rim vertex of an old vertex in the plane, or of a crossed edge.
    Index rimOf(Index v) const { return m_where[v] & placeMask; }
    Index rimOf(Index u, Index v)
    {
        const bool up = m_where[u] < aboveBit;
        const RimVertex crossing = up ? RimVertex{u, v} : RimVertex{v, u};
        const auto [place, isNew] = m_edges.insert(crossing.below, crossing.above, static_cast<Index>(m_rim.size()));
        if (isNew)
            m_rim.push_back(crossing);
        return place;
    }

    struct Split {
        Triangle corners; ///< rim vertices have the top bit set, old vertices not
        Index source;     ///< triangle it was part of
    };
    static constexpr Index rimFlag = 1u << 31;

    void splitCrossing();
    void splitOne(Index i);
    void addQuad(std::vector<Split>& to, Index n1, Index q, Index r, Index n2, Index source);
    Vec3 rimPoint(std::size_t r) const;

    void sizeHalves();

    void addSplitTriangles();

    Result<OutlineTriangles> triangulatedCap() const;
    void addCap(const OutlineTriangles& cap);
    void mergeRim(const std::vector<OutlineEdge>& pairs);
    void dropLooseRimVertices();
    bool touchesItself(std::size_t half) const;
    Result<CutHalves> untouched();
    Problem placed(Problem problem) const
    {
        if (!m_rimPoints.empty()) {
            const Vec3 p = m_rimPoints.front();
            problem.place = fmt::format("section near ({:.3f}, {:.3f}, {:.3f}) mm", p.x, p.y, p.z);
        }
        return problem;
    }

    const Mesh& m_mesh;
    const Plane m_plane;
    const CutOptions& m_options;
    const bool m_labels;
    const bool m_oneThread;
    const std::size_t m_rimGuess; ///< room kept for rim vertices; more than that costs a copy, no less
    const PlaneSide m_side;

    Buffer<Index> m_where;
    std::vector<SideCount> m_vertexStart;
    SideCount m_total{0, 0, 0};
    std::vector<TriangleChunk> m_chunks;
    std::size_t m_crossings = 0, m_onEdges = 0;
    std::array<std::size_t, 2> m_whole{0, 0};

    CrossingEdges m_edges;
    std::vector<RimVertex> m_rim; ///< old vertices in the plane first, then new ones
    std::vector<Vec3> m_rimPoints;
    std::array<std::vector<Split>, 2> m_split;
    bool m_outlineOnly = false;         ///< nothing is copied: only the section is asked for
    bool m_merged = false;              ///< some rim vertices were made one
    std::vector<OutlineEdge> m_outline; ///< directed, area to the left seen from above; rim vertices
    CutHalves m_out;
};

} // namespace quoin::mesh::cutting
