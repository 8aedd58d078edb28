// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/plane_cut.h"

#include "mesh/crossing_edges.h"
#include "mesh/manifold_split.h"
#include "mesh/plane_side.h"
#include "mesh/triangulate.h"

#include <fmt/format.h>
#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>
#include <tbb/task_group.h>

#include <algorithm>
#include <numeric>
#include <unordered_map>

namespace quoin::mesh {

namespace {

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
    std::array<std::size_t, 2> whole{0, 0}; ///< how many whole triangles go to each half; then where they start
    std::vector<Index> crossing;            ///< triangles with corners strictly on both sides
    std::vector<OutlineEdge> onEdges;       ///< edges in the plane of triangles of the lower half, as old vertices
    std::array<std::vector<Index>, 2> touching; ///< whole triangles of each half with a corner in the plane
};

/// The state of one cut. Chunks are cut by size, not by thread, so the outcome doesn't hang on the threads.
class Cutter {
public:
    Cutter(const Mesh& mesh, const Plane& plane, const CutOptions& options)
        : m_mesh(mesh),
          m_plane(plane),
          m_options(options),
          m_labels(options.withLabels || !mesh.labels.empty()),
          m_oneThread(tbb::this_task_arena::max_concurrency() == 1),
          m_rimGuess(mesh.points.size() / 8 + 1024),
          m_side(plane, boundsOfPoints(mesh))
    {
    }

    Result<CutHalves> run()
    {
        placeVertices();
        sortTriangles();
        if (m_crossings == 0 && m_onEdges == 0 && (m_total[Below] == 0 || m_total[Above] == 0))
            return untouched();
        splitCrossing();
        sizeHalves();
        Result<OutlineTriangles> cap = OutlineTriangles{};
        tbb::task_group tasks;
        tasks.run([&] { cap = triangulatedCap(); });
        if (!m_oneThread)
            copyTriangles();
        tasks.wait();
        if (!cap)
            return placed(cap.problem());
        addSplitTriangles();
        addCap(*cap);
        const bool below = touchesItself(Below), above = touchesItself(Above); // before any are renumbered
        dropLooseRimVertices();
        if (below)
            splitTouchingEdges(m_out.below);
        if (above)
            splitTouchingEdges(m_out.above);
        return std::move(m_out);
    }

    /// Rim outline only: what the section looks like.
    Result<Region> section();

private:
    static Box3 boundsOfPoints(const Mesh& mesh)
    {
        // Over-wide bounds only widen the filter, so all points may take part. Branch-free, so it vectorises.
        Box3 box;
        for (const Vec3& p : mesh.points) {
            box.min = {std::min(box.min.x, p.x), std::min(box.min.y, p.y), std::min(box.min.z, p.z)};
            box.max = {std::max(box.max.x, p.x), std::max(box.max.y, p.y), std::max(box.max.z, p.z)};
        }
        return box;
    }

    template <class F>
    static void forChunks(std::size_t count, F&& f)
    {
        tbb::parallel_for(std::size_t{0}, count, [&](std::size_t i) { f(i); });
    }
    static constexpr std::size_t chunkSize = 1u << 15;
    static std::size_t chunksOf(std::size_t n) { return (n + chunkSize - 1) / chunkSize; }

    void placeVertices()
    {
        const std::size_t n = m_mesh.points.size();
        m_where.resize(n);
        m_vertexStart.assign(chunksOf(n), {0, 0, 0});
        forChunks(chunksOf(n), [&](std::size_t c) {
            SideCount counts{0, 0, 0};
            const double doubt = m_side.doubt();
            const std::size_t end = std::min(n, (c + 1) * chunkSize);
            for (std::size_t v = c * chunkSize; v < end; ++v) {
                const double h = m_side.roughHeight(m_mesh.points[v]);
                std::size_t side = h > 0 ? Above : Below;
                if (std::abs(h) <= doubt) [[unlikely]] {
                    const int sign = m_side.sign(m_mesh.points[v]);
                    side = sign > 0 ? Above : sign < 0 ? Below : On;
                }
                // The place within the chunk; the chunk's start is added when points are copied.
                m_where[v] = (static_cast<Index>(side + 1) << 30) | counts[side]++;
            }
            m_vertexStart[c] = counts;
        });
        m_total = {0, 0, 0};
        for (SideCount& start : m_vertexStart)
            for (std::size_t s = 0; s < 3; ++s)
                start[s] = std::exchange(m_total[s], m_total[s] + start[s]);
        copyPoints();
    }

    /// Points strictly on one side go to their half, in order; those in the plane are noted as rim vertices.
    void copyPoints()
    {
        const std::size_t n = m_mesh.points.size();
        m_rim.resize(m_total[On]);
        const std::array<Mesh*, 2> half{&m_out.below, &m_out.above};
        std::array<Vec3*, 2> to{};
        for (std::size_t s = 0; s < 2; ++s) {
            half[s]->points.reserve(m_total[s] + m_total[On] + m_rimGuess);
            half[s]->points.resize(m_total[s]);
            to[s] = half[s]->points.data();
        }
        forChunks(chunksOf(n), [&](std::size_t c) {
            const SideCount start = m_vertexStart[c];
            std::array<Vec3*, 2> next{to[0] + start[0], to[1] + start[1]};
            const std::size_t end = std::min(n, (c + 1) * chunkSize);
            for (std::size_t v = c * chunkSize; v < end; ++v) {
                const Index side = (m_where[v] >> 30) - 1;
                m_where[v] += start[side];
                if (side != On) [[likely]]
                    *next[side]++ = m_mesh.points[v];
                else
                    m_rim[m_where[v] & placeMask] = {static_cast<Index>(v), static_cast<Index>(v)};
            }
        });
    }

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
    void sortTriangles()
    {
        const std::size_t n = m_mesh.triangles.size();
        m_chunks.resize(chunksOf(n));
        if (m_oneThread) {
            sizeTriangles({n, n}, m_rimGuess);
            Writer writer(*this, {0, 0});
            for (std::size_t c = 0; c < m_chunks.size(); ++c)
                scan<true>(c, writer);
            m_whole = writer.written(*this);
            sizeTriangles(m_whole, 0);
        } else {
            forChunks(m_chunks.size(), [&](std::size_t c) {
                Writer none;
                scan<false>(c, none);
            });
            for (TriangleChunk& chunk : m_chunks)
                for (std::size_t s = 0; s < 2; ++s)
                    chunk.whole[s] = std::exchange(m_whole[s], m_whole[s] + chunk.whole[s]);
        }
        for (const TriangleChunk& chunk : m_chunks) {
            m_crossings += chunk.crossing.size();
            m_onEdges += chunk.onEdges.size();
        }
    }

    void sizeTriangles(std::array<std::size_t, 2> sizes, std::size_t extra)
    {
        const std::array<Mesh*, 2> half{&m_out.below, &m_out.above};
        for (std::size_t s = 0; s < 2; ++s) {
            half[s]->triangles.reserve(sizes[s] + extra);
            half[s]->triangles.resize(sizes[s]);
            if (m_labels) {
                half[s]->labels.reserve(sizes[s] + extra);
                half[s]->labels.resize(sizes[s]);
            }
        }
    }

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
    void scan(std::size_t c, Writer& writer)
    {
        const std::size_t n = m_mesh.triangles.size();
        TriangleChunk& chunk = m_chunks[c];
        std::array<std::size_t, 4> count{};
        const std::size_t end = std::min(n, (c + 1) * chunkSize);
        for (std::size_t i = c * chunkSize; i < end; ++i) {
            const Triangle& t = m_mesh.triangles[i];
            const Index a = m_where[t[0]], b = m_where[t[1]], d = m_where[t[2]];
            const Index all = a & b & d, any = a | b | d;
            Index half = any >> 30;
            if ((all >> 30) == half && half != 3) [[likely]] {
                if constexpr (Write)
                    *writer.next[half]++ = {a & placeMask, b & placeMask, d & placeMask};
            } else {
                half = halfOf(t, all);
                if constexpr (Note) {
                    if (half == 0)
                        chunk.crossing.push_back(static_cast<Index>(i));
                    else
                        chunk.touching[half - 1].push_back(static_cast<Index>(i));
                    if (half == 1)
                        noteOnEdges(t, chunk.onEdges);
                }
                if (Write && half != 0)
                    *writer.next[half]++ = placedTriangle(t, half - 1);
            }
            if constexpr (!Write)
                ++count[half];
            else if (m_labels && half != 0)
                *writer.label[half]++ = m_mesh.label(i);
        }
        if constexpr (!Write)
            chunk.whole = {count[1], count[2]};
    }

    void copyTriangles()
    {
        forChunks(m_chunks.size(), [&](std::size_t c) {
            Writer writer(*this, m_chunks[c].whole);
            scan<true, false>(c, writer);
        });
    }

    void noteOnEdges(const Triangle& t, std::vector<OutlineEdge>& edges) const
    {
        for (std::size_t k = 0; k < 3; ++k) {
            const Index u = t[k], v = t[(k + 1) % 3];
            if (m_where[u] >= onBits && m_where[v] >= onBits)
                edges.push_back({u, v});
        }
    }

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

    void sizeHalves()
    {
        const std::size_t rim = m_rim.size();
        m_rimPoints.resize(rim);
        for (std::size_t r = 0; r < rim; ++r)
            m_rimPoints[r] = rimPoint(r);
        const std::array<Mesh*, 2> half{&m_out.below, &m_out.above};
        for (std::size_t s = 0; s < 2; ++s) {
            half[s]->points.resize(m_total[s] + rim);
            std::copy(m_rimPoints.begin(), m_rimPoints.end(), half[s]->points.begin() + m_total[s]);
        }
        if (!m_oneThread)
            sizeTriangles(m_whole, std::max(m_split[Below].size(), m_split[Above].size()) + 2 * rim);
    }

    void addSplitTriangles()
    {
        const std::array<Mesh*, 2> half{&m_out.below, &m_out.above};
        for (std::size_t s = 0; s < 2; ++s)
            for (const Split& split : m_split[s]) {
                Triangle t = split.corners;
                for (Index& v : t)
                    v = (v & rimFlag) != 0 ? m_total[s] + (v & ~rimFlag) : m_where[v] & placeMask;
                half[s]->triangles.push_back(t);
                if (m_labels)
                    half[s]->labels.push_back(m_mesh.label(split.source));
            }
    }

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
    bool m_merged = false; ///< some rim vertices were made one
    std::vector<OutlineEdge> m_outline; ///< directed, area to the left seen from above; rim vertices
    CutHalves m_out;
};

void Cutter::splitCrossing()
{
    m_edges.reserve(m_crossings);
    for (const TriangleChunk& chunk : m_chunks) {
        for (const OutlineEdge& e : chunk.onEdges)
            m_outline.push_back({rimOf(e[1]), rimOf(e[0])});
        for (const Index i : chunk.crossing)
            splitOne(i);
    }
}

void Cutter::splitOne(Index i)
{
    const Triangle t = m_mesh.triangles[i];
    const auto sideOf = [&](Index v) { return m_where[v] >> 30; }; // 1 below, 2 above, 3 on
    // Turn the triangle so that p is the corner in the plane, or the one alone on its side.
    std::size_t k = 0;
    for (std::size_t j = 0; j < 3; ++j) {
        const Index s = sideOf(t[j]), s1 = sideOf(t[(j + 1) % 3]), s2 = sideOf(t[(j + 2) % 3]);
        if (s == 3 || (s != s1 && s != s2 && s1 == s2))
            k = j;
    }
    const Index p = t[k], q = t[(k + 1) % 3], r = t[(k + 2) % 3];
    if (sideOf(p) == 3) {
        const Index on = rimOf(p), made = rimOf(q, r);
        const bool qBelow = sideOf(q) == 1;
        m_split[qBelow ? Below : Above].push_back({{on | rimFlag, q, made | rimFlag}, i});
        m_split[qBelow ? Above : Below].push_back({{on | rimFlag, made | rimFlag, r}, i});
        m_outline.push_back(qBelow ? OutlineEdge{on, made} : OutlineEdge{made, on});
        return;
    }
    const Index n1 = rimOf(p, q), n2 = rimOf(p, r);
    const bool apexBelow = sideOf(p) == 1;
    m_split[apexBelow ? Below : Above].push_back({{p, n1 | rimFlag, n2 | rimFlag}, i});
    addQuad(m_split[apexBelow ? Above : Below], n1, q, r, n2, i);
    m_outline.push_back(apexBelow ? OutlineEdge{n2, n1} : OutlineEdge{n1, n2});
}

void Cutter::addQuad(std::vector<Split>& to, Index n1, Index q, Index r, Index n2, Index source)
{
    // The shorter diagonal leaves the rounder triangles.
    const Vec3 p1 = rimPoint(n1), p2 = rimPoint(n2);
    const Vec3 d1 = m_mesh.points[r] - p1, d2 = m_mesh.points[q] - p2;
    const Index f1 = n1 | rimFlag, f2 = n2 | rimFlag;
    if (dot(d1, d1) < dot(d2, d2)) {
        to.push_back({{f1, q, r}, source});
        to.push_back({{f1, r, f2}, source});
    } else {
        to.push_back({{f1, q, f2}, source});
        to.push_back({{q, r, f2}, source});
    }
}

Vec3 Cutter::rimPoint(std::size_t r) const
{
    const RimVertex& rim = m_rim[r];
    const Vec3 a = m_mesh.points[rim.below];
    if (rim.below == rim.above)
        return a;
    const Vec3 b = m_mesh.points[rim.above];
    const double ha = m_side.height(a), hb = m_side.height(b);
    Vec3 p = a + ha / (ha - hb) * (b - a);
    // On a plane square to an axis, exactly on it.
    if (std::abs(m_plane.normal.x) == 1)
        p.x = m_plane.normal.x * m_plane.offset;
    else if (std::abs(m_plane.normal.y) == 1)
        p.y = m_plane.normal.y * m_plane.offset;
    else if (std::abs(m_plane.normal.z) == 1)
        p.z = m_plane.normal.z * m_plane.offset;
    return p;
}

Result<OutlineTriangles> Cutter::triangulatedCap() const
{
    const PlaneFrame frame = frameOf(m_plane);
    std::vector<Vec2> flat;
    flat.reserve(m_rimPoints.size());
    for (const Vec3 p : m_rimPoints)
        flat.push_back(frame.flat(p));
    Result<OutlineTriangles> cap = triangulateOutline(flat, m_outline);
    if (cap && cap->merged.empty())
        return cap;
    std::vector<CrossingPoint> exact;
    exact.reserve(m_rim.size());
    for (const RimVertex& r : m_rim)
        exact.push_back({m_mesh.points[r.below], m_mesh.points[r.above]});
    return triangulateOutlineExactly(exact, m_plane, m_outline);
}

void Cutter::addCap(const OutlineTriangles& cap)
{
    m_out.belowCap = m_out.below.triangles.size();
    m_out.aboveCap = m_out.above.triangles.size();
    for (const Triangle& t : cap.triangles) {
        m_out.below.triangles.push_back({t[0] + m_total[Below], t[1] + m_total[Below], t[2] + m_total[Below]});
        m_out.above.triangles.push_back({t[0] + m_total[Above], t[2] + m_total[Above], t[1] + m_total[Above]});
        if (m_labels) {
            m_out.below.labels.push_back(m_options.label);
            m_out.above.labels.push_back(m_options.label);
        }
    }
    if (!cap.merged.empty()) {
        m_merged = true;
        mergeRim(cap.merged);
    }
}

/// Makes one of rim vertices that lie on one spot, where the section's fillings join there.
void Cutter::mergeRim(const std::vector<OutlineEdge>& pairs)
{
    std::vector<Index> parent(m_rim.size());
    std::iota(parent.begin(), parent.end(), Index{0});
    const auto find = [&](Index r) {
        while (parent[r] != r)
            r = parent[r] = parent[parent[r]];
        return r;
    };
    for (const OutlineEdge& e : pairs)
        parent[std::max(find(e[0]), find(e[1]))] = std::min(find(e[0]), find(e[1]));
    const auto merge = [&](Mesh& half, Index shift, std::size_t& cap) {
        std::size_t kept = 0;
        std::size_t keptBeforeCap = 0;
        for (std::size_t i = 0; i < half.triangles.size(); ++i) {
            if (i == cap)
                keptBeforeCap = kept;
            Triangle t = half.triangles[i];
            for (Index& v : t)
                if (v >= shift)
                    v = shift + find(v - shift);
            if (t[0] == t[1] || t[1] == t[2] || t[2] == t[0])
                continue;
            half.triangles[kept] = t;
            if (m_labels)
                half.labels[kept] = half.labels[i];
            ++kept;
        }
        cap = keptBeforeCap;
        half.triangles.resize(kept);
        if (m_labels)
            half.labels.resize(kept);
    };
    merge(m_out.below, m_total[Below], m_out.belowCap);
    merge(m_out.above, m_total[Above], m_out.aboveCap);
}

/// An old vertex in the plane may be touched from one side only; it then stands unused in the other half.
void Cutter::dropLooseRimVertices()
{
    const auto compact = [&](Mesh& half, std::size_t side) {
        const Index shift = m_total[side];
        std::vector<Index> moved(m_rim.size(), 0);
        forRimTriangles(side, [&](const Triangle& t) {
            for (const Index v : t)
                if (v >= shift)
                    moved[v - shift] = 1;
        });
        if (std::find(moved.begin(), moved.end(), Index{0}) == moved.end())
            return;
        Index next = 0;
        for (std::size_t r = 0; r < moved.size(); ++r)
            if (moved[r] != 0) {
                half.points[shift + next] = half.points[shift + r];
                moved[r] = next++;
            }
        half.points.resize(shift + next);
        for (Triangle& t : half.triangles)
            for (Index& v : t)
                if (v >= shift)
                    v = shift + moved[v - shift];
    };
    if (m_total[On] == 0)
        return;
    compact(m_out.below, Below);
    compact(m_out.above, Above);
}

/// Where the model's own edges lie in the plane, a half can be left touching itself along one: two wedges with the
/// void between them on the other side. Such a half has to be parted there.
bool Cutter::touchesItself(std::size_t half) const
{
    if (m_total[On] < 2)
        return false;
    const Index shift = m_total[half];
    std::vector<std::uint64_t> edges;
    forRimTriangles(half, [&](const Triangle& t) {
        for (std::size_t k = 0; k < 3; ++k) {
            const auto [a, b] = std::minmax(t[k], t[(k + 1) % 3]);
            if (a >= shift)
                edges.push_back((static_cast<std::uint64_t>(a) << 32) | b);
        }
    });
    std::sort(edges.begin(), edges.end());
    for (std::size_t i = 0; i + 2 < edges.size(); ++i)
        if (edges[i] == edges[i + 2])
            return true;
    return false;
}

/// The plane misses the model or only touches it: one half is the whole.
Result<CutHalves> Cutter::untouched()
{
    Mesh& half = m_total[Below] > 0 ? m_out.below : m_out.above;
    half = m_mesh;
    if (m_labels && half.labels.empty())
        half.labels.resize(half.triangles.size(), skinLabel);
    m_out.belowCap = m_out.below.triangles.size();
    m_out.aboveCap = m_out.above.triangles.size();
    return std::move(m_out);
}

Result<Region> Cutter::section()
{
    placeVertices();
    sortTriangles();
    splitCrossing();
    const PlaneFrame frame = frameOf(m_plane);
    // Opposite edges cancel; what is left are loops, followed from point to point.
    std::vector<std::vector<Index>> leaving(m_rim.size());
    for (const OutlineEdge& e : m_outline) {
        auto& back = leaving[e[1]];
        if (const auto it = std::find(back.begin(), back.end(), e[0]); it != back.end())
            back.erase(it);
        else
            leaving[e[0]].push_back(e[1]);
    }
    Region region;
    for (Index start = 0; start < leaving.size(); ++start)
        while (!leaving[start].empty()) {
            Loop loop;
            Index at = start;
            while (!leaving[at].empty()) {
                const Index to = leaving[at].back();
                leaving[at].pop_back();
                loop.push_back(frame.flat(rimPoint(at)));
                at = to;
            }
            if (at != start)
                return placed({Reason::CutFailed,
                               "the section's outline is not closed: the model is open",
                               {},
                               {},
                               "Repair the model (--repair)."});
            if (loop.size() >= 3)
                region.push_back(std::move(loop));
        }
    return region;
}

template <class F>
auto withThreads(int threads, F&& f)
{
    if (threads <= 0)
        return f();
    tbb::task_arena arena(threads);
    return arena.execute(f);
}

} // namespace

Result<CutHalves> cutByPlane(const Mesh& mesh, const Plane& plane, const CutOptions& options)
{
    if (mesh.points.size() > maxVertices)
        return Problem{Reason::CutFailed, "the model has more than a thousand million points", {}, {}, {}};
    return withThreads(options.threads, [&] { return Cutter(mesh, plane, options).run(); });
}

Result<Region> sectionByPlane(const Mesh& mesh, const Plane& plane)
{
    const CutOptions options;
    return Cutter(mesh, plane, options).section();
}

} // namespace quoin::mesh
