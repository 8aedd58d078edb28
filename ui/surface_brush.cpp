// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/surface_brush.h"

#include "mesh/edge_table.h"

#include <algorithm>
#include <cmath>

namespace quoin::ui {

using mesh::Index;
using mesh::Mesh;
using mesh::Vec3;

SurfaceNeighbours neighboursOf(const Mesh& mesh)
{
    SurfaceNeighbours neighbours;
    neighbours.across = oppositeHalfEdges(mesh, mesh::EdgeTable(mesh));
    for (Index& h : neighbours.across)
        h = h == mesh::noHalfEdge ? SurfaceNeighbours::none : h / 3;
    return neighbours;
}

double distanceToTriangle(Vec3 p, Vec3 a, Vec3 b, Vec3 c)
{
    const Vec3 ab = b - a, ac = c - a, ap = p - a;
    const double d1 = dot(ab, ap), d2 = dot(ac, ap);
    if (d1 <= 0 && d2 <= 0)
        return length(ap);
    const Vec3 bp = p - b;
    const double d3 = dot(ab, bp), d4 = dot(ac, bp);
    if (d3 >= 0 && d4 <= d3)
        return length(bp);
    const double vc = d1 * d4 - d3 * d2;
    if (vc <= 0 && d1 >= 0 && d3 <= 0 && d1 - d3 > 0)
        return length(ap - d1 / (d1 - d3) * ab);
    const Vec3 cp = p - c;
    const double d5 = dot(ab, cp), d6 = dot(ac, cp);
    if (d6 >= 0 && d5 <= d6)
        return length(cp);
    const double vb = d5 * d2 - d1 * d6;
    if (vb <= 0 && d2 >= 0 && d6 <= 0 && d2 - d6 > 0)
        return length(ap - d2 / (d2 - d6) * ac);
    const double va = d3 * d6 - d5 * d4;
    const double alongBc = d4 - d3, backBc = d5 - d6;
    if (va <= 0 && alongBc >= 0 && backBc >= 0 && alongBc + backBc > 0)
        return length(bp - alongBc / (alongBc + backBc) * (c - b));
    const double sum = va + vb + vc;
    if (!(sum > 0))
        return std::min({length(ap), length(bp), length(cp)});
    return length(ap - vb / sum * ab - vc / sum * ac);
}

Vec3 triangleNormal(const Mesh& mesh, Index triangle)
{
    const Vec3 a = mesh.corner(triangle, 0);
    return normalized(cross(mesh.corner(triangle, 1) - a, mesh.corner(triangle, 2) - a));
}

namespace {

/// Along the normal, as long as twice the area: cheaper than the unit normal.
Vec3 areaNormal(const Mesh& mesh, Index triangle)
{
    const Vec3 a = mesh.corner(triangle, 0);
    return cross(mesh.corner(triangle, 1) - a, mesh.corner(triangle, 2) - a);
}

} // namespace

std::vector<Index> brushed(const Mesh& mesh, const SurfaceNeighbours& neighbours, Index seed, Vec3 place,
                           double radiusMm)
{
    std::vector<bool> seen(mesh.triangles.size(), false);
    std::vector<Index> found{seed};
    seen[seed] = true;
    for (std::size_t i = 0; i < found.size(); ++i)
        for (std::size_t k = 0; k < 3; ++k) {
            const Index next = neighbours.across[3 * std::size_t{found[i]} + k];
            if (next == SurfaceNeighbours::none || seen[next])
                continue;
            seen[next] = true;
            if (distanceToTriangle(place, mesh.corner(next, 0), mesh.corner(next, 1), mesh.corner(next, 2)) <= radiusMm)
                found.push_back(next);
        }
    return found;
}

std::vector<Index> smoothPatch(const Mesh& mesh, const SurfaceNeighbours& neighbours, Index seed, double crease,
                               std::size_t most)
{
    const double leastCosine = std::cos(crease);
    std::vector<bool> seen(mesh.triangles.size(), false);
    std::vector<Index> found{seed};
    std::vector<Vec3> normals{areaNormal(mesh, seed)};
    seen[seed] = true;
    for (std::size_t i = 0; i < found.size() && found.size() < most; ++i) {
        const Vec3 from = normals[i];
        const double fromSquared = dot(from, from);
        for (std::size_t k = 0; k < 3; ++k) {
            const Index next = neighbours.across[3 * std::size_t{found[i]} + k];
            if (next == SurfaceNeighbours::none || seen[next] || found.size() >= most)
                continue;
            const Vec3 normal = areaNormal(mesh, next);
            const double squared = dot(normal, normal);
            if (squared > 0 && fromSquared > 0 && dot(normal, from) < leastCosine * std::sqrt(squared * fromSquared))
                continue;
            seen[next] = true;
            found.push_back(next);
            normals.push_back(squared > 0 ? normal : from);
        }
    }
    return found;
}

} // namespace quoin::ui
