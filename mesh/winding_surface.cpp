// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/winding_surface.h"

#include "mesh/edge_table.h"
#include "mesh/mass.h"
#include "mesh/refined_soup.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <optional>
#include <unordered_map>

namespace quoin::mesh {

namespace {

/// For each triangle a number that it shares with those it is joined to across edges with two triangles.
std::vector<Index> patchesOf(const Mesh& mesh)
{
    std::vector<Index> patch(mesh.triangles.size());
    std::iota(patch.begin(), patch.end(), Index{0});
    const auto root = [&](Index i) {
        while (patch[i] != i)
            i = patch[i] = patch[patch[i]];
        return i;
    };
    EdgeTable(mesh).forEachEdge([&](Index, Index, std::span<const EdgeUse> uses) {
        if (uses.size() != 2)
            return;
        const Index a = root(uses[0].triangle()), b = root(uses[1].triangle());
        patch[std::max(a, b)] = std::min(a, b);
    });
    for (Index i = 0; i < patch.size(); ++i)
        patch[i] = root(i);
    return patch;
}

/// Six times the volume under the triangle, seen from a place near the mesh.
double sixfoldVolume(const Mesh& mesh, std::size_t t, Vec3 from)
{
    return dot(mesh.corner(t, 0) - from, cross(mesh.corner(t, 1) - from, mesh.corner(t, 2) - from));
}

/// Points by cells of an edge length, to find those nearer than it.
class NearPoints {
public:
    NearPoints(double cell, const Buffer<Vec3>& points) : m_cell(cell), m_points(points) {}

    void add(Index v) { m_cells[key(cellOf(m_points[v]))].push_back(v); }
    std::optional<Index> near(Vec3 p) const
    {
        const Cell c = cellOf(p);
        for (std::int64_t x = c[0] - 1; x <= c[0] + 1; ++x)
            for (std::int64_t y = c[1] - 1; y <= c[1] + 1; ++y)
                for (std::int64_t z = c[2] - 1; z <= c[2] + 1; ++z)
                    if (const auto cell = m_cells.find(key({x, y, z})); cell != m_cells.end())
                        for (const Index v : cell->second)
                            if (length(m_points[v] - p) <= m_cell)
                                return v;
        return std::nullopt;
    }

private:
    using Cell = std::array<std::int64_t, 3>;
    Cell cellOf(Vec3 p) const
    {
        const auto one = [&](double x) { return static_cast<std::int64_t>(std::floor(x / m_cell)); };
        return {one(p.x), one(p.y), one(p.z)};
    }
    /// Cells that share a key do no harm: distances are looked at.
    static std::uint64_t key(const Cell& c)
    {
        const auto u = [](std::int64_t i) { return static_cast<std::uint64_t>(i); };
        return u(c[0]) * 0x9E3779B97F4A7C15ull ^ u(c[1]) * 0xC2B2AE3D27D4EB4Full ^ u(c[2]) * 0x165667B19E3779F9ull;
    }

    double m_cell;
    const Buffer<Vec3>& m_points;
    std::unordered_map<std::uint64_t, std::vector<Index>> m_cells;
};

/// Gives points beyond those of the mesh the place of an earlier point within snapMm.
void snap(const Mesh& mesh, const std::vector<std::pair<Index, Index>>& pairs, double snapMm, Buffer<Vec3>& points)
{
    if (!(snapMm > 0))
        return;
    NearPoints known(snapMm, points);
    std::vector<char> added(mesh.points.size(), 0);
    for (const auto& [s, t] : pairs)
        for (const Index triangle : {s, t})
            for (const Index v : mesh.triangles[triangle])
                if (std::exchange(added[v], 1) == 0)
                    known.add(v);
    for (auto v = static_cast<Index>(mesh.points.size()); v < points.size(); ++v) {
        if (const std::optional<Index> other = known.near(points[v]))
            points[v] = points[*other];
        else
            known.add(v);
    }
}

} // namespace

WindingSurface windingSurface(const Mesh& mesh, const std::vector<std::pair<Index, Index>>& pairs, double snapMm)
{
    const RefinedSoup soup(mesh, pairs);
    Mesh refined;
    refined.points = soup.points();
    for (const RefinedFace& f : soup.faces())
        refined.triangles.push_back(f.corners);

    const std::vector<Index> patch = patchesOf(refined);
    // The largest face of a patch speaks for all of it.
    std::vector<Index> speaker(patch.size());
    std::iota(speaker.begin(), speaker.end(), Index{0});
    for (Index i = 0; i < patch.size(); ++i)
        if (triangleArea(refined, i) > triangleArea(refined, speaker[patch[i]]))
            speaker[patch[i]] = i;
    std::vector<RefinedSoup::Sides> sides(patch.size());
    for (Index i = 0; i < patch.size(); ++i)
        if (patch[i] == i)
            sides[i] = soup.sidesOf(speaker[i]);

    WindingSurface out;
    Mesh& skin = out.mesh;
    skin.points = refined.points;
    const Vec3 middle = bounds(mesh).centre();
    for (Index i = 0; i < patch.size(); ++i) {
        const auto [front, back] = sides[patch[i]];
        const double volume = sixfoldVolume(refined, i, middle) / 6;
        if ((front >= 2) != (back >= 2))
            out.twiceMm3 += back >= 2 ? volume : -volume;
        if ((front <= -1) != (back <= -1)) {
            out.turnedMm3 += back <= -1 ? volume : -volume;
            out.turned.push_back(soup.faces()[i].source);
        }
        if ((front >= 1) == (back >= 1))
            continue;
        Triangle t = refined.triangles[i];
        if (front >= 1)
            std::swap(t[1], t[2]);
        skin.triangles.push_back(t);
        if (!mesh.labels.empty())
            skin.labels.push_back(mesh.labels[soup.faces()[i].source]);
    }
    snap(mesh, pairs, snapMm, skin.points);
    skin = welded(skin);
    return out;
}

} // namespace quoin::mesh
