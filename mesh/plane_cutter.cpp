// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/plane_cutter.h"

#include "mesh/split_fans.h"

#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>
#include <tbb/task_group.h>

#include <utility>

// The passes over all vertices and all triangles: what a cut of millions spends its time on.
namespace quoin::mesh::cutting {

namespace {

template <class F>
void forChunks(std::size_t count, F&& f)
{
    tbb::parallel_for(std::size_t{0}, count, [&](std::size_t i) { f(i); });
}

} // namespace

Cutter::Cutter(const Mesh& mesh, const Plane& plane, const CutOptions& options)
    : m_mesh(mesh),
      m_plane(plane),
      m_options(options),
      m_labels(options.withLabels || !mesh.labels.empty()),
      m_oneThread(tbb::this_task_arena::max_concurrency() == 1),
      m_rimGuess(mesh.points.size() / 8 + 1024),
      m_side(plane, boundsOfPoints(mesh))
{
}

Result<CutHalves> Cutter::run()
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
        m_out.below = splitFans(m_out.below);
    if (above)
        m_out.above = splitFans(m_out.above);
    return std::move(m_out);
}

Box3 Cutter::boundsOfPoints(const Mesh& mesh)
{
    // Over-wide bounds only widen the filter, so all points may take part. Branch-free, so it vectorises.
    Box3 box;
    for (const Vec3& p : mesh.points) {
        box.min = {std::min(box.min.x, p.x), std::min(box.min.y, p.y), std::min(box.min.z, p.z)};
        box.max = {std::max(box.max.x, p.x), std::max(box.max.y, p.y), std::max(box.max.z, p.z)};
    }
    return box;
}

void Cutter::placeVertices()
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
    if (m_outlineOnly)
        numberVertices<false>();
    else
        numberVertices<true>();
}

template <bool Copy>
void Cutter::numberVertices()
{
    const std::size_t n = m_mesh.points.size();
    m_rim.resize(m_total[On]);
    const std::array<Mesh*, 2> half{&m_out.below, &m_out.above};
    std::array<Vec3*, 2> to{};
    for (std::size_t s = 0; Copy && s < 2; ++s) {
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
            if (side != On) [[likely]] {
                if constexpr (Copy)
                    *next[side]++ = m_mesh.points[v];
            } else
                m_rim[m_where[v] & placeMask] = {static_cast<Index>(v), static_cast<Index>(v)};
        }
    });
}

void Cutter::noteOnEdges(const Triangle& t, std::vector<OutlineEdge>& edges) const
{
    for (std::size_t k = 0; k < 3; ++k) {
        const Index u = t[k], v = t[(k + 1) % 3];
        if (m_where[u] >= onBits && m_where[v] >= onBits)
            edges.push_back({u, v});
    }
}

template <bool Write, bool Note>
void Cutter::scan(std::size_t c, Writer& writer)
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

void Cutter::sortTriangles()
{
    const std::size_t n = m_mesh.triangles.size();
    m_chunks.resize(chunksOf(n));
    if (m_oneThread && !m_outlineOnly) {
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

void Cutter::sizeTriangles(std::array<std::size_t, 2> sizes, std::size_t extra)
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

void Cutter::copyTriangles()
{
    forChunks(m_chunks.size(), [&](std::size_t c) {
        Writer writer(*this, m_chunks[c].whole);
        scan<true, false>(c, writer);
    });
}

void Cutter::sizeHalves()
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

} // namespace quoin::mesh::cutting
