// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/joint_gap.h"

#include "mesh/distance.h"
#include "mesh/self_intersection.h"

#include <algorithm>
#include <limits>

namespace quoin::test {

namespace {

double edgesToSurface(const mesh::Mesh& m, const mesh::SurfaceTree& tree)
{
    double least = std::numeric_limits<double>::infinity();
    for (const mesh::Triangle& t : m.triangles)
        for (std::size_t k = 0; k < 3; ++k)
            least = std::min(least, tree.distanceToSegment(m.points[t[k]], m.points[t[(k + 1) % 3]]).distanceMm);
    return least;
}

} // namespace

double gapBetween(const mesh::Mesh& a, const mesh::Mesh& b)
{
    if (mesh::meshesIntersect(a, b))
        return 0;
    return std::min(edgesToSurface(a, mesh::SurfaceTree(b)), edgesToSurface(b, mesh::SurfaceTree(a)));
}

} // namespace quoin::test
