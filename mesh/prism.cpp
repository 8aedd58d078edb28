// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/primitives.h"
#include "mesh/triangulate.h"

#include <stdexcept>

namespace quoin::mesh {

Mesh prism(const Region& region, double height, int rows)
{
    if (height <= 0 || rows < 1)
        throw std::invalid_argument("prism: height and rows must be positive");
    const Result<std::vector<Triangle>> caps = triangulateRegion(region);
    if (!caps)
        throw std::invalid_argument("prism: " + caps.problem().sentence());
    Mesh mesh;
    Index count = 0;
    for (const Loop& loop : region)
        count += static_cast<Index>(loop.size());
    for (int row = 0; row <= rows; ++row)
        for (const Loop& loop : region)
            for (const Vec2 p : loop)
                mesh.points.push_back({p.x, p.y, height * row / rows});
    const Index top = count * static_cast<Index>(rows);
    for (const auto& [a, b, c] : *caps) {
        mesh.triangles.push_back({a, c, b});
        mesh.triangles.push_back({a + top, b + top, c + top});
    }
    for (int row = 0; row < rows; ++row) {
        Index start = static_cast<Index>(row) * count;
        for (const Loop& loop : region) {
            const auto n = static_cast<int>(loop.size());
            for (int k = 0; k < n; ++k) {
                const Index a = start + static_cast<Index>(k), b = start + static_cast<Index>((k + 1) % n);
                mesh.triangles.push_back({a, b, b + count});
                mesh.triangles.push_back({a, b + count, a + count});
            }
            start += static_cast<Index>(n);
        }
    }
    return mesh;
}

} // namespace quoin::mesh
