// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quick_fit.h"

#include "core/cut_normals.h"
#include "core/free_turn.h"
#include "core/leaf_fit.h"
#include "core/piece.h"
#include "core/standing.h"
#include "mesh/plane.h"
#include "mesh/transform.h"

#include <algorithm>
#include <numbers>

namespace quoin::core {

using mesh::Buffer;
using mesh::Vec3;

namespace {

/// With free rotation, standings that stick out by less than this share of the bed are turned further; at most so many.
constexpr double hopefulShare = 0.25;
constexpr std::size_t mostImproved = 2;

/// A lying piece stands evenly between two ways of turning it up: it is pushed off a little (radians).
constexpr Vec3 pushes[] = {{0, 0, 0}, {0.2, 0.1, 0}, {-0.1, 0.2, 0.1}, {0.1, -0.1, 0.2}};
constexpr double nearlyShare = 1e-3;

/// Share of the usual effort in turning pieces freely.
constexpr double briefEffort = 0.1;

/// More points than this are replaced by those that reach furthest in even directions before they are turned.
constexpr std::size_t fewPoints = 100;
constexpr int directionSteps = 7;

/// Of points seen along a direction those that may be corners of their outline, the highest and the lowest: those
/// inside the octagon of the furthest ones are left out (Akl and Toussaint 1978).
Buffer<Vec3> outlineAlong(const Buffer<Vec3>& points, const mesh::PlaneFrame& frame)
{
    if (points.size() <= fewPoints)
        return points;
    constexpr double half = 0.70710678118654752;
    constexpr double directions[8][2] = {{1, 0},  {half, half},   {0, 1},  {-half, half},
                                         {-1, 0}, {-half, -half}, {0, -1}, {half, -half}};
    std::vector<mesh::Vec2> flat(points.size());
    double most[8];
    std::size_t who[8] = {};
    std::fill(std::begin(most), std::end(most), -1e300);
    std::size_t lowest = 0, highest = 0;
    double low = 1e300, high = -1e300;
    for (std::size_t i = 0; i < points.size(); ++i) {
        flat[i] = {dot(frame.u, points[i]), dot(frame.v, points[i])};
        const double h = dot(frame.normal, points[i]);
        if (h < low) {
            low = h;
            lowest = i;
        }
        if (h > high) {
            high = h;
            highest = i;
        }
        for (int k = 0; k < 8; ++k) {
            const double d = directions[k][0] * flat[i].x + directions[k][1] * flat[i].y;
            if (d > most[k]) {
                most[k] = d;
                who[k] = i;
            }
        }
    }
    Buffer<Vec3> out;
    for (std::size_t i = 0; i < points.size(); ++i) {
        bool inside = i != lowest && i != highest;
        for (int k = 0; inside && k < 8; ++k) {
            const mesh::Vec2 a = flat[who[k]], b = flat[who[(k + 1) % 8]];
            inside = who[k] == who[(k + 1) % 8] || cross(b - a, flat[i] - a) > 0;
        }
        if (!inside)
            out.push_back(points[i]);
    }
    return out;
}

} // namespace

Buffer<Vec3> furthestPoints(const Buffer<Vec3>& points)
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
            const mesh::PlaneFrame frame = mesh::frameOf({-down, 0});
            double low = 1e300, high = -1e300;
            for (const Vec3 p : points) {
                low = std::min(low, dot(down, p));
                high = std::max(high, dot(down, p));
            }
            if (high - low > room.heightMm - (m_free ? hopeful : 0))
                continue;
            const Standing standing = standOn(outlineAlong(points, frame), down, room, m_free ? hopeful : 0);
            if (standing.slackMm >= 0)
                return true;
            if (m_free && standing.slackMm > hopeful)
                near.push_back(standing);
        }
        std::stable_sort(near.begin(), near.end(),
                         [](const Standing& a, const Standing& b) { return a.slackMm > b.slackMm; });
        if (near.empty())
            continue;
        const Buffer<Vec3> some = furthestPoints(points);
        for (std::size_t i = 0; i < near.size() && i < mostImproved; ++i) {
            for (const Vec3 push : pushes) {
                Standing start = near[i];
                if (dot(push, push) > 0) {
                    const mesh::Transform turn = mesh::Transform::rotation(push, length(push));
                    for (Vec3& axis : start.axes)
                        axis = turn.direction(axis);
                    start.slackMm = slackOf(some, start.axes, room);
                }
                const Standing turned = turnedFurther(start, some, room);
                if (turned.slackMm >= 0 && slackOf(points, turned.axes, room) >= -nearlyShare * room.heightMm)
                    return true;
            }
        }
    }
    return false;
}

bool fitsBriefly(const PieceShape& piece, const std::vector<Bed>& beds, const FitOptions& options)
{
    FitOptions flat = options;
    flat.anyRotation = false;
    if (fitOnBeds(piece, beds, flat))
        return true;
    if (!options.anyRotation || piece.empty() || clearlyTooLarge(measuresOf(piece.hull()), beds, options.marginMm))
        return false;
    const std::vector<Vec3> directions = piece.faceDirections();
    return std::any_of(beds.begin(), beds.end(), [&](const Bed& bed) {
        const BedRoom room = withRounding(roomOf(bed, options.marginMm));
        if (std::min({room.widthMm, room.depthMm, room.heightMm}) <= 0)
            return false;
        const Standing standing = freeTurn(piece.hull(), directions, room, briefEffort);
        return standing.slackMm >= 0 && (piece.hullIsExact() || slackOf(piece.outline(), standing.axes, room) >= 0);
    });
}

std::optional<int> fittingPieces(const mesh::Mesh& mesh, const std::vector<Bed>& beds, const FitOptions& options,
                                 bool islandsApart)
{
    const LeafBodies bodies(mesh, islandsApart);
    int pieces = 0;
    for (std::size_t i = 0; i < bodies.size(); ++i) {
        if (bodies.size() > 1 && isCrumb(bodies[i]))
            continue;
        const PieceShape shape(bodies[i]);
        if (shape.empty())
            continue;
        if (!fitsBriefly(shape, beds, options))
            return std::nullopt;
        ++pieces;
    }
    return pieces;
}

} // namespace quoin::core
