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
    Limb{{0, 0.955}, 0.045, {0, 0.906}, 0.033},          // head
    Limb{{0, 0.895}, 0.028, {0, 0.820}, 0.032},          // neck
    Limb{{0.094, 0.795}, 0.024, {0, 0.822}, 0.034},      // shoulder
    Limb{{0, 0.760}, 0.060, {0, 0.580}, 0.060},          // breast
    Limb{{0.056, 0.770}, 0.048, {0.040, 0.655}, 0.046},  // side
    Limb{{0.040, 0.655}, 0.046, {0.040, 0.600}, 0.045},  // waist
    Limb{{0.040, 0.600}, 0.045, {0.044, 0.510}, 0.053},  // hip
    Limb{{0.095, 0.793}, 0.025, {0.114, 0.640}, 0.020},  // upper arm
    Limb{{0.114, 0.640}, 0.020, {0.126, 0.490}, 0.0145}, // lower arm
    Limb{{0.126, 0.490}, 0.0145, {0.128, 0.460}, 0.017}, // palm
    Limb{{0.128, 0.460}, 0.017, {0.125, 0.425}, 0.012},  // fingers
    Limb{{0.047, 0.510}, 0.050, {0.051, 0.290}, 0.030},  // thigh
    Limb{{0.051, 0.290}, 0.030, {0.053, 0.220}, 0.030},  // knee
    Limb{{0.053, 0.220}, 0.030, {0.053, 0.050}, 0.018},  // shin
    Limb{{0.053, 0.050}, 0.018, {0.055, 0.018}, 0.018},  // ankle
    Limb{{0.055, 0.018}, 0.018, {0.078, 0.012}, 0.012},  // foot
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
