// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quick_fit.h"

#include "core/cut_normals.h"
#include "core/free_turn.h"
#include "core/standing.h"

#include <algorithm>
#include <numbers>

namespace quoin::core {

using mesh::Buffer;
using mesh::Vec3;

namespace {

/// With free rotation, standings that stick out by less than this share of the bed are turned further; at most so many.
constexpr double hopefulShare = 0.25;
constexpr std::size_t mostImproved = 2;

/// More points than this are replaced by those that reach furthest in even directions before they are turned.
constexpr std::size_t fewPoints = 100;
constexpr int directionSteps = 7;

/// The points that reach furthest, each once.
Buffer<Vec3> furthest(const Buffer<Vec3>& points)
{
    if (points.size() <= fewPoints)
        return points;
    static const std::vector<Vec3> directions = evenDirections(directionSteps);
    std::vector<std::size_t> who;
    for (const Vec3 d : directions) {
        std::size_t low = 0, high = 0;
        double least = 1e300, most = -1e300;
        for (std::size_t i = 0; i < points.size(); ++i) {
            const double reach = dot(d, points[i]);
            if (reach < least) {
                least = reach;
                low = i;
            }
            if (reach > most) {
                most = reach;
                high = i;
            }
        }
        who.push_back(low);
        who.push_back(high);
    }
    std::sort(who.begin(), who.end());
    who.erase(std::unique(who.begin(), who.end()), who.end());
    Buffer<Vec3> out;
    for (const std::size_t i : who)
        out.push_back(points[i]);
    return out;
}

} // namespace

QuickFit::QuickFit(const std::vector<Bed>& beds, const FitOptions& options) : m_free(options.anyRotation)
{
    for (const Bed& bed : beds) {
        const BedRoom room = withRounding(roomOf(bed, options.marginMm));
        if (!(room.widthMm > 0) || !(room.depthMm > 0) || !(room.heightMm > 0))
            continue;
        m_rooms.push_back(room);
        const double across = room.round ? room.widthMm : std::hypot(room.widthMm, room.depthMm);
        m_diagonal = std::max(m_diagonal, std::hypot(across, room.heightMm));
        const double plate =
            room.round ? std::numbers::pi / 4 * room.widthMm * room.widthMm : room.widthMm * room.depthMm;
        m_volume = std::max(m_volume, plate * room.heightMm);
        for (const double side : {room.widthMm, room.depthMm, room.heightMm})
            m_sides.push_back(side);
    }
    std::sort(m_sides.begin(), m_sides.end());
    m_sides.erase(std::unique(m_sides.begin(), m_sides.end()), m_sides.end());
}

bool QuickFit::fits(const Buffer<Vec3>& points, std::span<const Vec3> downs) const
{
    if (points.empty())
        return true;
    mesh::Box3 box;
    for (const Vec3 p : points)
        box.add(p);
    const Vec3 e = box.extents();
    if (std::max({e.x, e.y, e.z}) > m_diagonal)
        return false;
    for (const BedRoom& room : m_rooms) {
        std::vector<Standing> near;
        const double hopeful = -hopefulShare * std::min({room.widthMm, room.depthMm, room.heightMm});
        for (const Vec3 down : downs) {
            const Standing standing = standOn(points, down, room, m_free ? hopeful : 0);
            if (standing.slackMm >= 0)
                return true;
            if (m_free && standing.slackMm > hopeful)
                near.push_back(standing);
        }
        std::stable_sort(near.begin(), near.end(),
                         [](const Standing& a, const Standing& b) { return a.slackMm > b.slackMm; });
        if (near.empty())
            continue;
        const Buffer<Vec3> some = furthest(points);
        for (std::size_t i = 0; i < near.size() && i < mostImproved; ++i) {
            const Standing turned = turnedFurther(near[i], some, room);
            if (turned.slackMm >= 0 && slackOf(points, turned.axes, room) >= -1e-3 * room.heightMm)
                return true;
        }
    }
    return false;
}

} // namespace quoin::core
