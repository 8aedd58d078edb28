// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/topology.h"

#include "mesh/disjoint_sets.h"
#include "mesh/edge_table.h"
#include "mesh/shells.h"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>

#include <algorithm>

namespace quoin::mesh {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;

/// How far a component of a cross product can be off, as a share of its two products, with room to spare (the true
/// bound is 4 rounding errors), and the least product for which that holds (below, doubles lose digits).
constexpr double crossErrorShare = 1e-14;
constexpr double smallestSafeProduct = 1e-280;

bool surelyNonZero(double a, double b, double c, double d)
{
    const double left = a * b, right = c * d;
    return std::abs(left - right) > crossErrorShare * (std::abs(left) + std::abs(right)) + smallestSafeProduct;
}

/// Adds one to a count and keeps the place of the first.
void note(std::size_t& count, Vec3& at, Vec3 place)
{
    if (count++ == 0)
        at = place;
}

/// Triangles are counted at their edge between lowest and middle corner, so once each.
std::size_t duplicatesAt(const Mesh& mesh, Index high, std::span<const EdgeUse> uses)
{
    std::size_t count = 0;
    for (std::size_t i = 1; i < uses.size(); ++i) {
        const Index apex = apexOf(mesh, uses[i].halfEdge());
        const auto earlier = uses.first(i);
        if (apex > high && std::any_of(earlier.begin(), earlier.end(),
                                       [&](const EdgeUse& u) { return apexOf(mesh, u.halfEdge()) == apex; }))
            ++count;
    }
    return count;
}

void countEdges(const Mesh& mesh, const EdgeTable& table, Topology& t)
{
    table.forEachEdge([&](Index low, Index high, std::span<const EdgeUse> uses) {
        ++t.edges;
        if (low != high && uses.size() == 2 && uses[0].reversed() != uses[1].reversed() &&
            apexOf(mesh, uses[0].halfEdge()) != apexOf(mesh, uses[1].halfEdge()))
            return;
        const Vec3 middle = 0.5 * (mesh.points[low] + mesh.points[high]);
        if (low == high || uses.size() > 2)
            note(t.nonManifoldEdges, t.nonManifoldEdgeAt, middle);
        else if (uses.size() == 1)
            note(t.openEdges, t.openAt, middle);
        else if (uses[0].reversed() == uses[1].reversed())
            note(t.flippedEdges, t.flippedAt, middle);
        for (std::size_t n = low == high ? 0 : duplicatesAt(mesh, high, uses); n > 0; --n)
            note(t.duplicateTriangles, t.duplicateAt, middle);
    });
}

/// Marks the corners of the fan that corner h belongs to, going round its start across plain edges both ways.
void markFan(Index h, const Buffer<Index>& opposite, std::vector<bool>& seen)
{
    for (Index i = h; i != noHalfEdge && !seen[i]; i = opposite[previousHalfEdge(i)])
        seen[i] = true;
    for (Index i = opposite[h]; i != noHalfEdge; i = opposite[i]) {
        i = nextHalfEdge(i);
        if (seen[i])
            break;
        seen[i] = true;
    }
}

/// Fans round a vertex when any shared edge joins, given the two other corners of each of its triangles.
std::size_t fanCount(const std::vector<std::pair<Index, Index>>& links)
{
    DisjointSets<std::size_t> fans(links.size());
    std::vector<std::pair<Index, std::size_t>> ends;
    for (std::size_t i = 0; i < links.size(); ++i) {
        ends.emplace_back(links[i].first, i);
        ends.emplace_back(links[i].second, i);
    }
    std::sort(ends.begin(), ends.end());
    for (std::size_t i = 1; i < ends.size(); ++i)
        if (ends[i].first == ends[i - 1].first)
            fans.join(ends[i].second, ends[i - 1].second);
    std::size_t count = 0;
    for (std::size_t i = 0; i < links.size(); ++i)
        count += fans.find(i) == i ? 1 : 0;
    return count;
}

void countVertices(const Mesh& mesh, const EdgeTable& table, Topology& t)
{
    const Buffer<Index> opposite = oppositeHalfEdges(mesh, table);
    std::vector<bool> seen(opposite.size(), false);
    std::vector<unsigned char> fans(mesh.points.size(), 0);
    std::vector<Index> suspects;
    for (Index h = 0; h < opposite.size(); ++h) {
        if (seen[h])
            continue;
        markFan(h, opposite, seen);
        unsigned char& n = fans[startOf(mesh, h)];
        if (n < 2 && ++n == 2)
            suspects.push_back(startOf(mesh, h));
    }
    if (suspects.empty())
        return;
    // Edges used oddly broke the walk too, so the suspects are counted again with every shared edge joining.
    std::sort(suspects.begin(), suspects.end());
    std::vector<std::vector<std::pair<Index, Index>>> links(suspects.size());
    for (Index h = 0; h < opposite.size(); ++h)
        if (const Index v = startOf(mesh, h); fans[v] == 2) {
            const auto at = std::lower_bound(suspects.begin(), suspects.end(), v) - suspects.begin();
            links[static_cast<std::size_t>(at)].emplace_back(endOf(mesh, h), apexOf(mesh, h));
        }
    for (std::size_t i = 0; i < suspects.size(); ++i)
        if (fanCount(links[i]) > 1)
            note(t.nonManifoldVertices, t.nonManifoldVertexAt, mesh.points[suspects[i]]);
}

Vec3 firstTrouble(const Topology& t)
{
    return t.openEdges != 0             ? t.openAt
           : t.nonManifoldEdges != 0    ? t.nonManifoldEdgeAt
           : t.flippedEdges != 0        ? t.flippedAt
           : t.nonManifoldVertices != 0 ? t.nonManifoldVertexAt
           : t.duplicateTriangles != 0  ? t.duplicateAt
                                        : t.degenerateAt;
}

} // namespace

bool degenerate(Vec3 a, Vec3 b, Vec3 c)
{
    const Vec3 u = b - a, v = c - a;
    if (surelyNonZero(u.x, v.y, u.y, v.x) || surelyNonZero(u.y, v.z, u.z, v.y) || surelyNonZero(u.z, v.x, u.x, v.z))
        return false;
    const auto point = [](Vec3 p) { return Kernel::Point_3(p.x, p.y, p.z); };
    return CGAL::collinear(point(a), point(b), point(c));
}

Topology topologyOf(const Mesh& mesh)
{
    Topology t;
    const EdgeTable table(mesh);
    countEdges(mesh, table, t);
    countVertices(mesh, table, t);
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i)
        if (degenerate(mesh.corner(i, 0), mesh.corner(i, 1), mesh.corner(i, 2)))
            note(t.degenerateTriangles, t.degenerateAt, mesh.corner(i, 0));
    t.somewhere = firstTrouble(t);
    return t;
}

Parts connectedParts(const Mesh& mesh)
{
    DisjointSets<Index> sets(mesh.triangles.size());
    EdgeTable(mesh).forEachEdge([&](Index, Index, std::span<const EdgeUse> uses) {
        for (std::size_t i = 1; i < uses.size(); ++i)
            sets.join(uses[0].triangle(), uses[i].triangle());
    });
    Parts parts;
    parts.partOf.resize(sets.size());
    for (Index i = 0; i < sets.size(); ++i) {
        const Index r = sets.find(i); // the first triangle of its part
        parts.partOf[i] = r == i ? static_cast<Index>(parts.count++) : parts.partOf[r];
    }
    return parts;
}

std::vector<std::vector<Index>> trianglesOf(const Parts& parts)
{
    std::vector<std::vector<Index>> lists(parts.count);
    for (Index i = 0; i < parts.partOf.size(); ++i)
        lists[parts.partOf[i]].push_back(i);
    return lists;
}

std::vector<Mesh> bodies(const Mesh& mesh)
{
    const Parts parts = connectedParts(mesh);
    if (parts.count == 0)
        return {};
    if (parts.count == 1)
        return {mesh};
    const Shells shells = shellsOf(mesh, parts);
    std::vector<std::vector<Index>> lists(shells.bodyCount);
    for (Index i = 0; i < parts.partOf.size(); ++i)
        lists[shells.shell[parts.partOf[i]].body].push_back(i);
    std::vector<Mesh> out;
    for (const std::vector<Index>& list : lists)
        out.push_back(subset(mesh, list));
    return out;
}

} // namespace quoin::mesh
