// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/coarse_mesh.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>
#include <vector>

namespace quoin::ui {

using mesh::Box3;
using mesh::Index;
using mesh::Mesh;
using mesh::Triangle;
using mesh::Vec3;

namespace {

constexpr Index none = std::numeric_limits<Index>::max();

/// Numbers for keys, in order of first appearance. Open addressing: the tables are small and asked millions of times.
class Numbering {
public:
    Numbering() : m_slots(1 << 12, {0, none}) {}

    Index of(std::uint64_t key)
    {
        if (2 * m_count >= m_slots.size())
            grow();
        Slot& slot = find(key);
        if (slot.number == none)
            slot = {key, m_count++};
        return slot.number;
    }
    Index count() const { return m_count; }

private:
    struct Slot {
        std::uint64_t key;
        Index number;
    };
    Slot& find(std::uint64_t key)
    {
        std::uint64_t hash = key * 0x9E3779B97F4A7C15u;
        hash ^= hash >> 32;
        std::size_t at = hash & (m_slots.size() - 1);
        while (m_slots[at].number != none && m_slots[at].key != key)
            at = (at + 1) & (m_slots.size() - 1);
        return m_slots[at];
    }
    void grow()
    {
        std::vector<Slot> old(2 * m_slots.size(), {0, none});
        old.swap(m_slots);
        for (const Slot& slot : old)
            if (slot.number != none)
                find(slot.key) = slot;
    }

    std::vector<Slot> m_slots;
    Index m_count = 0;
};

/// A grid over a box.
struct Grid {
    Vec3 corner;
    double cellMm;

    static constexpr std::uint64_t cellsPerAxis = 1u << 21;

    std::uint64_t along(double x) const
    {
        const double cells = x / cellMm;
        return cells <= 0 ? 0 : std::min(static_cast<std::uint64_t>(cells), cellsPerAxis - 1);
    }
    std::uint64_t key(Vec3 p) const
    {
        const Vec3 d = p - corner;
        return (along(d.x) * cellsPerAxis + along(d.y)) * cellsPerAxis + along(d.z);
    }
    /// The point of p's cell nearest to q.
    Vec3 kept(Vec3 p, Vec3 q) const
    {
        const auto axis = [&](double at, double wanted, double from) {
            const double low = from + cellMm * static_cast<double>(along(at - from));
            return std::clamp(wanted, low, low + cellMm);
        };
        return {axis(p.x, q.x, corner.x), axis(p.y, q.y, corner.y), axis(p.z, q.z, corner.z)};
    }
};

struct Clusters {
    std::vector<Index> ofPoint;
    Index count = 0;
    std::size_t triangles = 0; ///< with corners in three of them
};

Clusters clustersOf(const Mesh& mesh, const Grid& grid)
{
    Clusters out;
    out.ofPoint.resize(mesh.points.size());
    Numbering numbers;
    for (std::size_t i = 0; i < mesh.points.size(); ++i)
        out.ofPoint[i] = numbers.of(grid.key(mesh.points[i]));
    out.count = numbers.count();
    for (const Triangle& t : mesh.triangles) {
        const Index a = out.ofPoint[t[0]], b = out.ofPoint[t[1]], c = out.ofPoint[t[2]];
        out.triangles += a != b && b != c && c != a ? 1 : 0;
    }
    return out;
}

/// Sum over planes n.x = d of area * (n.x - d)^2, about a point of reference.
struct Quadric {
    double xx = 0, xy = 0, xz = 0, yy = 0, yz = 0, zz = 0;
    Vec3 b{0, 0, 0};

    /// @param areaNormal  normal, as long as the face is large
    void add(Vec3 areaNormal, Vec3 through)
    {
        const double area = length(areaNormal);
        if (!(area > 0))
            return;
        const Vec3 n = areaNormal / area, w = areaNormal;
        xx += w.x * n.x, xy += w.x * n.y, xz += w.x * n.z, yy += w.y * n.y, yz += w.y * n.z, zz += w.z * n.z;
        b = b + dot(n, through) * w;
    }
    /// Where the sum is least, drawn a little to the origin; by Cramer's rule.
    Vec3 least() const
    {
        constexpr double drawnShare = 0.01;
        const double pull = drawnShare * (xx + yy + zz) / 3;
        if (!(pull > 0))
            return {0, 0, 0};
        const Vec3 r0{xx + pull, xy, xz}, r1{xy, yy + pull, yz}, r2{xz, yz, zz + pull};
        const Vec3 c0 = cross(r1, r2), c1 = cross(r2, r0), c2 = cross(r0, r1);
        return (b.x * c0 + b.y * c1 + b.z * c2) / dot(r0, c0);
    }
};

std::vector<Vec3> placesOf(const Mesh& mesh, const Grid& grid, const Clusters& clusters)
{
    std::vector<Vec3> mean(clusters.count, Vec3{0, 0, 0}), any(clusters.count, Vec3{0, 0, 0});
    std::vector<Index> members(clusters.count, 0);
    for (std::size_t i = 0; i < mesh.points.size(); ++i) {
        const Index c = clusters.ofPoint[i];
        any[c] = mesh.points[i];
        mean[c] = mean[c] + mesh.points[i];
        ++members[c];
    }
    for (Index c = 0; c < clusters.count; ++c)
        mean[c] = mean[c] / members[c];
    std::vector<Quadric> quadrics(clusters.count);
    for (const Triangle& t : mesh.triangles) {
        const Vec3 a = mesh.points[t[0]];
        const Vec3 normal = cross(mesh.points[t[1]] - a, mesh.points[t[2]] - a);
        for (const Index v : t) {
            const Index c = clusters.ofPoint[v];
            quadrics[c].add(normal, a - mean[c]);
        }
    }
    std::vector<Vec3> places(clusters.count);
    for (Index c = 0; c < clusters.count; ++c)
        places[c] = grid.kept(any[c], mean[c] + quadrics[c].least());
    return places;
}

Mesh meshOf(const Mesh& mesh, const Clusters& clusters, const std::vector<Vec3>& places)
{
    Mesh out;
    out.points.assign(places.begin(), places.end());
    out.triangles.reserve(clusters.triangles);
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        const Triangle& t = mesh.triangles[i];
        const Triangle to{clusters.ofPoint[t[0]], clusters.ofPoint[t[1]], clusters.ofPoint[t[2]]};
        if (to[0] == to[1] || to[1] == to[2] || to[2] == to[0])
            continue;
        out.triangles.push_back(to);
        if (!mesh.labels.empty())
            out.labels.push_back(mesh.labels[i]);
    }
    return out;
}

double areaOf(const Mesh& mesh)
{
    double twice = 0;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const Vec3 a = mesh.corner(t, 0);
        twice += length(cross(mesh.corner(t, 1) - a, mesh.corner(t, 2) - a));
    }
    return twice / 2;
}

} // namespace

CoarseMesh coarseMesh(const Mesh& mesh, std::size_t targetTriangles, const Context& context)
{
    // A plane at random angles meets 1.5 cells of a cubic grid for each square of a cell's side; a closed mesh has two
    // triangles a point.
    constexpr double cellsPerSquare = 1.5, trianglesPerPoint = 2;
    constexpr int tries = 4;
    constexpr double leastShare = 0.5, mostShare = 1.25;
    const double target = static_cast<double>(std::max<std::size_t>(targetTriangles, 1));
    const Box3 box = bounds(mesh);
    const Vec3 e = box.extents();
    const double leastCellMm = std::max({e.x, e.y, e.z, 1e-9}) / static_cast<double>(Grid::cellsPerAxis / 2);
    Grid grid{box.min, std::sqrt(areaOf(mesh) * cellsPerSquare * trianglesPerPoint / target)};
    Clusters clusters;
    for (int i = 0; i < tries; ++i) {
        grid.cellMm = std::max(grid.cellMm, leastCellMm);
        if (context.cancelled())
            return {};
        clusters = clustersOf(mesh, grid);
        const double share = static_cast<double>(clusters.triangles) / target;
        if ((share >= leastShare && share <= mostShare) || i + 1 == tries)
            break;
        grid.cellMm *= std::clamp(std::sqrt(share), 0.25, 4.0);
    }
    return {meshOf(mesh, clusters, placesOf(mesh, grid, clusters)), grid.cellMm * std::numbers::sqrt3};
}

} // namespace quoin::ui
