// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/draw_mesh.h"

#include "ui/coarse_mesh.h"
#include "ui/draw_mesh_data.h"
#include "ui/shading.h"

#include <algorithm>
#include <cstdint>
#include <limits>
#include <numeric>
#include <span>

namespace quoin::ui {

using mesh::Index;
using mesh::Mesh;

namespace {

/// Triangles that the coarser levels aim at: steps of about four, so that a scene's budget is used well whatever the
/// number of its solids.
constexpr std::array<std::size_t, 5> coarseTargets{64'000, 16'000, 4'000, 1'000, 250};
/// A level is worth having when the one before has this many times its triangles.
constexpr double leastStep = 1.5;
/// Coarse faces meet at larger angles than the surface that they stand for; only true edges are to look crisp.
constexpr double coarseCreaseDegrees = 48;

/// Triangles of a shaded mesh in an order such that each run of `trianglesPerChunk` lies together in space.
class Splitter {
public:
    explicit Splitter(const ShadedMesh& shadedMesh)
        : m_middles(shadedMesh.triangles.size()), m_order(shadedMesh.triangles.size())
    {
        std::iota(m_order.begin(), m_order.end(), Index{0});
        if (m_order.size() <= trianglesPerChunk)
            return;
        for (std::size_t t = 0; t < m_middles.size(); ++t)
            for (std::size_t k = 0; k < 3; ++k) {
                const auto& tri = shadedMesh.triangles[t];
                m_middles[t][k] =
                    shadedMesh.points[tri[0]][k] + shadedMesh.points[tri[1]][k] + shadedMesh.points[tri[2]][k];
            }
    }

    /// Halves until small enough, along the longest side; calls visit(std::span of triangles) for each part.
    template <class Visit>
    void run(const Visit& visit)
    {
        split(std::span(m_order), visit);
    }

private:
    template <class Visit>
    void split(std::span<Index> part, const Visit& visit)
    {
        if (part.size() <= trianglesPerChunk) {
            std::ranges::sort(part); // neighbours in the file are often neighbours on the surface
            visit(part);
            return;
        }
        std::array<float, 3> low, high;
        low.fill(std::numeric_limits<float>::max());
        high.fill(std::numeric_limits<float>::lowest());
        for (const Index t : part)
            for (std::size_t k = 0; k < 3; ++k) {
                low[k] = std::min(low[k], m_middles[t][k]);
                high[k] = std::max(high[k], m_middles[t][k]);
            }
        std::size_t axis = 0;
        for (std::size_t k = 1; k < 3; ++k)
            if (high[k] - low[k] > high[axis] - low[axis])
                axis = k;
        const auto half = part.begin() + static_cast<std::ptrdiff_t>(part.size() / 2);
        std::nth_element(part.begin(), half, part.end(),
                         [&](Index a, Index b) { return m_middles[a][axis] < m_middles[b][axis]; });
        split(std::span(part.begin(), half), visit);
        split(std::span(half, part.end()), visit);
    }

    std::vector<std::array<float, 3>> m_middles;
    std::vector<Index> m_order;
};

/// Makes chunks of parts of a shaded mesh; points are renumbered within each.
class ChunkMaker {
public:
    explicit ChunkMaker(const ShadedMesh& shadedMesh)
        : m_shaded(shadedMesh), m_numberInChunk(shadedMesh.points.size(), unseen)
    {
    }

    DrawChunk made(std::span<const Index> part)
    {
        DrawChunk chunk;
        chunk.triangles.reserve(part.size());
        m_seen.clear();
        add(chunk, part, true);
        chunk.skinTriangles = chunk.triangles.size();
        add(chunk, part, false);
        chunk.points.reserve(m_seen.size());
        chunk.normals.reserve(m_seen.size());
        for (const Index v : m_seen) {
            chunk.points.push_back(m_shaded.points[v]);
            chunk.normals.push_back(m_shaded.normals[v]);
            const auto& p = m_shaded.points[v];
            chunk.box.add({p[0], p[1], p[2]});
            m_numberInChunk[v] = unseen;
        }
        return chunk;
    }

private:
    static constexpr Index unseen = std::numeric_limits<Index>::max();

    void add(DrawChunk& chunk, std::span<const Index> part, bool skin)
    {
        for (const Index t : part) {
            if ((m_shaded.label(t) == mesh::skinLabel) != skin)
                continue;
            mesh::Triangle to{};
            for (std::size_t k = 0; k < 3; ++k) {
                Index& number = m_numberInChunk[m_shaded.triangles[t][k]];
                if (number == unseen) {
                    number = static_cast<Index>(m_seen.size());
                    m_seen.push_back(m_shaded.triangles[t][k]);
                }
                to[k] = number;
            }
            chunk.triangles.push_back(to);
        }
    }

    const ShadedMesh& m_shaded;
    std::vector<Index> m_numberInChunk, m_seen;
};

DrawLevel levelOf(const Mesh& mesh, double creaseAngleDegrees, double errorMm, const Context& context)
{
    DrawLevel level;
    level.errorMm = errorMm;
    const ShadedMesh shadedMesh = shaded(mesh, creaseAngleDegrees);
    level.triangles = shadedMesh.triangles.size();
    if (context.cancelled())
        return level;
    ChunkMaker maker(shadedMesh);
    Splitter(shadedMesh).run([&](std::span<const Index> part) {
        if (!part.empty() && !context.cancelled())
            level.chunks.push_back(maker.made(part));
    });
    level.borders.reserve(2 * shadedMesh.borders.size());
    for (const auto& edge : shadedMesh.borders)
        for (const Index v : edge)
            level.borders.push_back(shadedMesh.points[v]);
    return level;
}

/// A number for an edge that the same edge the other way takes away again.
std::uint64_t edgeMark(Index a, Index b)
{
    std::uint64_t z = static_cast<std::uint64_t>(std::min(a, b)) << 32 | std::max(a, b);
    z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9u; // mixing as in splitmix64 (Steele, Lea and Flood 2014)
    z = (z ^ z >> 27) * 0x94D049BB133111EBu;
    z ^= z >> 31;
    return a < b ? z : 0 - z;
}

/// Whether every edge is used equally often both ways, and the inside is inside. Marks of open edges could cancel by
/// chance, once in 10^19 meshes.
bool isSolid(const Mesh& mesh)
{
    std::uint64_t open = 0;
    double sixfoldVolume = 0;
    for (const auto& t : mesh.triangles) {
        open += edgeMark(t[0], t[1]) + edgeMark(t[1], t[2]) + edgeMark(t[2], t[0]);
        sixfoldVolume += dot(mesh.points[t[0]], cross(mesh.points[t[1]], mesh.points[t[2]]));
    }
    return open == 0 && sixfoldVolume > 0;
}

} // namespace

DrawMeshPtr drawMeshOf(const Mesh& mesh, const Context& context)
{
    auto out = std::make_shared<DrawMesh>();
    out->levels.push_back(levelOf(mesh, creaseDegrees, 0, context));
    for (const DrawChunk& chunk : out->levels.front().chunks) {
        out->box.add(chunk.box.min);
        out->box.add(chunk.box.max);
    }
    out->solid = isSolid(mesh);
    CoarseMesh coarse;
    for (const std::size_t target : coarseTargets) {
        if (context.cancelled())
            return nullptr;
        if (static_cast<double>(out->levels.back().triangles) < leastStep * static_cast<double>(target))
            continue;
        const double errorSoFarMm = coarse.errorMm;
        coarse = coarseMesh(coarse.mesh.empty() ? mesh : coarse.mesh, target, context);
        coarse.errorMm += errorSoFarMm;
        if (coarse.mesh.empty())
            break; // all in one cell: dust
        out->levels.push_back(levelOf(coarse.mesh, coarseCreaseDegrees, coarse.errorMm, context));
    }
    return context.cancelled() ? nullptr : out;
}

std::size_t triangleCount(const DrawMesh& mesh)
{
    return mesh.levels.empty() ? 0 : mesh.levels.front().triangles;
}

mesh::Box3 boundsOf(const DrawMesh& mesh)
{
    return mesh.box;
}

} // namespace quoin::ui
