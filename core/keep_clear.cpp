// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/keep_clear.h"

#include "mesh/tolerance.h"

#include <algorithm>
#include <stdexcept>
#include <tuple>

namespace quoin::core {

using mesh::Vec3;

namespace {

/// Triangles in a leaf of the tree.
constexpr std::uint32_t leafSize = 8;

/// Rounding: half a step of a file for the triangle and as much for the plane.
constexpr double touchRelative = 2 * mesh::tolerance::floatRelative;

/// A corner of three, a cell of few planes: a polygon that seldom grows.
using Polygon = std::vector<Vec3>;

double inside(const HalfSpace& half, Vec3 p)
{
    const double d = half.plane.distance(p);
    return half.above ? d : -d;
}

/// What of a convex polygon (or, with two corners, of a segment) lies deeper than `least` in a half-space.
void clip(Polygon& polygon, const HalfSpace& half, double least)
{
    if (std::all_of(polygon.begin(), polygon.end(), [&](Vec3 p) { return inside(half, p) >= least; }))
        return;
    const bool closed = polygon.size() > 2;
    Polygon kept;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Vec3 a = polygon[i], b = polygon[(i + 1) % polygon.size()];
        const double da = inside(half, a) - least, db = inside(half, b) - least;
        if (da >= 0)
            kept.push_back(a);
        if ((closed || i + 1 < polygon.size()) && (da < 0) != (db < 0))
            kept.push_back(a + (da / (da - db)) * (b - a));
    }
    polygon = kept.size() > 1 ? std::move(kept) : Polygon{};
}

OffsetRange rangeOf(const Polygon& polygon, Vec3 normal)
{
    OffsetRange range{1e300, -1e300};
    for (const Vec3 p : polygon) {
        range.from = std::min(range.from, dot(normal, p));
        range.to = std::max(range.to, dot(normal, p));
    }
    return range;
}

OffsetRange rangeOf(const mesh::Box3& box, Vec3 normal)
{
    const Vec3 half = 0.5 * box.extents();
    const double middle = dot(normal, box.centre());
    const double reach = std::abs(normal.x) * half.x + std::abs(normal.y) * half.y + std::abs(normal.z) * half.z;
    return {middle - reach, middle + reach};
}

/// The gaps that blocked ranges leave between two offsets.
std::vector<OffsetRange> gapsOf(std::vector<OffsetRange> blocked, double from, double to)
{
    std::sort(blocked.begin(), blocked.end(),
              [](const OffsetRange& a, const OffsetRange& b) { return a.from < b.from; });
    std::vector<OffsetRange> gaps;
    double reached = from;
    for (const OffsetRange& b : blocked) {
        if (b.from > reached)
            gaps.push_back({reached, std::min(b.from, to)});
        reached = std::max(reached, b.to);
        if (reached >= to)
            return gaps;
    }
    gaps.push_back({reached, to});
    return gaps;
}

} // namespace

/// The half-spaces that may cut something off, and the border that only touches.
struct KeepClear::Cell {
    std::vector<HalfSpace> halves;
    double touchMm;

    /// Whether nothing of a box lies within; drops the half-spaces that hold all of it.
    bool misses(const mesh::Box3& box, Cell& smaller) const
    {
        smaller.touchMm = touchMm;
        smaller.halves.clear();
        for (const HalfSpace& half : halves) {
            const OffsetRange range = rangeOf(box, half.plane.normal);
            const double low = half.above ? range.from - half.plane.offset : half.plane.offset - range.to;
            const double high = half.above ? range.to - half.plane.offset : half.plane.offset - range.from;
            if (high < touchMm)
                return true;
            if (low < 2 * touchMm)
                smaller.halves.push_back(half);
        }
        return false;
    }

    Polygon clipped(Polygon polygon) const
    {
        for (const HalfSpace& half : halves)
            if (!polygon.empty())
                clip(polygon, half, touchMm);
        return polygon;
    }
    Polygon clipped(const Marked& t) const { return clipped(Polygon{t.corners[0], t.corners[1], t.corners[2]}); }
    Polygon edge(const Marked& t, std::size_t k) const
    {
        return clipped(Polygon{t.corners[k], t.corners[(k + 1) % 3]});
    }
};

KeepClear::KeepClear(const mesh::Mesh& mesh, const std::vector<mesh::Index>& triangles, double scale)
{
    std::vector<mesh::Index> once = triangles;
    std::sort(once.begin(), once.end());
    once.erase(std::unique(once.begin(), once.end()), once.end());
    if (!once.empty() && once.back() >= mesh.triangles.size())
        throw std::out_of_range("KeepClear: the mesh has no such triangle");
    mesh::Mesh soup = mesh::welded(mesh::subset(mesh, once));
    double farthest = 0;
    for (Vec3& p : soup.points) {
        p = scale * p;
        farthest = std::max({farthest, std::abs(p.x), std::abs(p.y), std::abs(p.z)});
    }
    m_touchMm = touchRelative * farthest;
    link(soup);
}

/// Makes the triangles with their neighbours, and the tree over them.
void KeepClear::link(const mesh::Mesh& soup)
{
    const auto count = static_cast<std::uint32_t>(soup.triangles.size());
    std::vector<Marked> all(count);
    std::vector<std::tuple<mesh::Index, mesh::Index, std::uint32_t, std::size_t>> edges;
    for (std::uint32_t t = 0; t < count; ++t) {
        const mesh::Triangle& corners = soup.triangles[t];
        for (std::size_t k = 0; k < 3; ++k) {
            all[t].corners[k] = soup.points[corners[k]];
            edges.emplace_back(std::min(corners[k], corners[(k + 1) % 3]), std::max(corners[k], corners[(k + 1) % 3]),
                               t, k);
        }
        const auto& c = all[t].corners;
        m_areaMm2 += length(cross(c[1] - c[0], c[2] - c[0])) / 2;
    }
    std::sort(edges.begin(), edges.end());
    // Around an edge each triangle names the next: if two of them lie apart, so do some that follow each other.
    for (std::size_t first = 0, end = 0; first < edges.size(); first = end) {
        const auto same = [&](std::size_t i) {
            return std::get<0>(edges[i]) == std::get<0>(edges[first]) &&
                   std::get<1>(edges[i]) == std::get<1>(edges[first]);
        };
        while (end < edges.size() && same(end))
            ++end;
        for (std::size_t i = first; end - first > 1 && i < end; ++i)
            all[std::get<2>(edges[i])].beside[std::get<3>(edges[i])] = std::get<2>(edges[i + 1 < end ? i + 1 : first]);
    }
    m_triangles = std::move(all);
    std::vector<std::uint32_t> order(count), place(count);
    for (std::uint32_t t = 0; t < count; ++t)
        order[t] = t;
    if (count > 0)
        build(order, 0, count);
    std::vector<Marked> sorted(count);
    for (std::uint32_t i = 0; i < count; ++i)
        place[order[i]] = i;
    for (std::uint32_t i = 0; i < count; ++i) {
        sorted[i] = m_triangles[order[i]];
        for (std::uint32_t& b : sorted[i].beside)
            b = b == none ? none : place[b];
    }
    m_triangles = std::move(sorted);
}

std::uint32_t KeepClear::build(std::vector<std::uint32_t>& order, std::uint32_t first, std::uint32_t end)
{
    const auto node = static_cast<std::uint32_t>(m_nodes.size());
    m_nodes.emplace_back();
    mesh::Box3 box;
    for (std::uint32_t i = first; i < end; ++i)
        for (const Vec3 p : m_triangles[order[i]].corners)
            box.add(p);
    m_nodes[node].box = box;
    if (end - first <= leafSize) {
        m_nodes[node].first = first;
        m_nodes[node].count = end - first;
        return node;
    }
    const Vec3 e = box.extents();
    const int axis = e.x >= e.y && e.x >= e.z ? 0 : e.y >= e.z ? 1 : 2;
    const auto middle = [&](std::uint32_t t) {
        const auto& c = m_triangles[t].corners;
        return c[0][axis] + c[1][axis] + c[2][axis];
    };
    const std::uint32_t half = first + (end - first) / 2;
    std::nth_element(order.begin() + first, order.begin() + half, order.begin() + end,
                     [&](std::uint32_t a, std::uint32_t b) {
                         const double ma = middle(a), mb = middle(b);
                         return ma != mb ? ma < mb : a < b;
                     });
    build(order, first, half);
    const std::uint32_t second = build(order, half, end);
    m_nodes[node].second = second;
    return node;
}

/// Calls each(triangle, cell) for what may lie in a range of offsets and in the cell, until it says true.
template <class Visit>
bool KeepClear::visit(std::uint32_t node, Vec3 normal, OffsetRange range, const Cell& cell, Visit&& each) const
{
    if (m_nodes.empty())
        return false;
    const Node& n = m_nodes[node];
    const OffsetRange own = rangeOf(n.box, normal);
    Cell smaller;
    if (own.to < range.from - 2 * m_touchMm || own.from > range.to + 2 * m_touchMm || cell.misses(n.box, smaller))
        return false;
    if (n.count == 0)
        return visit(node + 1, normal, range, smaller, each) || visit(n.second, normal, range, smaller, each);
    for (std::uint32_t t = n.first; t < n.first + n.count; ++t)
        if (each(t, smaller))
            return true;
    return false;
}

/// -1 below, 1 above, 2 both, 0 not in the cell.
int KeepClear::sideOf(const Marked& triangle, Vec3 normal, double offset, const Cell& cell) const
{
    const Polygon polygon = cell.clipped(triangle);
    if (polygon.empty())
        return 0;
    const OffsetRange range = rangeOf(polygon, normal);
    const bool above = range.to > offset + m_touchMm, below = range.from < offset - m_touchMm;
    if (above || below)
        return above && below ? 2 : above ? 1 : -1;
    const auto& c = triangle.corners;
    return dot(cross(c[1] - c[0], c[2] - c[0]), normal) > 0 ? -1 : 1;
}

std::optional<Vec3> KeepClear::crossing(const mesh::Plane& plane, const std::vector<HalfSpace>& within) const
{
    std::optional<Vec3> place;
    const Cell whole{within, m_touchMm};
    const auto near = [&](Vec3 p) { return std::abs(plane.distance(p)) <= m_touchMm; };
    visit(0, plane.normal, {plane.offset, plane.offset}, whole, [&](std::uint32_t t, const Cell& cell) {
        const Marked& triangle = m_triangles[t];
        const int side = sideOf(triangle, plane.normal, plane.offset, cell);
        if (side == 2) {
            const Polygon polygon = cell.clipped(triangle);
            const auto lower = [&](Vec3 a, Vec3 b) { return plane.distance(a) < plane.distance(b); };
            const auto [low, high] = std::minmax_element(polygon.begin(), polygon.end(), lower);
            const double down = -plane.distance(*low), up = plane.distance(*high);
            place = *low + (down / (down + up)) * (*high - *low);
            return true;
        }
        for (std::size_t k = 0; k < 3 && side != 0; ++k) {
            if (triangle.beside[k] == none)
                continue;
            const Polygon edge = cell.edge(triangle, k);
            if (edge.empty() || !std::all_of(edge.begin(), edge.end(), near))
                continue;
            // The neighbour may lie in another leaf of the tree: it is asked about the whole cell.
            const int other = sideOf(m_triangles[triangle.beside[k]], plane.normal, plane.offset, whole);
            if (other * side == -1) {
                place = 0.5 * (edge.front() + edge.back());
                return true;
            }
        }
        return false;
    });
    return place;
}

std::vector<OffsetRange> KeepClear::freeOffsets(Vec3 normal, double from, double to,
                                                const std::vector<HalfSpace>& within) const
{
    std::vector<OffsetRange> blocked;
    const Cell whole{within, m_touchMm};
    visit(0, normal, {from, to}, whole, [&](std::uint32_t t, const Cell& cell) {
        const Marked& triangle = m_triangles[t];
        const Polygon polygon = cell.clipped(triangle);
        if (polygon.empty())
            return false;
        const OffsetRange range = rangeOf(polygon, normal);
        if (range.to - range.from > 2 * m_touchMm)
            blocked.push_back({range.from + m_touchMm, range.to - m_touchMm});
        for (std::size_t k = 0; k < 3; ++k) {
            if (triangle.beside[k] == none)
                continue;
            const Polygon edge = cell.edge(triangle, k);
            const OffsetRange flat = rangeOf(edge, normal);
            if (edge.empty() || flat.to - flat.from > 2 * m_touchMm)
                continue;
            const double offset = (flat.from + flat.to) / 2;
            if (sideOf(triangle, normal, offset, cell) *
                    sideOf(m_triangles[triangle.beside[k]], normal, offset, whole) ==
                -1)
                blocked.push_back({offset - m_touchMm, offset + m_touchMm});
        }
        return false;
    });
    return gapsOf(std::move(blocked), from, to);
}

std::vector<mesh::Buffer<Vec3>> KeepClear::patches() const
{
    std::vector<mesh::Buffer<Vec3>> all;
    std::vector<bool> seen(m_triangles.size(), false);
    for (std::uint32_t start = 0; start < m_triangles.size(); ++start) {
        if (seen[start])
            continue;
        all.emplace_back();
        std::vector<std::uint32_t> waiting{start};
        seen[start] = true;
        while (!waiting.empty()) {
            const Marked& t = m_triangles[waiting.back()];
            waiting.pop_back();
            all.back().insert(all.back().end(), t.corners.begin(), t.corners.end());
            for (const std::uint32_t b : t.beside)
                if (b != none && !seen[b]) {
                    seen[b] = true;
                    waiting.push_back(b);
                }
        }
    }
    return all;
}

} // namespace quoin::core
