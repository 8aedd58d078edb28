// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/split_fans.h"

#include "mesh/disjoint_sets.h"
#include "mesh/edge_table.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace quoin::mesh {

namespace {

/// Half-edges g and h run the same edge in opposite directions and belong together: so do the corners at its ends.
void joinAcross(DisjointSets<Index>& fans, Index g, Index h)
{
    fans.join(g, nextHalfEdge(h));
    fans.join(nextHalfEdge(g), h);
}

struct Leaf {
    double angle;
    bool reversed;
    Index halfEdge;
};

/// The uses of an edge in the order of their triangles' angles about it, right-handed from the low to the high end.
std::vector<Leaf> byAngle(const Mesh& mesh, Index low, Index high, std::span<const EdgeUse> uses)
{
    const Vec3 axis = normalized(mesh.points[high] - mesh.points[low]);
    const Vec3 helper = std::fabs(axis.x) < 0.7 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
    const Vec3 u = normalized(cross(axis, helper)), v = cross(axis, u);
    std::vector<Leaf> leaves;
    for (const EdgeUse& use : uses) {
        const Vec3 out = mesh.points[apexOf(mesh, use.halfEdge())] - mesh.points[low];
        leaves.push_back({std::atan2(dot(out, v), dot(out, u)), use.reversed(), use.halfEdge()});
    }
    // At one angle the triangle that closes a wedge comes before the one that opens the next.
    std::sort(leaves.begin(), leaves.end(), [](const Leaf& a, const Leaf& b) {
        return a.angle != b.angle ? a.angle < b.angle : a.reversed < b.reversed;
    });
    return leaves;
}

using HalfEdgePair = std::pair<Index, Index>;

/// Half-edges of one edge that belong together. A triangle that runs the edge backwards has its material at larger
/// angles, up to the next one that runs it forwards. Paired in order where the angles don't alternate.
std::vector<HalfEdgePair> wedges(const Mesh& mesh, Index low, Index high, std::span<const EdgeUse> uses)
{
    std::vector<HalfEdgePair> pairs;
    const std::vector<Leaf> leaves = byAngle(mesh, low, high, uses);
    for (std::size_t i = 0; i < leaves.size(); ++i) {
        const Leaf& next = leaves[(i + 1) % leaves.size()];
        if (leaves[i].reversed && !next.reversed)
            pairs.emplace_back(leaves[i].halfEdge, next.halfEdge);
    }
    if (2 * pairs.size() == leaves.size())
        return pairs;
    pairs.clear();
    std::vector<Index> forward, backward;
    for (const EdgeUse& use : uses)
        (use.reversed() ? backward : forward).push_back(use.halfEdge());
    for (std::size_t i = 0; i < std::min(forward.size(), backward.size()); ++i)
        pairs.emplace_back(backward[i], forward[i]);
    return pairs;
}

/// Gives each fan a vertex of its own.
Mesh withOwnVertices(const Mesh& mesh)
{
    DisjointSets<Index> fans(3 * mesh.triangles.size());
    EdgeTable(mesh).forEachEdge([&](Index low, Index high, std::span<const EdgeUse> uses) {
        if (low != high)
            for (const auto& [g, h] : wedges(mesh, low, high, uses))
                joinAcross(fans, g, h);
    });
    Mesh out = mesh;
    std::vector<Index> firstFan(mesh.points.size(), noHalfEdge);
    std::vector<Index> vertexOf(3 * mesh.triangles.size(), noHalfEdge);
    for (Index c = 0; c < vertexOf.size(); ++c) {
        const Index root = fans.find(c), v = mesh.triangles[c / 3][c % 3];
        if (vertexOf[root] == noHalfEdge) {
            vertexOf[root] = v;
            if (firstFan[v] != noHalfEdge) {
                vertexOf[root] = static_cast<Index>(out.points.size());
                out.points.push_back(mesh.points[v]);
            }
            firstFan[v] = root;
        }
        out.triangles[c / 3][c % 3] = vertexOf[root];
    }
    return out;
}

/// Puts vertex m into the middle of a half-edge: its triangle becomes two.
void splitAt(Mesh& mesh, Index halfEdge, Index m)
{
    const Index t = halfEdge / 3, k = halfEdge % 3;
    Triangle second = mesh.triangles[t];
    second[k] = m;
    mesh.triangles[t][(k + 1) % 3] = m;
    mesh.triangles.push_back(second);
    if (!mesh.labels.empty())
        mesh.labels.push_back(mesh.labels[t]);
}

/// Where two sheets meet on an edge and hang together around both of its ends, each gets a middle of its own. One
/// edge of a triangle at a time; the caller comes again.
void splitSharedEdges(Mesh& mesh)
{
    std::vector<std::vector<HalfEdgePair>> shared;
    std::vector<char> taken(mesh.triangles.size(), 0);
    EdgeTable(mesh).forEachEdge([&](Index low, Index high, std::span<const EdgeUse> uses) {
        if (uses.size() <= 2 || low == high ||
            std::any_of(uses.begin(), uses.end(), [&](const EdgeUse& use) { return taken[use.triangle()] != 0; }))
            return;
        for (const EdgeUse& use : uses)
            taken[use.triangle()] = 1;
        shared.push_back(wedges(mesh, low, high, uses));
    });
    for (const auto& pairs : shared)
        for (const auto& [g, h] : pairs) {
            const Vec3 middle = 0.5 * (mesh.points[startOf(mesh, g)] + mesh.points[endOf(mesh, g)]);
            const auto m = static_cast<Index>(mesh.points.size());
            mesh.points.push_back(middle);
            splitAt(mesh, g, m);
            splitAt(mesh, h, m);
        }
}

} // namespace

Mesh splitFans(const Mesh& mesh)
{
    Mesh out = withOwnVertices(mesh);
    splitSharedEdges(out);
    return out;
}

Mesh withoutOppositePairs(const Mesh& mesh)
{
    struct Key {
        Triangle sorted;
        bool even; ///< whether the corners run in the sorted sense
        Index triangle;
    };
    std::vector<Key> keys;
    for (Index t = 0; t < mesh.triangles.size(); ++t) {
        const Triangle& c = mesh.triangles[t];
        const std::size_t lowest = static_cast<std::size_t>(std::min_element(c.begin(), c.end()) - c.begin());
        const Index second = c[(lowest + 1) % 3], third = c[(lowest + 2) % 3];
        keys.push_back({{c[lowest], std::min(second, third), std::max(second, third)}, second < third, t});
    }
    std::sort(keys.begin(), keys.end(), [](const Key& a, const Key& b) {
        return std::tie(a.sorted, a.even, a.triangle) < std::tie(b.sorted, b.even, b.triangle);
    });
    std::vector<char> gone(mesh.triangles.size(), 0);
    for (std::size_t i = 0, end = 0; i < keys.size(); i = end) {
        std::size_t odd = i;
        while (odd < keys.size() && keys[odd].sorted == keys[i].sorted && !keys[odd].even)
            ++odd;
        end = odd;
        while (end < keys.size() && keys[end].sorted == keys[i].sorted)
            ++end;
        for (std::size_t k = 0; k < std::min(odd - i, end - odd); ++k)
            gone[keys[i + k].triangle] = gone[keys[odd + k].triangle] = 1;
    }
    std::vector<Index> kept;
    for (Index t = 0; t < gone.size(); ++t)
        if (gone[t] == 0)
            kept.push_back(t);
    return subset(mesh, kept);
}

} // namespace quoin::mesh
