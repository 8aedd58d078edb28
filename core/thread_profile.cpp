// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/thread_profile.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::core {

namespace {

using mesh::Vec2;
using std::numbers::pi;

/// s brought to [-pitch/2, pitch/2).
double wrapped(double s, double pitch)
{
    return s - pitch * std::floor(s / pitch + 0.5);
}

/// The half profile from s = 0 to pitch / 2: a level line, the flank going down, a level line. The fillet is at the
/// low end of the flank for an external thread, at the high end for an internal one.
struct HalfProfile {
    double highMm, lowMm;       ///< radii of the level lines
    double highEndMm, lowEndMm; ///< s of the sharp corners
    double slope;               ///< of the flank, negative
    double radiusMm;            ///< of the fillet
    double turn;                ///< angle of the corner, radians
    Vec2 centre;                ///< of the fillet, (s, r)
};

HalfProfile halfProfile(const ThreadDimensions& t, bool internal, double offset)
{
    HalfProfile h{};
    const double half = t.flankHalfAngle;
    h.highMm = (internal ? t.internalMajorMm : t.majorMm) / 2 + offset;
    h.lowMm = (internal ? t.internalMinorMm : t.minorMm) / 2 + offset;
    h.slope = -1 / std::tan(half);
    // The flank passes the pitch line a quarter pitch from the middle; moved square to itself it rises by offset/sin.
    const double pitchRadius = t.pitchDiameterMm / 2 + offset / std::sin(half);
    const auto flankAt = [&](double r) { return t.pitchMm / 4 + (r - pitchRadius) / h.slope; };
    h.highEndMm = flankAt(h.highMm);
    h.lowEndMm = flankAt(h.lowMm);
    h.turn = pi / 2 - half;
    h.radiusMm = std::max(t.rootRadiusMm + (internal ? offset : -offset), 0.0);
    // The centre stands off both lines by the radius, in the void: above the external root, below the internal one.
    const double side = internal ? -1 : 1;
    const double tangent = h.radiusMm * std::tan(h.turn / 2);
    h.centre = internal ? Vec2{h.highEndMm - tangent, h.highMm + side * h.radiusMm}
                        : Vec2{h.lowEndMm + tangent, h.lowMm + side * h.radiusMm};
    return h;
}

/// Corners of the polygon round the fillet's arc, s ascending.
std::vector<Vec2> filletCorners(const HalfProfile& h, bool internal, double error)
{
    if (h.radiusMm <= 0)
        return {internal ? Vec2{h.highEndMm, h.highMm} : Vec2{h.lowEndMm, h.lowMm}};
    const double step = 2 * std::acos(1 / (1 + error / h.radiusMm));
    const int pieces = std::max(1, static_cast<int>(std::ceil(h.turn / step)));
    const double width = h.turn / pieces;
    const double reach = h.radiusMm / std::cos(width / 2);
    std::vector<Vec2> corners;
    for (int i = 0; i < pieces; ++i) {
        // Angle from the normal of the level line, towards the flank.
        const double from = (i + 0.5) * width;
        const double angle = internal ? from : h.turn - from;
        const Vec2 away = internal ? Vec2{std::sin(angle), std::cos(angle)} : Vec2{-std::sin(angle), -std::cos(angle)};
        corners.push_back(h.centre + reach * away);
    }
    return corners;
}

std::vector<Vec2> halfPoints(const HalfProfile& h, bool internal, double error)
{
    std::vector<Vec2> half = filletCorners(h, internal, error);
    if (internal)
        half.push_back({h.lowEndMm, h.lowMm});
    else
        half.insert(half.begin(), {h.highEndMm, h.highMm});
    return half;
}

} // namespace

ThreadProfile threadProfile(const ThreadDimensions& dimensions, bool internal, double offsetMm, double filletErrorMm)
{
    const HalfProfile h = halfProfile(dimensions, internal, offsetMm);
    const std::vector<Vec2> half = halfPoints(h, internal, filletErrorMm);
    ThreadProfile profile;
    profile.pitchMm = dimensions.pitchMm;
    for (auto p = half.rbegin(); p != half.rend(); ++p)
        profile.points.push_back({-p->x, p->y});
    profile.points.insert(profile.points.end(), half.begin(), half.end());
    profile.largestMm = h.highMm;
    profile.smallestMm = h.lowMm;
    return profile;
}

double ThreadProfile::radiusAt(double s) const
{
    const double w = wrapped(s, pitchMm);
    const auto after = std::partition_point(points.begin(), points.end(), [&](Vec2 p) { return p.x <= w; });
    if (after == points.begin() || after == points.end())
        return points.front().y;
    const Vec2 a = *std::prev(after), b = *after;
    return a.y + (b.y - a.y) * (w - a.x) / (b.x - a.x);
}

double ThreadProfile::slopeAt(double s) const
{
    const double w = wrapped(s, pitchMm);
    const auto after = std::partition_point(points.begin(), points.end(), [&](Vec2 p) { return p.x <= w; });
    if (after == points.begin() || after == points.end())
        return 0;
    const Vec2 a = *std::prev(after), b = *after;
    return (b.y - a.y) / (b.x - a.x);
}

double exactProfileRadius(const ThreadDimensions& dimensions, bool internal, double offsetMm, double s)
{
    const HalfProfile h = halfProfile(dimensions, internal, offsetMm);
    const double w = std::abs(wrapped(s, dimensions.pitchMm));
    const double flank = h.highMm + (w - h.highEndMm) * h.slope;
    const double lines = std::clamp(flank, h.lowMm, h.highMm);
    if (h.radiusMm <= 0)
        return lines;
    // The arc runs from the level line's tangent point to the flank's.
    const double across = h.radiusMm * std::sin(h.turn);
    const double from = internal ? h.centre.x : h.centre.x - across;
    const double to = internal ? h.centre.x + across : h.centre.x;
    if (w < from || w > to)
        return lines;
    const double rise = std::sqrt(std::max(h.radiusMm * h.radiusMm - (w - h.centre.x) * (w - h.centre.x), 0.0));
    return internal ? h.centre.y + rise : h.centre.y - rise;
}

} // namespace quoin::core
