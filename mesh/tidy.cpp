// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/tidy.h"

#include "mesh/edge_collapse.h"

#include <algorithm>

namespace quoin::mesh {

namespace {

constexpr double drift = 4; ///< a vertex may end this many sizes from its place

} // namespace

std::vector<Index> sliversOf(const Mesh& mesh, double sizeMm)
{
    std::vector<Index> found;
    const double squared = sizeMm * sizeMm;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const Vec3 a = mesh.corner(t, 0), b = mesh.corner(t, 1), c = mesh.corner(t, 2);
        const Vec3 ab = b - a, bc = c - b, ca = a - c, n = cross(ab, ca);
        const double x = dot(ab, ab), y = dot(bc, bc), z = dot(ca, ca), longest = std::max({x, y, z});
        if (std::min({x, y, z}) < squared || dot(n, n) < squared * longest)
            found.push_back(static_cast<Index>(t));
    }
    return found;
}

Mesh withoutSlivers(Mesh mesh, double sizeMm)
{
    std::vector<Index> slivers = sliversOf(mesh, sizeMm);
    if (slivers.empty())
        return mesh;
    Drift from(mesh.points);
    EditMesh edit(std::move(mesh));
    tidyEdges(edit, from, std::move(slivers), {sizeMm, sizeMm, drift * sizeMm});
    return edit.mesh();
}

} // namespace quoin::mesh
