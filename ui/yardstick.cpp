// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/yardstick.h"

#include <array>
#include <cmath>
#include <numbers>

namespace quoin::ui {

using mesh::Index;
using mesh::Mesh;
using mesh::Vec2;
using mesh::Vec3;

namespace {

/// Two round ends and the straight band that touches both: a limb. Shares of the body's height.
struct Limb {
    Vec2 from;
    double fromRadius;
    Vec2 to;
    double toRadius;
};

// Right half of the body, and what stands in the middle; the usual eight heads to a standing figure, drawn by eye.
constexpr std::array limbs{
    Limb{{0, 0.953}, 0.047, {0, 0.905}, 0.036},         // head
    Limb{{0, 0.890}, 0.029, {0, 0.820}, 0.034},         // neck
    Limb{{0.088, 0.795}, 0.026, {0, 0.812}, 0.040},     // shoulder
    Limb{{0.048, 0.765}, 0.056, {0.030, 0.625}, 0.046}, // chest
    Limb{{0.030, 0.625}, 0.046, {0.040, 0.520}, 0.054}, // hip
    Limb{{0.093, 0.788}, 0.026, {0.110, 0.630}, 0.021}, // upper arm
    Limb{{0.110, 0.630}, 0.021, {0.122, 0.480}, 0.014}, // lower arm
    Limb{{0.122, 0.480}, 0.015, {0.122, 0.430}, 0.015}, // hand
    Limb{{0.045, 0.520}, 0.049, {0.050, 0.285}, 0.031}, // thigh
    Limb{{0.050, 0.285}, 0.031, {0.052, 0.045}, 0.019}, // shin
    Limb{{0.054, 0.018}, 0.018, {0.076, 0.013}, 0.013}, // foot
};

constexpr int halfTurnSides = 14;

/// The outline of a limb, counter-clockwise.
std::vector<Vec2> outline(const Limb& limb)
{
    const Vec2 along = limb.to - limb.from;
    const double distance = length(along);
    const double heading = std::atan2(along.y, along.x);
    // The touching lines lean in by the difference of the radii.
    const double lean = std::acos((limb.fromRadius - limb.toRadius) / distance);
    std::vector<Vec2> points;
    const auto arc = [&](Vec2 centre, double radius, double from, double to) {
        for (int i = 0; i <= halfTurnSides; ++i) {
            const double a = from + (to - from) * i / halfTurnSides;
            points.push_back(centre + radius * Vec2{std::cos(a), std::sin(a)});
        }
    };
    arc(limb.to, limb.toRadius, heading - lean, heading + lean);
    arc(limb.from, limb.fromRadius, heading + lean, heading + 2 * std::numbers::pi - lean);
    return points;
}

} // namespace

Mesh personOutline(Vec3 foot, Vec3 right)
{
    Mesh mesh;
    for (const Limb& limb : limbs)
        for (const double side : {1.0, -1.0}) {
            const auto first = static_cast<Index>(mesh.points.size());
            const std::vector<Vec2> points = outline(limb);
            for (const Vec2 p : points)
                mesh.points.push_back(foot + personHeightMm * (side * p.x * right + p.y * Vec3{0, 0, 1}));
            for (Index i = 1; i + 1 < points.size(); ++i)
                mesh.triangles.push_back(side > 0 ? mesh::Triangle{first, first + i, first + i + 1}
                                                  : mesh::Triangle{first, first + i + 1, first + i});
        }
    return mesh;
}

double roundLengthMm(double mostMm)
{
    constexpr double least = 1e-3;
    if (!(mostMm > least))
        return least;
    const double power = std::pow(10.0, std::floor(std::log10(mostMm) + 1e-9));
    for (const double digit : {5.0, 2.0})
        if (digit * power <= mostMm * (1 + 1e-9))
            return digit * power;
    return power;
}

Mesh rodFields(Vec3 start, Vec3 right, double lengthMm, double sideMm, bool odd)
{
    constexpr int fields = 5;
    const Vec3 up{0, 0, 1}, back = cross(right, up);
    Mesh mesh;
    for (int field = odd ? 1 : 0; field < fields; field += 2) {
        const auto first = static_cast<Index>(mesh.points.size());
        for (int corner = 0; corner < 8; ++corner)
            mesh.points.push_back(start + lengthMm * (field + (corner & 1)) / fields * right +
                                  ((corner & 2) != 0 ? sideMm : 0.0) * back + ((corner & 4) != 0 ? sideMm : 0.0) * up);
        // right, back, up is a left-handed set of axes seen this way: faces are listed accordingly.
        constexpr std::array<std::array<Index, 4>, 6> faces{
            {{0, 1, 3, 2}, {4, 6, 7, 5}, {0, 4, 5, 1}, {2, 3, 7, 6}, {0, 2, 6, 4}, {1, 5, 7, 3}}};
        for (const auto& f : faces) {
            mesh.triangles.push_back({first + f[0], first + f[1], first + f[2]});
            mesh.triangles.push_back({first + f[0], first + f[2], first + f[3]});
        }
    }
    return mesh;
}

} // namespace quoin::ui
