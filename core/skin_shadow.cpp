// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/skin_shadow.h"

#include "mesh/segment_distance.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::core {

namespace {

/// Triangles to a cell, on the whole.
constexpr double trianglesPerCell = 2;
constexpr int mostCellsAcross = 2048;

/// A triangle cut to a slab and a half plane has up to six corners.
struct Clipped {
    std::array<mesh::Vec3, 9> at; ///< x, y, depth
    std::size_t count = 0;
    void add(mesh::Vec3 p) { at[count++] = p; }
};

/// Keeps what lies where a linear measure is not negative (Sutherland and Hodgman 1974).
template <class Measure>
Clipped clipped(const Clipped& polygon, const Measure& measure)
{
    Clipped out;
    for (std::size_t i = 0, j = polygon.count - 1; i < polygon.count; j = i++) {
        const mesh::Vec3 a = polygon.at[j], b = polygon.at[i];
        const double ma = measure(a), mb = measure(b);
        if ((ma < 0) != (mb < 0))
            out.add(a + (ma / (ma - mb)) * (b - a));
        if (mb >= 0)
            out.add(b);
    }
    return out;
}

/// Even-odd; polygons without area hold nothing.
template <class Corners>
bool holds(const Corners& corners, std::size_t count, mesh::Vec2 p)
{
    bool inside = false;
    for (std::size_t i = 0, j = count - 1; i < count; j = i++)
        if ((corners[i].y > p.y) != (corners[j].y > p.y) &&
            p.x < corners[j].x + (p.y - corners[j].y) * (corners[i].x - corners[j].x) / (corners[i].y - corners[j].y))
            inside = !inside;
    return inside;
}

} // namespace

SkinShadow::SkinShadow(const mesh::Mesh& m, const mesh::Plane& cut, mesh::Label face, double inward, double reachMm)
{
    const mesh::PlaneFrame frame = mesh::frameOf(cut);
    for (std::size_t t = 0; t < m.triangles.size(); ++t) {
        if (m.label(t) == face)
            continue;
        std::array<double, 3> depth{};
        for (int k = 0; k < 3; ++k)
            depth[static_cast<std::size_t>(k)] = inward * cut.distance(m.corner(t, k));
        const auto [least, most] = std::minmax_element(depth.begin(), depth.end());
        if (*most < 0 || *least > reachMm)
            continue;
        for (int k = 0; k < 3; ++k) {
            const mesh::Vec2 q = frame.flat(m.corner(t, k));
            m_corners.push_back({q.x, q.y, depth[static_cast<std::size_t>(k)]});
        }
    }
    sortIntoCells();
}

void SkinShadow::sortIntoCells()
{
    const std::size_t triangles = m_corners.size() / 3;
    if (triangles == 0)
        return;
    mesh::Vec2 high{-1e300, -1e300};
    m_low = {1e300, 1e300};
    for (const Corner& c : m_corners) {
        m_low = {std::min(m_low.x, c.x), std::min(m_low.y, c.y)};
        high = {std::max(high.x, c.x), std::max(high.y, c.y)};
    }
    const mesh::Vec2 size = high - m_low;
    m_cellMm = std::max(std::sqrt(std::max(size.x * size.y, 1.0) * trianglesPerCell / static_cast<double>(triangles)),
                        std::max({size.x, size.y, 1e-3}) / mostCellsAcross);
    m_nx = static_cast<int>(size.x / m_cellMm) + 1;
    m_ny = static_cast<int>(size.y / m_cellMm) + 1;
    m_cells.resize(static_cast<std::size_t>(m_nx) * static_cast<std::size_t>(m_ny));
    // Twice over the triangles: counted, then listed.
    const auto each = [&](const auto& act) {
        for (std::size_t t = 0; t < triangles; ++t) {
            const Corner *a = &m_corners[3 * t], *b = a + 1, *c = a + 2;
            const auto column = [&](double x) { return static_cast<int>((x - m_low.x) / m_cellMm); };
            const auto row = [&](double y) { return static_cast<int>((y - m_low.y) / m_cellMm); };
            const int x0 = column(std::min({a->x, b->x, c->x})), x1 = column(std::max({a->x, b->x, c->x}));
            const int y0 = row(std::min({a->y, b->y, c->y})), y1 = row(std::max({a->y, b->y, c->y}));
            for (int y = y0; y <= y1; ++y)
                for (int x = x0; x <= x1; ++x)
                    act(t, m_cells[static_cast<std::size_t>(y) * static_cast<std::size_t>(m_nx) +
                                   static_cast<std::size_t>(x)]);
        }
    };
    each([](std::size_t, Cell& cell) { ++cell.end; });
    std::uint32_t sum = 0;
    for (Cell& cell : m_cells) {
        cell.first = sum;
        sum += cell.end;
        cell.end = cell.first;
    }
    m_listed.resize(sum);
    each([&](std::size_t t, Cell& cell) {
        m_listed[cell.end++] = static_cast<std::uint32_t>(t);
        for (std::size_t k = 0; k < 3; ++k) {
            // A float's rounding is no more than this.
            const double depth = m_corners[3 * t + k].depth, spare = 1e-6 * std::abs(depth) + 1e-6;
            cell.least = std::min(cell.least, static_cast<float>(depth - spare));
            cell.most = std::max(cell.most, static_cast<float>(depth + spare));
        }
    });
}

void SkinShadow::look(std::size_t triangle, const Stretch& stretch, Gap& best) const
{
    const Corner* c = &m_corners[3 * triangle];
    if (std::max({c[0].depth, c[1].depth, c[2].depth}) < stretch.fromMm ||
        std::min({c[0].depth, c[1].depth, c[2].depth}) > stretch.toMm)
        return;
    Clipped skin;
    for (int k = 0; k < 3; ++k)
        skin.add({c[k].x, c[k].y, c[k].depth});
    skin = clipped(skin, [&](mesh::Vec3 p) { return p.z - stretch.fromMm; });
    if (skin.count > 0)
        skin = clipped(skin, [&](mesh::Vec3 p) { return stretch.toMm - p.z; });
    if (skin.count > 0 && stretch.within)
        skin = clipped(skin, [&](mesh::Vec3 p) {
            return stretch.within->offsetMm - dot(stretch.within->normal, mesh::Vec2{p.x, p.y});
        });
    if (skin.count == 0)
        return;
    const mesh::Loop& foot = stretch.footprint;
    if (holds(skin.at, skin.count, foot.front()) || holds(foot, foot.size(), {skin.at[0].x, skin.at[0].y})) {
        best = {0, skin.at[0].z};
        return;
    }
    for (std::size_t i = 0, j = skin.count - 1; i < skin.count; j = i++)
        for (std::size_t k = 0, l = foot.size() - 1; k < foot.size(); l = k++) {
            const mesh::SegmentGap gap =
                mesh::segmentGap({skin.at[j].x, skin.at[j].y, 0}, {skin.at[i].x, skin.at[i].y, 0},
                                 {foot[l].x, foot[l].y, 0}, {foot[k].x, foot[k].y, 0});
            if (gap.distanceMm < best.acrossMm)
                best = {gap.distanceMm, skin.at[j].z + gap.along * (skin.at[i].z - skin.at[j].z)};
        }
}

void SkinShadow::lookWithin(const Stretch& stretch, Gap& best) const
{
    mesh::Vec2 low{1e300, 1e300}, high{-1e300, -1e300};
    for (const mesh::Vec2 p : stretch.footprint) {
        low = {std::min(low.x, p.x), std::min(low.y, p.y)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
    const auto cellOf = [&](double along, double from, int count) {
        return static_cast<int>(std::clamp(std::floor((along - from) / m_cellMm), -1.0, static_cast<double>(count)));
    };
    const int x0 = std::max(0, cellOf(low.x - best.acrossMm, m_low.x, m_nx)),
              x1 = std::min(m_nx - 1, cellOf(high.x + best.acrossMm, m_low.x, m_nx)),
              y0 = std::max(0, cellOf(low.y - best.acrossMm, m_low.y, m_ny)),
              y1 = std::min(m_ny - 1, cellOf(high.y + best.acrossMm, m_low.y, m_ny));
    for (int y = y0; y <= y1; ++y)
        for (int x = x0; x <= x1; ++x) {
            const Cell& cell =
                m_cells[static_cast<std::size_t>(y) * static_cast<std::size_t>(m_nx) + static_cast<std::size_t>(x)];
            if (cell.most < stretch.fromMm || cell.least > stretch.toMm)
                continue;
            for (std::uint32_t i = cell.first; i < cell.end && best.acrossMm > 0; ++i)
                look(m_listed[i], stretch, best);
        }
}

SkinShadow::Gap SkinShadow::gap(const Stretch& stretch, double upToMm) const
{
    const Gap none{upToMm, stretch.fromMm};
    if (m_cells.empty() || !(stretch.fromMm <= stretch.toMm))
        return none;
    // In growing circles: the nearest skin is mostly near.
    for (double within = std::min(upToMm, 4 * m_cellMm);; within = std::min(2 * within, upToMm)) {
        Gap best{within, stretch.fromMm};
        lookWithin(stretch, best);
        if (best.acrossMm < within)
            return best;
        if (within >= upToMm)
            return none;
    }
}

} // namespace quoin::core
