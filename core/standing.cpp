// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/standing.h"

#include "core/turn_fit.h"
#include "mesh/hull.h"
#include "mesh/plane.h"

#include <algorithm>
#include <vector>

namespace quoin::core {

using mesh::Buffer;
using mesh::Vec2;
using mesh::Vec3;

namespace {

/// Sines below this are rounding of an angle that should give 0: a box along the axes stays exactly along them.
constexpr double zeroSine = 1e-15;

struct Extent {
    double low = 1e300, high = -1e300;
    void add(double v)
    {
        low = std::min(low, v);
        high = std::max(high, v);
    }
    double size() const { return high - low; }
};

double cleaned(double sine)
{
    return std::abs(sine) < zeroSine ? 0 : sine;
}

std::vector<Vec2> flattened(const Buffer<Vec3>& points, Vec3 x, Vec3 y)
{
    std::vector<Vec2> out;
    out.reserve(points.size());
    for (const Vec3 p : points)
        out.push_back({dot(x, p - points[0]), dot(y, p - points[0])});
    return out;
}

} // namespace

Standing standOn(const Buffer<Vec3>& points, Vec3 down, const BedRoom& room, double giveUpBelowMm)
{
    const mesh::PlaneFrame frame = mesh::frameOf({-down, 0});
    Extent height;
    for (const Vec3 p : points)
        height.add(dot(frame.normal, p - points[0]));
    Standing standing{{frame.u, frame.v, frame.normal}, room.heightMm - height.size()};
    if (standing.slackMm < giveUpBelowMm)
        return standing;
    const std::vector<Vec2> shadow = flattened(points, frame.u, frame.v);
    if (room.round) {
        const double radius = mesh::smallestEnclosingCircle(shadow).radius;
        standing.slackMm = std::min(standing.slackMm, room.widthMm / 2 - radius);
        return standing;
    }
    const TurnFit turn = bestTurn(shadow, room.widthMm, room.depthMm);
    const double c = cleaned(std::cos(turn.radians)), s = cleaned(std::sin(turn.radians));
    standing.axes = {c * frame.u - s * frame.v, s * frame.u + c * frame.v, frame.normal};
    standing.slackMm = std::min(standing.slackMm, turn.slackMm);
    return standing;
}

double slackOf(const Buffer<Vec3>& points, const BedAxes& axes, const BedRoom& room)
{
    Extent x, y, z;
    for (const Vec3 p : points) {
        z.add(dot(axes[2], p));
        if (!room.round) {
            x.add(dot(axes[0], p));
            y.add(dot(axes[1], p));
        }
    }
    const double slackZ = room.heightMm - z.size();
    if (!room.round)
        return std::min({room.widthMm - x.size(), room.depthMm - y.size(), slackZ});
    return std::min(slackZ,
                    room.widthMm / 2 - mesh::smallestEnclosingCircle(flattened(points, axes[0], axes[1])).radius);
}

} // namespace quoin::core
