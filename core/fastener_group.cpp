// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fastener_group.h"

#include <algorithm>

namespace quoin::core {

using mesh::Vec2;

namespace {

/// Fasteners nearer together than this have no lever, mm.
constexpr double noLeverMm = 1e-3;

struct Levers {
    double uu = 0, vv = 0, uv = 0; ///< sums of v2, u2, u v about the centroid, mm2
};

Levers leversOf(const std::vector<Vec2>& places, Vec2 centre)
{
    Levers s;
    for (const Vec2 p : places) {
        const Vec2 d = p - centre;
        s.uu += d.y * d.y;
        s.vv += d.x * d.x;
        s.uv += d.x * d.y;
    }
    return s;
}

/// The way in which the pull of a bending moment grows.
Vec2 pullDirection(const SectionForces& f)
{
    const double m = length(f.bendingNmm);
    return m > 0 ? Vec2{-f.bendingNmm.y / m, f.bendingNmm.x / m} : Vec2{0, 1};
}

double pressedEdge(const mesh::Region& outline, Vec2 direction)
{
    double edge = 1e300;
    for (const mesh::Loop& loop : outline)
        for (const Vec2 p : loop)
            edge = std::min(edge, dot(direction, p));
    return edge;
}

} // namespace

Vec2 groupCentroid(const std::vector<Vec2>& places)
{
    Vec2 sum{0, 0};
    for (const Vec2 p : places)
        sum = sum + p;
    return 1.0 / static_cast<double>(places.size()) * sum;
}

bool takesTorsion(const std::vector<Vec2>& places)
{
    const Levers s = leversOf(places, groupCentroid(places));
    return s.uu + s.vv > noLeverMm * noLeverMm;
}

std::vector<Vec2> groupShear(const std::vector<Vec2>& places, const SectionForces& forces)
{
    const Vec2 centre = groupCentroid(places);
    const SectionForces f = forces.movedTo(centre);
    const Levers s = leversOf(places, centre);
    const double polar = s.uu + s.vv;
    std::vector<Vec2> each;
    for (const Vec2 p : places) {
        Vec2 force = 1.0 / static_cast<double>(places.size()) * f.shearN;
        if (takesTorsion(places)) {
            const Vec2 d = p - centre;
            force = force + f.torsionNmm / polar * Vec2{-d.y, d.x};
        }
        each.push_back(force);
    }
    return each;
}

std::optional<std::vector<double>> groupPullAboutCentroid(const std::vector<Vec2>& places, const SectionForces& forces)
{
    const Vec2 centre = groupCentroid(places);
    const SectionForces f = forces.movedTo(centre);
    const Levers s = leversOf(places, centre);
    const double det = s.uu * s.vv - s.uv * s.uv, polar = s.uu + s.vv;
    const double n = static_cast<double>(places.size());
    const Vec2 m = f.bendingNmm;
    Vec2 slope{0, 0};
    if (det > 1e-9 * polar * polar && polar > noLeverMm * noLeverMm) {
        slope = {(-m.y * s.uu - m.x * s.uv) / det, (m.x * s.vv + m.y * s.uv) / det};
    } else if (length(m) > 0) {
        // A row bears only moments that pull along it.
        if (!(polar > noLeverMm * noLeverMm))
            return std::nullopt;
        const double angle = std::atan2(2 * s.uv, s.vv - s.uu) / 2;
        const Vec2 along{std::cos(angle), std::sin(angle)};
        const Vec2 pull{-m.y, m.x};
        if (std::abs(cross(along, pull)) > 1e-6 * length(m))
            return std::nullopt;
        slope = dot(along, pull) / polar * along;
    }
    std::vector<double> each;
    for (const Vec2 p : places)
        each.push_back(f.axialN / n + dot(slope, p - centre));
    return each;
}

std::vector<double> groupPullAboutEdge(const std::vector<Vec2>& places, const mesh::Region& outline,
                                       const SectionForces& forces)
{
    std::vector<double> each(places.size(), 0.0);
    const Vec2 direction = pullDirection(forces);
    const double edge = pressedEdge(outline, direction);
    const double moment = length(forces.bendingNmm) + forces.axialN * (dot(direction, forces.about) - edge);
    if (!(moment > 0))
        return each;
    double sum = 0;
    for (const Vec2 p : places)
        sum += std::pow(dot(direction, p) - edge, 2);
    for (std::size_t i = 0; i < places.size(); ++i)
        each[i] = sum > 0 ? moment * (dot(direction, places[i]) - edge) / sum : 1e300;
    return each;
}

std::vector<double> groupPull(const std::vector<Vec2>& places, const mesh::Region& outline, const SectionForces& forces)
{
    std::vector<double> each = groupPullAboutEdge(places, outline, forces);
    // Tipping about the centroid presses some of the fasteners, which only a face can bear: it stands for a face that
    // touches in the middle only. A group that has no lever of its own tips about the edge.
    if (const auto centroid = groupPullAboutCentroid(places, forces))
        if (std::any_of(each.begin(), each.end(), [](double pull) { return pull > 0; }))
            for (std::size_t i = 0; i < each.size(); ++i)
                each[i] = std::max(each[i], (*centroid)[i]);
    return each;
}

double momentByEdgeNmm(const std::vector<Vec2>& places, const mesh::Region& outline, Vec2 direction, double forceN)
{
    const double edge = pressedEdge(outline, direction);
    double sum = 0, farthest = 0;
    for (const Vec2 p : places) {
        const double y = dot(direction, p) - edge;
        sum += y * y;
        farthest = std::max(farthest, y);
    }
    return farthest > 0 ? forceN * sum / farthest : 0;
}

} // namespace quoin::core
