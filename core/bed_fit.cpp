// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/bed_fit.h"

#include "core/bed_room.h"
#include "core/free_turn.h"
#include "core/standing.h"
#include "mesh/hull.h"

#include <algorithm>
#include <numbers>
#include <numeric>

namespace quoin::core {

using mesh::Vec2;
using mesh::Vec3;

namespace {

/// A flat base at most this much smaller than the largest gives way to it for a lower print.
constexpr double nearlyAsLarge = 0.9;

/// Rounding of sums over a hull.
constexpr double grown = 1 + 1e-9;

/// With support, another face is worth trying when it makes the print lower than this share.
constexpr double worthLower = 0.99;

/// A piece turned for a bed, before it is moved there.
struct Trial {
    Standing standing;
    FlatFace base;
    bool standsFlat = false;
};

/// Stands a piece on a face, on what the hull lets through first.
Standing stand(const PieceShape& piece, Vec3 down, const BedRoom& room, double giveUpBelowMm)
{
    const Standing rough = standOn(piece.hull().points, down, room, giveUpBelowMm);
    if (piece.hullIsExact() || rough.slackMm < giveUpBelowMm)
        return rough;
    return standOn(piece.outline(), down, room, giveUpBelowMm);
}

double heightAlong(const PieceShape& piece, Vec3 direction)
{
    double low = 1e300, high = -1e300;
    for (const Vec3 p : piece.hull().points) {
        low = std::min(low, dot(direction, p));
        high = std::max(high, dot(direction, p));
    }
    return high - low;
}

/// The best of the faces on one bed: of those that fit, the largest base, or a nearly as large one with less height;
/// if none fits, the one that sticks out least.
std::optional<Trial> bestFace(const PieceShape& piece, const std::vector<FlatFace>& faces, const BedRoom& room)
{
    std::optional<Trial> best;
    double leastHeight = 0, largestArea = 0;
    for (const FlatFace& face : faces) {
        const bool found = best && best->standing.slackMm >= 0;
        if (found && face.areaMm2 < nearlyAsLarge * largestArea)
            break;
        const Standing standing = stand(piece, face.down, room, best ? std::min(best->standing.slackMm, 0.0) : -1e300);
        const double height = heightAlong(piece, face.down);
        const bool better =
            found ? standing.slackMm >= 0 && height < leastHeight : !best || standing.slackMm > best->standing.slackMm;
        if (!better)
            continue;
        best = Trial{standing, face, true};
        leastHeight = height;
        if (!found)
            largestArea = face.areaMm2;
    }
    return best;
}

/// Every hull face, for a piece that has no flat one: the lowest print that fits, else what sticks out least.
std::optional<Trial> bestWithSupport(const PieceShape& piece, const std::vector<Vec3>& directions, const BedRoom& room)
{
    std::optional<Trial> best;
    double leastHeight = 1e300;
    for (const Vec3 down : directions) {
        const bool found = best && best->standing.slackMm >= 0;
        const double height = heightAlong(piece, down);
        if (found && height > worthLower * leastHeight)
            continue;
        const Standing standing = stand(piece, down, room, best ? std::min(best->standing.slackMm, 0.0) : -1e300);
        if (found ? standing.slackMm >= 0 : !best || standing.slackMm > best->standing.slackMm) {
            best = Trial{standing, {down, 0}, false};
            leastHeight = height;
        }
    }
    return best;
}

std::optional<Trial> bestFreeTurn(const PieceShape& piece, const std::vector<Vec3>& directions, const BedRoom& room)
{
    Standing standing = freeTurn(piece.hull(), directions, room);
    if (!piece.hullIsExact())
        standing.slackMm = slackOf(piece.outline(), standing.axes, room);
    return Trial{standing, {-standing.axes[2], 0}, false};
}

/// Moves a turned piece to the middle of the bed and down to its plate.
Pose poseOf(const PieceShape& piece, const Trial& trial, const BedRoom& room, std::size_t bed)
{
    const BedAxes& a = trial.standing.axes;
    Pose pose;
    pose.printFromAssembled.m = {a[0].x, a[0].y, a[0].z, 0, a[1].x, a[1].y, a[1].z, 0,
                                 a[2].x, a[2].y, a[2].z, 0, 0,      0,      0,      1};
    const mesh::Transform turn = pose.printFromAssembled;
    mesh::Box3 box;
    std::vector<Vec2> shadow;
    for (const Vec3 p : piece.outline()) {
        const Vec3 q = turn.point(p);
        box.add(q);
        if (room.round)
            shadow.push_back({q.x, q.y});
    }
    Vec3 middle = box.centre();
    double radius = 0;
    if (room.round) {
        const mesh::Circle circle = mesh::smallestEnclosingCircle(shadow);
        middle = {circle.centre.x, circle.centre.y, 0};
        radius = circle.radius;
    }
    pose.printFromAssembled = mesh::Transform::translation({-middle.x, -middle.y, -box.min.z}) * turn;
    pose.bed = bed;
    pose.extentsMm = box.extents();
    const Vec3 e = pose.extentsMm;
    const double across = room.round ? room.widthMm / 2 - radius : std::min(room.widthMm - e.x, room.depthMm - e.y);
    pose.slackMm = std::min(across, room.heightMm - e.z);
    if (trial.standing.slackMm >= 0)
        pose.slackMm = std::max(0.0, pose.slackMm); // within rounding
    pose.standsFlat = trial.standsFlat;
    pose.baseAreaMm2 = trial.standsFlat ? trial.base.areaMm2 : piece.areaOnPlateMm2(trial.base.down);
    return pose;
}

/// Beds by their volume, the smallest first.
std::vector<std::size_t> bySize(const std::vector<Bed>& beds)
{
    std::vector<std::size_t> order(beds.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return beds[a].volumeMm3() < beds[b].volumeMm3(); });
    return order;
}

/// Goes over the beds with one way of turning, and keeps what fits first or else sticks out least.
template <class Turning>
bool lookOver(const PieceShape& piece, const std::vector<Bed>& beds, double marginMm, std::optional<Pose>& best,
              Turning&& turning)
{
    for (const std::size_t bed : bySize(beds)) {
        const BedRoom room = roomOf(beds[bed], marginMm);
        const std::optional<Trial> trial = turning(withRounding(room));
        if (!trial)
            continue;
        const Pose pose = poseOf(piece, *trial, room, bed);
        const bool fits = trial->standing.slackMm >= 0;
        if (fits || !best || pose.slackMm > best->slackMm)
            best = pose;
        if (fits)
            return true;
    }
    return false;
}

} // namespace

std::optional<Pose> closestPose(const PieceShape& piece, const std::vector<Bed>& beds, const FitOptions& options)
{
    std::optional<Pose> best;
    if (piece.empty())
        return best;
    const std::vector<FlatFace> faces = piece.flatFaces();
    std::vector<Vec3> directions;
    if (faces.empty() || options.anyRotation)
        directions = piece.faceDirections();
    const auto flat = [&](const BedRoom& room) { return bestFace(piece, faces, room); };
    const auto supported = [&](const BedRoom& room) { return bestWithSupport(piece, directions, room); };
    const auto freely = [&](const BedRoom& room) { return bestFreeTurn(piece, directions, room); };
    const double margin = options.marginMm;
    if (faces.empty() ? lookOver(piece, beds, margin, best, supported) : lookOver(piece, beds, margin, best, flat))
        return best;
    if (options.anyRotation && !clearlyTooLarge(measuresOf(piece.hull()), beds, margin))
        lookOver(piece, beds, margin, best, freely);
    return best;
}

std::optional<Pose> fitOnBeds(const PieceShape& piece, const std::vector<Bed>& beds, const FitOptions& options)
{
    if (clearlyTooLarge(measuresOf(piece.hull()), beds, options.marginMm))
        return std::nullopt;
    std::optional<Pose> pose = closestPose(piece, beds, options);
    if (pose && pose->slackMm < 0)
        pose.reset();
    return pose;
}

std::optional<Pose> fitOnBeds(const mesh::Mesh& piece, const std::vector<Bed>& beds, const FitOptions& options)
{
    return fitOnBeds(PieceShape(piece), beds, options);
}

bool clearlyTooLarge(const HullMeasures& hull, const std::vector<Bed>& beds, double marginMm)
{
    return std::none_of(beds.begin(), beds.end(), [&](const Bed& bed) {
        const BedRoom room = withRounding(roomOf(bed, marginMm));
        const double w = room.widthMm, d = room.depthMm, h = room.heightMm;
        if (w <= 0 || d <= 0 || h <= 0)
            return false;
        const double plate = room.round ? std::numbers::pi * w * w / 4 : w * d;
        const double rim = room.round ? std::numbers::pi * w : 2 * (w + d);
        const double meanWidth = rim / 4 + h / 2; // box (w + d + h) / 2, cylinder (pi r + h) / 2
        return hull.longestSideMm <= std::hypot(w, room.round ? 0 : d, h) && hull.volumeMm3 <= grown * plate * h &&
               hull.areaMm2 <= grown * (2 * plate + rim * h) && hull.meanWidthMm <= grown * meanWidth;
    });
}

double roomLeftMm(const mesh::Mesh& inPrintPose, const Bed& bed, double marginMm)
{
    const BedRoom room = roomOf(bed, marginMm);
    const BedRoom most = withRounding(room);
    const mesh::Box3 box = mesh::bounds(inPrintPose);
    double left = room.heightMm - box.max.z, leftWithRounding = most.heightMm - box.max.z;
    for (const mesh::Triangle& t : inPrintPose.triangles)
        for (const mesh::Index v : t) {
            const Vec3 p = inPrintPose.points[v];
            const auto across = [&](const BedRoom& r) {
                return r.round ? r.widthMm / 2 - std::hypot(p.x, p.y)
                               : std::min(r.widthMm / 2 - std::abs(p.x), r.depthMm / 2 - std::abs(p.y));
            };
            left = std::min(left, across(room));
            leftWithRounding = std::min(leftWithRounding, across(most));
        }
    if (box.min.z < -fitRelative * bed.heightMm) {
        left = std::min(left, box.min.z);
        leftWithRounding = left;
    }
    return left < 0 && leftWithRounding >= 0 ? 0 : left;
}

} // namespace quoin::core
