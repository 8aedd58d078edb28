// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/flat_areas.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <unordered_map>

namespace quoin::core {

namespace {

constexpr double sameAngle = 0.05 * std::numbers::pi / 180;
constexpr double sameOffsetShare = 1e-4;

struct Sum {
    mesh::Vec3 normal{0, 0, 0}; ///< sum of area vectors
    double offsetArea = 0;      ///< sum of offset times area
    double area = 0;
};

/// The cell of a grid over normals and offsets that a plane falls in.
std::uint64_t cellOf(mesh::Vec3 n, double offset, double offsetStep)
{
    const auto step = [](double value, double size) {
        return static_cast<std::uint64_t>(static_cast<std::int64_t>(std::llround(value / size))) & 0xffff;
    };
    // Steps of the normal are twice the tolerance; 0xffff of them pass round the sphere once.
    return step(n.x, 2 * sameAngle) | step(n.y, 2 * sameAngle) << 16 | step(n.z, 2 * sameAngle) << 32 |
           step(offset, offsetStep) << 48;
}

} // namespace

std::vector<FlatArea> flatAreas(const mesh::Mesh& mesh, double leastShare, std::size_t most)
{
    const double step = 2 * sameOffsetShare * mesh::length(mesh::bounds(mesh).extents());
    std::unordered_map<std::uint64_t, Sum> cells;
    double whole = 0;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const mesh::Vec3 a = mesh.corner(t, 0), b = mesh.corner(t, 1), c = mesh.corner(t, 2);
        const mesh::Vec3 twice = cross(b - a, c - a);
        const double area = 0.5 * mesh::length(twice);
        if (!(area > 0))
            continue;
        const mesh::Vec3 n = mesh::normalized(twice);
        const double offset = dot(n, (a + b + c) / 3);
        Sum& sum = cells[cellOf(n, offset, step)];
        sum.normal = sum.normal + 0.5 * twice;
        sum.offsetArea += area * offset;
        sum.area += area;
        whole += area;
    }
    std::vector<FlatArea> faces;
    for (const auto& [cell, sum] : cells)
        if (sum.area >= leastShare * whole)
            faces.push_back({{mesh::normalized(sum.normal), sum.offsetArea / sum.area}, sum.area});
    std::sort(faces.begin(), faces.end(), [](const FlatArea& a, const FlatArea& b) {
        return a.areaMm2 != b.areaMm2 ? a.areaMm2 > b.areaMm2 : a.plane.offset < b.plane.offset;
    });
    faces.resize(std::min(faces.size(), most));
    return faces;
}

} // namespace quoin::core
