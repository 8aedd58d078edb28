// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/badge.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

namespace quoin::ui {

using mesh::Vec3;

namespace {

/// A solid's visible part: its cell farthest from the part's outline.
struct Anchor {
    double x = 0, y = 0, roomPx = 0;
};

/// One triangle into the map; cells whose middle it covers and where it is nearest.
void fill(VisibleMap& map, std::vector<float>& depth, const std::array<Seen, 3>& corner, std::uint32_t id)
{
    const auto edge = [](const Seen& a, const Seen& b, double x, double y) {
        return (b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x);
    };
    const double twice = edge(corner[0], corner[1], corner[2].x, corner[2].y);
    if (!(std::abs(twice) > 0))
        return;
    const auto [xLow, xHigh] = std::minmax({corner[0].x, corner[1].x, corner[2].x});
    const auto [yLow, yHigh] = std::minmax({corner[0].y, corner[1].y, corner[2].y});
    const double cell = map.pixelsPerCell;
    const int x0 = std::max(0, static_cast<int>(xLow / cell)),
              x1 = std::min(map.width - 1, static_cast<int>(xHigh / cell));
    const int y0 = std::max(0, static_cast<int>(yLow / cell)),
              y1 = std::min(map.height - 1, static_cast<int>(yHigh / cell));
    for (int y = y0; y <= y1; ++y)
        for (int x = x0; x <= x1; ++x) {
            const double px = (x + 0.5) * cell, py = (y + 0.5) * cell;
            const double a = edge(corner[1], corner[2], px, py) / twice, b = edge(corner[2], corner[0], px, py) / twice;
            const double c = 1 - a - b;
            if (a < 0 || b < 0 || c < 0)
                continue;
            const float z = static_cast<float>(a * corner[0].depthMm + b * corner[1].depthMm + c * corner[2].depthMm);
            const std::size_t at =
                static_cast<std::size_t>(y) * static_cast<std::size_t>(map.width) + static_cast<std::size_t>(x);
            if (z < depth[at]) {
                depth[at] = z;
                map.item[at] = id;
            }
        }
}

/// Distance of every cell to the nearest cell of another solid, in cells, by two sweeps over the eight neighbours
/// (steps 1 and 1.4: Borgefors 1986, "Distance transformations in digital images"); good to a few per cent.
std::vector<float> roomInCells(const VisibleMap& map)
{
    const int w = map.width, h = map.height;
    std::vector<float> room(map.item.size(), std::numeric_limits<float>::max());
    const auto relax = [&](int x, int y, int dx, int dy, float step) {
        const std::size_t at = static_cast<std::size_t>(y * w + x);
        const int nx = x + dx, ny = y + dy;
        if (nx < 0 || ny < 0 || nx >= w || ny >= h) {
            room[at] = std::min(room[at], step);
            return;
        }
        const std::size_t other = static_cast<std::size_t>(ny * w + nx);
        room[at] = std::min(room[at], map.item[other] == map.item[at] ? room[other] + step : step);
    };
    constexpr float straight = 1.0F, aslant = 1.4F;
    for (int y = 0; y < h; ++y)
        for (int x = 0; x < w; ++x) {
            relax(x, y, -1, 0, straight);
            relax(x, y, 0, -1, straight);
            relax(x, y, -1, -1, aslant);
            relax(x, y, 1, -1, aslant);
        }
    for (int y = h - 1; y >= 0; --y)
        for (int x = w - 1; x >= 0; --x) {
            relax(x, y, 1, 0, straight);
            relax(x, y, 0, 1, straight);
            relax(x, y, 1, 1, aslant);
            relax(x, y, -1, 1, aslant);
        }
    return room;
}

std::vector<Anchor> anchors(const VisibleMap& map, std::size_t items)
{
    const std::vector<float> room = roomInCells(map);
    std::vector<Anchor> out(items);
    for (std::size_t at = 0; at < room.size(); ++at) {
        const std::size_t item = map.item[at];
        if (item == 0 || item > items)
            continue;
        Anchor& anchor = out[item - 1];
        const double roomPx = static_cast<double>(room[at]) * map.pixelsPerCell;
        if (roomPx > anchor.roomPx) {
            const std::size_t w = static_cast<std::size_t>(map.width);
            anchor = {(static_cast<double>(at % w) + 0.5) * map.pixelsPerCell,
                      (static_cast<double>(at / w) + 0.5) * map.pixelsPerCell, roomPx};
        }
    }
    return out;
}

/// Chooses places for badges one after another.
class Placer {
public:
    Placer(const VisibleMap& map, double radiusPx) : m_map(map), m_radius(radiusPx) {}

    Badge place(std::size_t item, const Anchor& anchor)
    {
        Badge badge{item, anchor.x, anchor.y, anchor.x, anchor.y, false};
        constexpr double mostlyOnIt = 0.75; // of the badge's radius: a little overhang still reads well
        if (anchor.roomPx < mostlyOnIt * m_radius || meetsAnother(anchor.x, anchor.y))
            moveAside(badge);
        m_done.push_back(badge);
        return badge;
    }

private:
    bool meetsAnother(double x, double y) const
    {
        return std::ranges::any_of(m_done,
                                   [&](const Badge& b) { return std::hypot(b.x - x, b.y - y) < 2.2 * m_radius; });
    }
    /// Share of a badge's place that would hide a solid other than its own.
    double hides(double x, double y, std::size_t item) const
    {
        int covered = 0, looked = 0;
        for (double dy = -m_radius; dy <= m_radius; dy += m_map.pixelsPerCell)
            for (double dx = -m_radius; dx <= m_radius; dx += m_map.pixelsPerCell) {
                const int cx = static_cast<int>((x + dx) / m_map.pixelsPerCell);
                const int cy = static_cast<int>((y + dy) / m_map.pixelsPerCell);
                if (cx < 0 || cy < 0 || cx >= m_map.width || cy >= m_map.height)
                    continue;
                const std::uint32_t there = m_map.item[static_cast<std::size_t>(cy * m_map.width + cx)];
                covered += there != 0 && there != item + 1 ? 1 : 0;
                ++looked;
            }
        return looked > 0 ? static_cast<double>(covered) / looked : 1;
    }
    void moveAside(Badge& badge) const
    {
        constexpr int directions = 36;
        double best = std::numeric_limits<double>::infinity();
        for (const double reach : {2.2, 3.0, 4.0, 5.5, 7.5, 10.0, 14.0, 19.0, 26.0})
            for (int d = 0; d < directions; ++d) {
                const double angle = 2 * std::numbers::pi * (d + 0.5) / directions;
                const double x = badge.anchorX + reach * m_radius * std::cos(angle);
                const double y = badge.anchorY + reach * m_radius * std::sin(angle);
                const double edge = 1.2 * m_radius;
                if (x < edge || y < edge || x > m_map.width * m_map.pixelsPerCell - edge ||
                    y > m_map.height * m_map.pixelsPerCell - edge || meetsAnother(x, y))
                    continue;
                constexpr double hidingWeight = 8; // a badge on white a bit farther off beats one on a neighbour
                const double cost = reach + hidingWeight * hides(x, y, badge.item);
                if (cost < best) {
                    best = cost;
                    badge.x = x;
                    badge.y = y;
                    badge.leader = true;
                }
            }
    }

    const VisibleMap& m_map;
    double m_radius;
    std::vector<Badge> m_done;
};

} // namespace

VisibleMap visibleMap(const std::vector<PlacedMesh>& items, const ViewCamera& camera, int pixelsPerCell)
{
    VisibleMap map;
    map.pixelsPerCell = pixelsPerCell;
    map.width = (camera.widthPx + pixelsPerCell - 1) / pixelsPerCell;
    map.height = (camera.heightPx + pixelsPerCell - 1) / pixelsPerCell;
    map.item.assign(static_cast<std::size_t>(map.width) * static_cast<std::size_t>(map.height), 0);
    std::vector<float> depth(map.item.size(), std::numeric_limits<float>::max());
    std::vector<Seen> seen;
    for (std::size_t i = 0; i < items.size(); ++i) {
        const mesh::Mesh& mesh = *items[i].mesh;
        seen.resize(mesh.points.size());
        std::ranges::transform(mesh.points, seen.begin(),
                               [&](Vec3 p) { return camera.project(items[i].placement.point(p)); });
        for (const auto& t : mesh.triangles)
            fill(map, depth, {seen[t[0]], seen[t[1]], seen[t[2]]}, static_cast<std::uint32_t>(i + 1));
    }
    return map;
}

std::vector<Badge> placeBadges(const VisibleMap& map, const std::vector<std::size_t>& wanted, double radiusPx)
{
    std::size_t items = 0;
    for (const std::size_t item : wanted)
        items = std::max(items, item + 1);
    const std::vector<Anchor> places = anchors(map, items);
    // Those with most room keep their place; the others find a way round them.
    std::vector<std::size_t> order;
    std::ranges::copy_if(wanted, std::back_inserter(order), [&](std::size_t i) { return places[i].roomPx > 0; });
    std::ranges::stable_sort(order, std::ranges::greater{}, [&](std::size_t i) { return places[i].roomPx; });
    Placer placer(map, radiusPx);
    std::vector<Badge> badges;
    for (const std::size_t item : order)
        badges.push_back(placer.place(item, places[item]));
    std::ranges::sort(badges, {}, &Badge::item);
    return badges;
}

} // namespace quoin::ui
