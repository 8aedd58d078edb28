// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/measure.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

namespace quoin::ui {

using mesh::Index;
using mesh::Vec3;

namespace {

/// Height of a triangle against its longest side below which three points count as on a line.
constexpr double leastHeightShare = 1e-6;
/// Turn at an edge from which on it is an edge and not the inside of a flat place.
const double leastEdgeCosine = std::cos(3 * std::numbers::pi / 180);
constexpr std::size_t snapTriangles = 40;
/// A corner is taken although the middle of an edge is nearer by this much.
constexpr double cornerBonusPx = 4;

std::string trimmed(double value, int decimals)
{
    char text[64];
    std::snprintf(text, sizeof text, "%.*f", decimals, value);
    std::string s = text;
    while (s.find('.') != std::string::npos && s.back() == '0' && s[s.size() - 2] != '.')
        s.pop_back();
    return s == "-0.0" ? "0.0" : s;
}

struct Nearest {
    std::optional<SnapPlace> place;
    double px;

    void offer(SnapPlace::Kind kind, Vec3 p, const OrbitCamera& camera, ScreenPoint pointer)
    {
        const auto seen = camera.project(p);
        if (!seen)
            return;
        const double d = std::hypot(seen->x - pointer.x, seen->y - pointer.y);
        if (d <= px) {
            px = d;
            place = SnapPlace{kind, p};
        }
    }
};

/// Whether a triangle of a placed mesh shows its outside to the viewer.
bool facesViewer(const mesh::Mesh& mesh, const mesh::Transform& placement, Index t, const OrbitCamera& camera)
{
    const Vec3 a = placement.point(mesh.corner(t, 0)), b = placement.point(mesh.corner(t, 1)),
               c = placement.point(mesh.corner(t, 2));
    const double side = dot(cross(b - a, c - a), camera.parallel ? camera.towardsViewer() : camera.eye() - a);
    return placement.determinant() < 0 ? side < 0 : side > 0;
}

} // namespace

std::optional<double> angleAt(Vec3 a, Vec3 corner, Vec3 b)
{
    const Vec3 u = a - corner, v = b - corner;
    if (!(length(u) > 0) || !(length(v) > 0))
        return std::nullopt;
    return std::atan2(length(cross(u, v)), dot(u, v));
}

double angleBetweenFaces(Vec3 normalA, Vec3 normalB)
{
    return std::numbers::pi - std::atan2(length(cross(normalA, normalB)), dot(normalA, normalB));
}

std::optional<SpaceCircle> circleThrough(Vec3 a, Vec3 b, Vec3 c)
{
    const Vec3 u = b - a, v = c - a, n = cross(u, v);
    const double longest = std::max({length(u), length(v), length(c - b)});
    if (!(length(n) > leastHeightShare * longest * longest))
        return std::nullopt;
    // Circumcentre in barycentric form.
    const Vec3 toCentre = (dot(u, u) * cross(v, n) + dot(v, v) * cross(n, u)) / (2 * dot(n, n));
    return SpaceCircle{a + toCentre, normalized(n), length(toCentre)};
}

std::string lengthText(double mm)
{
    if (std::abs(mm) >= 999.95)
        return trimmed(mm / 1000, 4) + " m";
    return trimmed(mm, std::abs(mm) < 100 ? 2 : 1) + " mm";
}

std::string angleText(double radians)
{
    return trimmed(radians * 180 / std::numbers::pi, 1) + "°";
}

double roundLengthBelow(double mm)
{
    if (!(mm > 0) || !std::isfinite(mm))
        return 0;
    const double power = std::pow(10, std::floor(std::log10(mm)));
    for (const double digit : {10.0, 5.0, 2.0})
        if (digit * power <= mm)
            return digit * power;
    return power;
}

std::optional<SnapPlace> snapPlace(const mesh::Mesh& mesh, const SurfaceNeighbours* neighbours,
                                   const mesh::Transform& placement, Index triangle, const OrbitCamera& camera,
                                   ScreenPoint pointer, double reachPx)
{
    const auto near = neighbours ? smoothPatch(mesh, *neighbours, triangle, std::numbers::pi, snapTriangles)
                                 : std::vector<Index>{triangle};
    Nearest corner{{}, reachPx}, middle{{}, reachPx};
    for (const Index t : near) {
        if (!facesViewer(mesh, placement, t, camera))
            continue;
        for (std::size_t k = 0; k < 3; ++k) {
            const Vec3 a = mesh.corner(t, static_cast<int>(k)), b = mesh.corner(t, static_cast<int>((k + 1) % 3));
            corner.offer(SnapPlace::Kind::Corner, placement.point(a), camera, pointer);
            const Index other = neighbours ? neighbours->across[3 * std::size_t{t} + k] : SurfaceNeighbours::none;
            if (other == SurfaceNeighbours::none ||
                dot(triangleNormal(mesh, t), triangleNormal(mesh, other)) < leastEdgeCosine)
                middle.offer(SnapPlace::Kind::EdgeMiddle, placement.point(0.5 * (a + b)), camera, pointer);
        }
    }
    return corner.place && corner.px <= middle.px + cornerBonusPx ? corner.place : middle.place;
}

} // namespace quoin::ui
