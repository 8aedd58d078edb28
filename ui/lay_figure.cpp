// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/lay_figure.h"

#include "ui/yardstick.h"

#include <array>
#include <cmath>
#include <numbers>

namespace quoin::ui {

using mesh::Index;
using mesh::Mesh;
using mesh::Vec3;

namespace {

constexpr int around = 20; ///< points on a ring
constexpr int cap = 6;     ///< rings of each round end

/// A limb: round ends at a and b, thick at one end and thin at the other, flattened by `depth` along y.
struct Limb {
    Vec3 a, b;
    double radiusA, radiusB; ///< share of the height, as a and b
    double depth = 1;
};

// In heights of the figure; the left side, mirrored for the right one.
constexpr std::array limbs{
    Limb{{0.050, 0, 0.470}, {0.052, 0, 0.285}, 0.048, 0.032},           // thigh
    Limb{{0.052, 0, 0.270}, {0.054, 0, 0.050}, 0.030, 0.019},           // shin
    Limb{{0.055, 0.010, 0.018}, {0.062, -0.075, 0.016}, 0.018, 0.016},  // foot
    Limb{{0.112, 0, 0.800}, {0.140, 0.004, 0.635}, 0.027, 0.021},       // upper arm
    Limb{{0.142, 0.002, 0.620}, {0.152, -0.024, 0.480}, 0.020, 0.015},  // forearm
    Limb{{0.154, -0.030, 0.455}, {0.154, -0.038, 0.405}, 0.016, 0.012}, // hand
};
constexpr std::array trunk{
    Limb{{0, 0, 0.520}, {0, 0, 0.560}, 0.086, 0.080, 0.72},          // hips
    Limb{{0, 0, 0.600}, {0, 0, 0.755}, 0.072, 0.098, 0.70},          // chest
    Limb{{-0.085, 0, 0.795}, {0.085, 0, 0.795}, 0.034, 0.034},       // shoulders
    Limb{{0, 0, 0.830}, {0, 0, 0.870}, 0.026, 0.025},                // neck
    Limb{{0, -0.006, 0.915}, {0, -0.003, 0.945}, 0.046, 0.055, 1.1}, // head
};

void add(Mesh& mesh, const Limb& limb)
{
    const Vec3 axis = mesh::normalized(limb.b - limb.a);
    const Vec3 u = mesh::normalized(mesh::cross(axis, std::abs(axis.y) < 0.9 ? Vec3{0, 1, 0} : Vec3{1, 0, 0}));
    const Vec3 v = mesh::cross(axis, u);
    const auto first = static_cast<Index>(mesh.points.size());
    const auto ring = [&](Vec3 middle, double along, double radius) {
        for (int i = 0; i < around; ++i) {
            const double angle = 2 * std::numbers::pi * i / around;
            Vec3 p = middle + along * axis + radius * std::cos(angle) * u + radius * std::sin(angle) * v;
            p.y = middle.y + limb.depth * (p.y - middle.y);
            mesh.points.push_back(personHeightMm * p);
        }
    };
    for (int i = 0; i <= cap; ++i) {
        const double t = 0.5 * std::numbers::pi * i / cap;
        ring(limb.a, -limb.radiusA * std::cos(t), limb.radiusA * std::sin(t));
    }
    for (int i = cap; i >= 0; --i) {
        const double t = 0.5 * std::numbers::pi * i / cap;
        ring(limb.b, limb.radiusB * std::cos(t), limb.radiusB * std::sin(t));
    }
    for (Index r = 0; r + 1 < 2 * (cap + 1); ++r)
        for (Index i = 0; i < around; ++i) {
            const Index p = first + r * around + i, q = first + r * around + (i + 1) % around;
            mesh.triangles.push_back({p, q, q + around});
            mesh.triangles.push_back({p, q + around, p + around});
        }
}

} // namespace

Mesh layFigure()
{
    Mesh mesh;
    for (const Limb& limb : trunk)
        add(mesh, limb);
    for (Limb limb : limbs) {
        add(mesh, limb);
        limb.a.x = -limb.a.x;
        limb.b.x = -limb.b.x;
        add(mesh, limb);
    }
    return mesh;
}

} // namespace quoin::ui
