// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_sweep.h"

#include "mesh/disjoint_sets.h"

#include <algorithm>
#include <unordered_set>

namespace quoin::core {

using mesh::Buffer;
using mesh::Index;
using mesh::Vec3;

namespace {

/// Points that stand for all lie about this share of the size apart; columns of points inside, along each side.
constexpr double fewSpacing = 1.0 / 24;
constexpr int columnsAlong = 12;

/// Halvings when slices are only counted.
constexpr int roughHalvings = 6;

Buffer<Vec3> thinned(const Buffer<Vec3>& points, double spacing)
{
    std::unordered_set<std::uint64_t> cells;
    Buffer<Vec3> out;
    const auto cell = [&](double v) { return static_cast<std::uint64_t>(std::llround(v / spacing)) & 0x1fffff; };
    for (const Vec3 p : points)
        if (cells.insert(cell(p.x) << 42 | cell(p.y) << 21 | cell(p.z)).second)
            out.push_back(p);
    return out;
}

/// Points inside, on a raster: each column along z is filled between each second pair of walls.
Buffer<Vec3> filled(const mesh::Mesh& m, const mesh::Box3& box)
{
    const Vec3 size = box.extents();
    const double step = std::max({size.x, size.y, size.z}) / columnsAlong;
    Buffer<Vec3> out;
    if (!(step > 0))
        return out;
    const int nx = static_cast<int>(size.x / step) + 1, ny = static_cast<int>(size.y / step) + 1;
    // Off the round numbers that edges of models like to lie on.
    const double x0 = box.min.x + 0.4871 * step, y0 = box.min.y + 0.5173 * step;
    std::vector<std::vector<double>> walls(static_cast<std::size_t>(nx) * static_cast<std::size_t>(ny));
    for (std::size_t t = 0; t < m.triangles.size(); ++t) {
        const Vec3 a = m.corner(t, 0), b = m.corner(t, 1), c = m.corner(t, 2);
        const double twice = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
        if (twice == 0)
            continue;
        const auto range = [&](double low, double high, double from, int n) {
            return std::pair{std::max(0, static_cast<int>(std::ceil((low - from) / step))),
                             std::min(n - 1, static_cast<int>(std::floor((high - from) / step)))};
        };
        const auto [i0, i1] = range(std::min({a.x, b.x, c.x}), std::max({a.x, b.x, c.x}), x0, nx);
        const auto [j0, j1] = range(std::min({a.y, b.y, c.y}), std::max({a.y, b.y, c.y}), y0, ny);
        for (int i = i0; i <= i1; ++i)
            for (int j = j0; j <= j1; ++j) {
                const double x = x0 + i * step, y = y0 + j * step;
                const double u = ((b.x - x) * (c.y - y) - (b.y - y) * (c.x - x)) / twice;
                const double v = ((c.x - x) * (a.y - y) - (c.y - y) * (a.x - x)) / twice;
                if (u >= 0 && v >= 0 && u + v <= 1)
                    walls[static_cast<std::size_t>(i * ny + j)].push_back(u * a.z + v * b.z + (1 - u - v) * c.z);
            }
    }
    for (int i = 0; i < nx; ++i)
        for (int j = 0; j < ny; ++j) {
            std::vector<double>& z = walls[static_cast<std::size_t>(i * ny + j)];
            std::sort(z.begin(), z.end());
            for (std::size_t k = 0; k + 1 < z.size(); k += 2)
                for (double h = z[k] + step / 2; h < z[k + 1]; h += step)
                    out.push_back({x0 + i * step, y0 + j * step, h});
        }
    return out;
}

} // namespace

CutSketch sketchOf(const mesh::Mesh& mesh, Buffer<Vec3> outline)
{
    CutSketch sketch;
    sketch.mesh = &mesh;
    sketch.outline = std::move(outline);
    sketch.edges.reserve(3 * mesh.triangles.size() / 2);
    // A closed surface runs each edge once each way.
    for (const mesh::Triangle& t : mesh.triangles)
        for (std::size_t k = 0; k < 3; ++k)
            if (t[k] < t[(k + 1) % 3])
                sketch.edges.emplace_back(t[k], t[(k + 1) % 3]);
    const mesh::Box3 box = mesh::bounds(mesh);
    sketch.sizeMm = length(box.extents());
    sketch.few = thinned(mesh.points, std::max(1e-9, fewSpacing * sketch.sizeMm));
    sketch.inside = filled(mesh, box);
    return sketch;
}

CutSweep::CutSweep(const CutSketch& sketch, Vec3 normal, int levels)
    : m_sketch(sketch), m_normal(normal), m_heights(sketch.mesh->points.size())
{
    for (std::size_t v = 0; v < m_heights.size(); ++v) {
        m_heights[v] = dot(normal, sketch.mesh->points[v]);
        m_low = std::min(m_low, m_heights[v]);
        m_high = std::max(m_high, m_heights[v]);
    }
    m_levels.resize(static_cast<std::size_t>(levels));
    for (std::size_t i = 0; i < m_levels.size(); ++i)
        m_levels[i].at = m_low + (m_high - m_low) * static_cast<double>(i + 1) / (levels + 1);
    if (m_levels.empty())
        return;
    section();
    parts();
}

/// The first level that is not below a height.
std::size_t CutSweep::levelAbove(double d) const
{
    const double count = static_cast<double>(m_levels.size());
    const double span = m_high - m_low;
    const double i = span > 0 ? std::ceil((d - m_low) / span * (count + 1)) - 1 : 0;
    return static_cast<std::size_t>(std::clamp(i, 0.0, count));
}

const SweepLevel& CutSweep::near(double at) const
{
    const double count = static_cast<double>(m_levels.size()), span = m_high - m_low;
    const double i = span > 0 ? std::round((at - m_low) / span * (count + 1)) - 1 : 0;
    return m_levels[static_cast<std::size_t>(std::clamp(i, 0.0, count - 1))];
}

/// Area by the segments that triangles leave in a plane, as seen from the middle of the part (Green 1828).
void CutSweep::section()
{
    const mesh::Mesh& m = *m_sketch.mesh;
    const Vec3 origin = m.points.empty() ? Vec3{0, 0, 0} : m.points[0];
    for (const mesh::Triangle& t : m.triangles) {
        std::array<Index, 3> v{t[0], t[1], t[2]};
        double d[3] = {m_heights[v[0]], m_heights[v[1]], m_heights[v[2]]};
        const double low = std::min({d[0], d[1], d[2]}), high = std::max({d[0], d[1], d[2]});
        std::size_t i = levelAbove(low);
        i -= i > 0 ? 1 : 0; // rounding
        while (i < m_levels.size() && m_levels[i].at <= low)
            ++i;
        if (i >= m_levels.size() || m_levels[i].at > high)
            continue;
        const Vec3 face = cross(m.points[v[1]] - m.points[v[0]], m.points[v[2]] - m.points[v[0]]);
        // Along the segment with the solid on the left, seen from above.
        const Vec3 along = cross(m_normal, face);
        for (; i < m_levels.size() && m_levels[i].at <= high; ++i) {
            const double at = m_levels[i].at;
            Vec3 ends[2];
            int n = 0;
            for (int k = 0; k < 3 && n < 2; ++k) {
                const double a = d[k], b = d[(k + 1) % 3];
                if ((a < at) != (b < at)) {
                    const double s = (at - a) / (b - a);
                    ends[n++] = m.points[v[static_cast<std::size_t>(k)]] * (1 - s) +
                                m.points[v[static_cast<std::size_t>((k + 1) % 3)]] * s - origin;
                }
            }
            if (n < 2)
                continue;
            Vec3 from = ends[0], to = ends[1];
            if (dot(to - from, along) < 0)
                std::swap(from, to);
            m_levels[i].areaMm2 += 0.5 * dot(cross(from, to), m_normal);
            m_levels[i].outlineMm += length(to - from);
        }
    }
}

/// Vertices join the parts of the surface below as the plane rises past them, and those above as it sinks.
void CutSweep::parts()
{
    const std::size_t n = m_levels.size();
    for (const bool above : {false, true}) {
        // Where a vertex or an edge begins to count, in steps of the plane on its way.
        const auto stepOf = [&](double d) {
            const std::size_t i = levelAbove(d);
            return above ? n - std::min(n, i) : i;
        };
        std::vector<std::size_t> come(n + 2, 0);
        std::vector<char> used(m_heights.size(), 0);
        std::vector<std::vector<std::uint32_t>> edges(n + 1);
        for (std::uint32_t e = 0; e < m_sketch.edges.size(); ++e) {
            const auto [u, v] = m_sketch.edges[e];
            const std::size_t step = std::max(stepOf(m_heights[u]), stepOf(m_heights[v]));
            if (step <= n)
                edges[step].push_back(e);
            used[u] = used[v] = 1;
        }
        for (std::size_t v = 0; v < used.size(); ++v)
            if (used[v])
                ++come[stepOf(m_heights[v])];
        mesh::DisjointSets<Index> sets(m_heights.size());
        int count = 0;
        for (std::size_t step = 0; step < n; ++step) {
            count += static_cast<int>(come[step]);
            for (const std::uint32_t e : edges[step]) {
                const Index u = sets.find(m_sketch.edges[e].first), v = sets.find(m_sketch.edges[e].second);
                count -= u == v ? 0 : 1;
                sets.join(u, v);
            }
            (above ? m_levels[n - 1 - step].above : m_levels[step].below) = count;
        }
    }
}

Buffer<Vec3> CutSweep::side(double at, bool above, bool solid) const
{
    Buffer<Vec3> out;
    const auto add = [&](const Buffer<Vec3>& points) {
        for (const Vec3 p : points)
            if ((dot(m_normal, p) >= at) == above)
                out.push_back(p);
    };
    add(m_sketch.outline);
    add(m_sketch.few);
    if (solid)
        add(m_sketch.inside);
    addCrossings(at, out);
    return out;
}

void CutSweep::addCrossings(double at, Buffer<Vec3>& out) const
{
    const auto& points = m_sketch.mesh->points;
    for (const auto& [u, v] : m_sketch.edges) {
        const double a = m_heights[u], b = m_heights[v];
        if ((a < at) != (b < at)) {
            const double s = (at - a) / (b - a);
            out.push_back(points[u] * (1 - s) + points[v] * s);
        }
    }
}

Buffer<Vec3> CutSweep::between(double low, double high) const
{
    Buffer<Vec3> out;
    for (const Buffer<Vec3>* points : {&m_sketch.outline, &m_sketch.few})
        for (const Vec3 p : *points)
            if (const double d = dot(m_normal, p); d >= low && d <= high)
                out.push_back(p);
    addCrossings(low, out);
    addCrossings(high, out);
    return out;
}

double farthestFit(const CutSweep& sweep, bool above, const QuickFit& fit, std::span<const Vec3> downs, int halvings)
{
    std::vector<Vec3> all{above ? -sweep.normal() : sweep.normal()};
    all.insert(all.end(), downs.begin(), downs.end());
    double good = above ? sweep.high() : sweep.low(), bad = above ? sweep.low() : sweep.high();
    // No side is longer than the longest diagonal.
    if (std::abs(bad - good) > fit.diagonalMm())
        bad = good + (bad > good ? 1 : -1) * fit.diagonalMm();
    for (int i = 0; i < halvings; ++i) {
        const double middle = (good + bad) / 2;
        (fit.fits(sweep.side(middle, above, false), all) ? good : bad) = middle;
    }
    return good;
}

int fewSlices(const CutSketch& sketch, std::span<const Vec3> directions, const QuickFit& fit,
              std::span<const Vec3> downs, int more)
{
    int best = more;
    for (const Vec3 d : directions) {
        const CutSweep sweep(sketch, d, 0);
        const double size = sweep.high() - sweep.low();
        if (size > 3 * fit.diagonalMm())
            continue;
        const double low = farthestFit(sweep, false, fit, downs, roughHalvings);
        const double high = farthestFit(sweep, true, fit, downs, roughHalvings);
        // As finely as that was looked for.
        if (low >= high - fit.diagonalMm() / (1 << roughHalvings))
            return 2;
        if (best <= 3)
            continue;
        std::vector<Vec3> all{d, -d};
        all.insert(all.end(), downs.begin(), downs.end());
        if (fit.fits(sweep.between(low, high), all))
            best = 3;
    }
    return best;
}

} // namespace quoin::core
