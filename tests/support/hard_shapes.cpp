// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/hard_shapes.h"

#include "mesh/boolean.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"

#include <cmath>
#include <functional>
#include <numbers>
#include <random>
#include <stdexcept>

namespace quoin::test {

using mesh::Mesh;
using mesh::Transform;
using mesh::Vec3;

namespace {

constexpr double pi = std::numbers::pi;

Mesh united(const Mesh& a, const Mesh& b)
{
    auto sum = mesh::solidUnion(a, b);
    if (!sum)
        throw std::runtime_error(sum.problem().sentence());
    return std::move(*sum);
}

Mesh insideOut(Mesh m)
{
    for (mesh::Triangle& t : m.triangles)
        std::swap(t[1], t[2]);
    return m;
}

} // namespace

std::vector<core::Bed> hardBed()
{
    return {{"", core::Bed::Shape::Rectangular, 200, 200, 200, 1}};
}

Mesh hardBox()
{
    return mesh::box({0, 0, 0}, {400, 400, 400});
}

Mesh hardCube(double side)
{
    return mesh::box({0, 0, 0}, {side, side, side});
}

Mesh hardRod(double lengthMm)
{
    return mesh::box({0, 0, 0}, {lengthMm, 10, 10});
}

Mesh hardPlate()
{
    return mesh::box({0, 0, 0}, {550, 200, 5});
}

Mesh hardEll()
{
    return mesh::prism({{{0, 0}, {280, 0}, {280, 50}, {50, 50}, {50, 280}, {0, 280}}}, 50);
}

Mesh hardRing(double radius, double tube)
{
    return mesh::torus(radius, tube, 120, 16);
}

Mesh hardTube()
{
    return mesh::revolved({{147, 0}, {150, 0}, {150, 200}, {147, 200}}, 96);
}

Mesh hardHelix()
{
    std::vector<std::vector<Vec3>> rings;
    constexpr int turns = 15, steps = 40, corners = 8;
    for (int i = 0; i <= turns * steps; ++i) {
        const double a = 2 * pi * i / steps;
        std::vector<Vec3> ring;
        for (int k = 0; k < corners; ++k) {
            const double b = 2 * pi * k / corners, r = 94 + 4 * std::cos(b);
            ring.push_back({r * std::cos(a), r * std::sin(a), 592.0 * i / (turns * steps) + 4 * std::sin(b)});
        }
        rings.push_back(std::move(ring));
    }
    return mesh::loft(rings);
}

Mesh hardSpokes()
{
    const double g = std::numbers::phi;
    Mesh all = mesh::icosphere(15, 2);
    for (const double a : {-1.0, 1.0})
        for (const double b : {-g, g})
            for (const Vec3 d : {Vec3{0, a, b}, Vec3{a, b, 0}, Vec3{b, 0, a}})
                all = united(all,
                             mesh::transformed(mesh::box({-5, -5, 0}, {5, 5, 370}), Transform::turning({0, 0, 1}, d)));
    return all;
}

Mesh hardShell()
{
    return mesh::joined(mesh::icosphere(190, 4), insideOut(mesh::icosphere(188, 4)));
}

Mesh hardTree()
{
    // Each branch forks in two at 35 degrees, the plane of the fork a quarter turn further each time.
    Mesh all;
    const std::function<void(Transform, double, double, int)> grow = [&](Transform at, double lengthMm, double radius,
                                                                         int depth) {
        const Mesh branch = mesh::transformed(mesh::frustum(radius, 0.7 * radius, lengthMm, 8), at);
        all = all.empty() ? branch : united(all, branch);
        if (depth == 0)
            return;
        for (const double side : {-1.0, 1.0})
            grow(at * Transform::translation({0, 0, 0.92 * lengthMm}) * Transform::rotation({0, 0, 1}, pi / 2) *
                     Transform::rotation({0, 1, 0}, side * 35 * pi / 180),
                 0.7 * lengthMm, 0.7 * radius, depth - 1);
    };
    grow({}, 300, 24, 4);
    return all;
}

Mesh hardLinks()
{
    const Mesh ring = mesh::torus(150, 12, 72, 12);
    return mesh::joined(
        ring, mesh::transformed(ring, Transform::translation({150, 0, 0}) * Transform::rotation({1, 0, 0}, pi / 2)));
}

Mesh withNoise(Mesh mesh, double noise)
{
    std::mt19937 random(7);
    std::uniform_real_distribution<double> by(-noise, noise);
    for (Vec3& p : mesh.points)
        p = p + Vec3{by(random), by(random), by(random)};
    return mesh;
}

std::vector<HardShape> hardShapes()
{
    // Least: volume, points more than 200 sqrt 3 = 346.4 mm apart, arcs of the outermost circle (core/lower_bound.h).
    // Known: pieces and how they stand, by arithmetic or a random search over turns (shared work of the project).
    return {
        {"solid box 400", hardBox(), false, 8, 8, 8},             // eight beds, cut in halves
        {"cube 202", hardCube(202), false, 8, 2, 6},              // bars 202 x 101 x 67.3 lie at 45 degrees
        {"rod 1000, lying", hardRod(1000), false, 5, 3, 4},       // 200 sqrt 2 - 10 = 272.8 each
        {"rod 1000, free", hardRod(1000), true, 5, 3, 4},         // 328.8 each along the diagonal
        {"rod 980, free", hardRod(980), true, 5, 3, 3},           // 326.7 each
        {"plate 550 x 200", hardPlate(), false, 3, 2, 2},         // 275 x 5 across the plate's diagonal, 200 high
        {"L of 280, free", hardEll(), true, 3, 2, 2},             // mitred: a leg of up to 281.8
        {"L of 280", hardEll(), false, 3, 2, 3},                  // by the grid
        {"ring 300, tube 15", hardRing(300, 15), true, 12, 6, 6}, // arcs of up to 61.3 degrees
        {"ring 240, tube 20", hardRing(240, 20), true, 8, 5, 5},
        {"ring 250, tube 20", hardRing(250, 20), true, 8, 5, 6},
        {"ring 300, tube 20", hardRing(300, 20), true, 12, 6, 7},
        {"tube 300, wall 3", hardTube(), false, 4, 2, 3},     // arcs of up to 129 degrees stand upright
        {"helix, 15 turns", hardHelix(), false, 3, 3, 3},     // level planes
        {"12 spokes of 370", hardSpokes(), true, 56, 13, 13}, // a star of 100, and twelve bars of 270
        {"shell 380, wall 2", hardShell(), false, 8, 3, 8},   // eighths
    };
}

} // namespace quoin::test
