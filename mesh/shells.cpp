// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/shells.h"

#include "mesh/distance.h"

#include <algorithm>
#include <numeric>

namespace quoin::mesh {

namespace {

constexpr std::size_t trianglesTested = 8;

/// Points nearer to a surface than this share of its size are on it.
constexpr double onSurfaceShare = 1e-9;

bool holds(const Box3& outer, const Box3& inner)
{
    for (int axis = 0; axis < 3; ++axis)
        if (inner.min[axis] < outer.min[axis] || inner.max[axis] > outer.max[axis])
            return false;
    return true;
}

void measure(const Mesh& mesh, const Parts& parts, const EdgeTable& table, std::vector<Shell>& shells)
{
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i)
        for (const Index v : mesh.triangles[i])
            shells[parts.partOf[i]].box.add(mesh.points[v]);
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        Shell& s = shells[parts.partOf[i]];
        const Vec3 middle = s.box.centre();
        s.volumeMm3 +=
            dot(mesh.corner(i, 0) - middle, cross(mesh.corner(i, 1) - middle, mesh.corner(i, 2) - middle)) / 6;
    }
    for (Shell& s : shells)
        s.closed = true;
    table.forEachEdge([&](Index low, Index high, std::span<const EdgeUse> uses) {
        if (low == high)
            return;
        // Counted for each part, since the caller may have parted the mesh otherwise than by its edges.
        for (const EdgeUse& u : uses) {
            const Index part = parts.partOf[u.triangle()];
            const auto own = std::count_if(
                uses.begin(), uses.end(), [&](const EdgeUse& other) { return parts.partOf[other.triangle()] == part; });
            if (own % 2 != 0)
                shells[part].closed = false;
        }
    });
}

struct Candidate {
    Index outer, inner;
};

/// Pairs (outer, inner) whose boxes allow it, by a sweep along x.
std::vector<Candidate> candidates(const std::vector<Shell>& shells, const std::vector<Index>& rank)
{
    std::vector<Index> order(shells.size());
    std::iota(order.begin(), order.end(), Index{0});
    std::sort(order.begin(), order.end(), [&](Index a, Index b) {
        const double ax = shells[a].box.min.x, bx = shells[b].box.min.x;
        return ax != bx ? ax < bx : rank[a] < rank[b];
    });
    std::vector<Candidate> pairs;
    std::vector<Index> open;
    for (const Index i : order) {
        const Box3& box = shells[i].box;
        std::erase_if(open, [&](Index o) { return shells[o].box.max.x < box.min.x; });
        for (const Index o : open)
            if (rank[o] < rank[i] && holds(shells[o].box, box))
                pairs.push_back({o, i});
        if (shells[i].closed)
            open.push_back(i);
    }
    std::sort(pairs.begin(), pairs.end(), [](const Candidate& a, const Candidate& b) {
        return a.outer != b.outer ? a.outer < b.outer : a.inner < b.inner;
    });
    return pairs;
}

/// Corners and middles of eight triangles, spread evenly; those on the outer surface say nothing.
bool liesIn(const Mesh& mesh, const std::vector<Index>& triangles, const SurfaceTree& outer, double slackMm)
{
    const std::size_t step = std::max<std::size_t>(1, triangles.size() / trianglesTested);
    bool decided = false;
    for (std::size_t i = 0; i < triangles.size(); i += step) {
        const Vec3 a = mesh.corner(triangles[i], 0), b = mesh.corner(triangles[i], 1), c = mesh.corner(triangles[i], 2);
        for (const Vec3 p : {a, (a + b + c) / 3}) {
            if (outer.distance(p) <= slackMm)
                continue;
            if (!outer.inside(p))
                return false;
            decided = true;
        }
    }
    return decided;
}

/// Largest first; of equals the first. A shell can only lie in one of lower rank, so nesting never runs in a circle.
std::vector<Index> ranksBySize(const std::vector<Shell>& shells)
{
    std::vector<Index> order(shells.size()), rank(shells.size());
    std::iota(order.begin(), order.end(), Index{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](Index a, Index b) { return std::abs(shells[a].volumeMm3) > std::abs(shells[b].volumeMm3); });
    for (Index i = 0; i < order.size(); ++i)
        rank[order[i]] = i;
    return rank;
}

void findParents(const Mesh& mesh, const Parts& parts, const std::vector<Index>& rank, std::vector<Shell>& shells)
{
    const std::vector<Candidate> pairs = candidates(shells, rank);
    if (pairs.empty())
        return;
    const std::vector<std::vector<Index>> lists = trianglesOf(parts);
    for (std::size_t i = 0; i < pairs.size();) {
        const Index outer = pairs[i].outer;
        const SurfaceTree tree(mesh, lists[outer]);
        const double slack = onSurfaceShare * length(shells[outer].box.extents());
        for (; i < pairs.size() && pairs[i].outer == outer; ++i) {
            Shell& inner = shells[pairs[i].inner];
            if ((inner.parent == noShell || rank[inner.parent] < rank[outer]) &&
                liesIn(mesh, lists[pairs[i].inner], tree, slack))
                inner.parent = outer;
        }
    }
}

} // namespace

Shells shellsOf(const Mesh& mesh, const Parts& parts, const EdgeTable& table)
{
    Shells out;
    std::vector<Shell>& shells = out.shell;
    shells.resize(parts.count);
    measure(mesh, parts, table, shells);
    const std::vector<Index> rank = ranksBySize(shells);
    if (shells.size() > 1)
        findParents(mesh, parts, rank, shells);
    std::vector<Index> bySize(shells.size());
    for (Index i = 0; i < shells.size(); ++i)
        bySize[rank[i]] = i;
    for (const Index i : bySize) {
        Shell& s = shells[i];
        s.cavity = s.closed && s.parent != noShell && !shells[s.parent].cavity &&
                   (s.volumeMm3 < 0) != (shells[s.parent].volumeMm3 < 0);
    }
    for (Shell& s : shells)
        if (!s.cavity)
            s.body = static_cast<Index>(out.bodyCount++);
    for (Shell& s : shells)
        if (s.cavity)
            s.body = shells[s.parent].body;
    return out;
}

Shells shellsOf(const Mesh& mesh, const Parts& parts)
{
    return shellsOf(mesh, parts, EdgeTable(mesh));
}

} // namespace quoin::mesh
