// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/local_change.h"

#include "mesh/disjoint_sets.h"
#include "mesh/edge_collapse.h"
#include "mesh/float_grid.h"
#include "mesh/open_face.h"
#include "mesh/self_intersection.h"
#include "mesh/tidy.h"
#include "mesh/topology.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <unordered_map>

namespace quoin::mesh {

namespace {

constexpr double tidyDrift = 4; ///< a vertex may end this many sizes from its place

Vec3 pointOf(const Mesh& mesh, const LocalChange& change, Index v)
{
    return v < mesh.points.size() ? mesh.points[v] : change.added[v - mesh.points.size()];
}

/// Which vertices of the mesh the change has to do with.
std::vector<char> touchedBy(const Mesh& mesh, const LocalChange& change)
{
    std::vector<char> touched(mesh.points.size(), 0);
    for (const Index t : change.removed)
        for (const Index v : mesh.triangles[t])
            touched[v] = 1;
    for (const Triangle& t : change.fresh)
        for (const Index v : t)
            if (v < touched.size())
                touched[v] = 1;
    return touched;
}

/// Calls visit(t) for all triangles that stay, in order.
template <class Visit>
void forKept(const Mesh& mesh, const LocalChange& change, const Visit& visit)
{
    auto next = change.removed.begin();
    for (Index t = 0; t < mesh.triangles.size(); ++t) {
        if (next != change.removed.end() && *next == t)
            ++next;
        else
            visit(t);
    }
}

/// Triangles that stay and have a corner in common with the change.
std::vector<Index> ringAround(const Mesh& mesh, const LocalChange& change, const std::vector<char>& touched)
{
    std::vector<Index> ring;
    forKept(mesh, change, [&](Index t) {
        const auto& [a, b, c] = mesh.triangles[t];
        if (touched[a] || touched[b] || touched[c])
            ring.push_back(t);
    });
    return ring;
}

/// Some triangles of the mesh and (on request) the fresh ones as a mesh of their own.
struct Excerpt {
    Mesh mesh;
    std::vector<Index> name; ///< of each point
};

Excerpt excerpt(const Mesh& mesh, const std::vector<Index>& triangles, const LocalChange& change, bool withFresh)
{
    Excerpt out;
    std::unordered_map<Index, Index> seen;
    const auto add = [&](Triangle t, Label label) {
        for (Index& v : t) {
            const auto [it, isNew] = seen.emplace(v, static_cast<Index>(out.name.size()));
            if (isNew) {
                out.name.push_back(v);
                out.mesh.points.push_back(pointOf(mesh, change, v));
            }
            v = it->second;
        }
        out.mesh.triangles.push_back(t);
        out.mesh.labels.push_back(label);
    };
    for (const Index t : triangles)
        add(mesh.triangles[t], mesh.label(t));
    if (withFresh)
        for (std::size_t i = 0; i < change.fresh.size(); ++i)
            add(change.fresh[i], change.labels[i]);
    return out;
}

std::vector<Index> merged(const std::vector<Index>& a, const std::vector<Index>& b)
{
    std::vector<Index> out;
    std::set_union(a.begin(), a.end(), b.begin(), b.end(), std::back_inserter(out));
    return out;
}

/// Directed edges between vertices that the change has nothing to do with, sorted: what must not change.
std::vector<OutlineEdge> edgesBeyond(const Mesh& mesh, const std::vector<Index>& name, const std::vector<char>& touched)
{
    const auto beyond = [&](Index v) { return v < touched.size() && !touched[v]; };
    std::vector<OutlineEdge> edges;
    for (const Triangle& t : mesh.triangles)
        for (std::size_t k = 0; k < 3; ++k)
            if (const Index a = name[t[k]], b = name[t[(k + 1) % 3]]; beyond(a) && beyond(b))
                edges.push_back({a, b});
    std::sort(edges.begin(), edges.end());
    return edges;
}

double sixfoldVolume(Vec3 a, Vec3 b, Vec3 c, Vec3 from)
{
    return dot(a - from, cross(b - from, c - from));
}

Problem refusedAt(const std::string& what, Vec3 where, const std::string& remedy)
{
    return {
        Reason::JointFailed, what, {}, fmt::format("({:.3f}, {:.3f}, {:.3f}) mm", where.x, where.y, where.z), remedy};
}

/// The surroundings that selfIntersections() has to look at: kept triangles nearby and around, then the fresh ones.
Excerpt surroundings(const Mesh& mesh, const LocalChange& change, const std::vector<Index>& nearby,
                     std::size_t& firstFresh)
{
    std::vector<Index> kept;
    std::set_difference(nearby.begin(), nearby.end(), change.removed.begin(), change.removed.end(),
                        std::back_inserter(kept));
    kept = merged(kept, ringAround(mesh, change, touchedBy(mesh, change)));
    firstFresh = kept.size();
    return excerpt(mesh, kept, change, true);
}

} // namespace

double volumeAdded(const Mesh& mesh, const LocalChange& change)
{
    if (change.empty())
        return 0;
    const Vec3 from =
        change.fresh.empty() ? mesh.corner(change.removed.front(), 0) : pointOf(mesh, change, change.fresh.front()[0]);
    double six = 0;
    for (const Triangle& t : change.fresh)
        six +=
            sixfoldVolume(pointOf(mesh, change, t[0]), pointOf(mesh, change, t[1]), pointOf(mesh, change, t[2]), from);
    for (const Index t : change.removed)
        six -= sixfoldVolume(mesh.corner(t, 0), mesh.corner(t, 1), mesh.corner(t, 2), from);
    return six / 6;
}

void tidyChange(const Mesh& mesh, LocalChange& change, double sizeMm)
{
    const Excerpt fresh = excerpt(mesh, {}, change, true);
    if (sliversOf(fresh.mesh, sizeMm).empty())
        return;
    const std::vector<char> touched = touchedBy(mesh, change);
    const std::vector<Index> ring = ringAround(mesh, change, touched);
    const Excerpt around = excerpt(mesh, ring, change, true);
    std::vector<Index> slivers = sliversOf(around.mesh, sizeMm);
    std::erase_if(slivers, [&](Index t) { return t < ring.size(); });
    Drift drift(around.mesh.points);
    EditMesh edit(around.mesh);
    tidyEdges(edit, drift, std::move(slivers), {sizeMm, sizeMm, tidyDrift * sizeMm});
    std::vector<Index> name;
    for (const Index v : edit.vertices())
        name.push_back(around.name[v]);
    const Mesh tidied = edit.mesh();
    if (edgesBeyond(around.mesh, around.name, touched) != edgesBeyond(tidied, name, touched))
        return;
    change.removed = merged(change.removed, ring);
    change.fresh.clear();
    for (const Triangle& t : tidied.triangles)
        change.fresh.push_back({name[t[0]], name[t[1]], name[t[2]]});
    change.labels.assign(tidied.labels.begin(), tidied.labels.end());
}

std::optional<Flaw> flawAfter(const Mesh& mesh, const LocalChange& change, const std::vector<Index>& nearby)
{
    // All triangles around every corner that the change has to do with, before and after: both have the same border
    // farther out, and whatever else differs is damage.
    const std::vector<Index> ring = ringAround(mesh, change, touchedBy(mesh, change));
    const Topology before = topologyOf(excerpt(mesh, merged(ring, change.removed), change, false).mesh);
    const Topology after = topologyOf(excerpt(mesh, ring, change, true).mesh);
    if (before.nonManifoldEdges != 0 || before.flippedEdges != 0)
        return Flaw{refusedAt("the piece is not sound where the feature goes", before.somewhere, "Repair it first."),
                    false};
    if (after.nonManifoldEdges != 0 || after.nonManifoldVertices != before.nonManifoldVertices)
        return Flaw{refusedAt("the feature touches the piece's surface in a line or a point only",
                              after.nonManifoldEdges != 0 ? after.nonManifoldEdgeAt : after.nonManifoldVertexAt,
                              "Move it a little."),
                    false};
    if (after.openEdges != before.openEdges || after.flippedEdges != 0 ||
        after.degenerateTriangles > before.degenerateTriangles)
        return Flaw{refusedAt("the feature can't be joined to the piece without a gap", after.somewhere,
                              "Repair the piece, or move the feature a little."),
                    true};
    std::size_t firstFresh = 0;
    const Excerpt all = surroundings(mesh, change, nearby, firstFresh);
    const auto pairs = selfIntersections(all.mesh, 1);
    if (pairs.empty())
        return std::nullopt;
    const Index t = pairs.front().second;
    if (t < firstFresh)
        return Flaw{
            refusedAt("the piece intersects itself where the feature goes", all.mesh.corner(t, 0), "Repair it first."),
            false};
    return Flaw{refusedAt("the feature lies too nearly flush with the piece's surface", all.mesh.corner(t, 0),
                          "Move it a little."),
                true};
}

bool outlivesRounding(const Mesh& mesh, const LocalChange& change, const std::vector<Index>& nearby)
{
    std::size_t firstFresh = 0;
    Mesh rounded = surroundings(mesh, change, nearby, firstFresh).mesh;
    const FloatGrid grid = FloatGrid::of(bounds(mesh));
    for (Vec3& p : rounded.points)
        p = grid.snapped(p);
    for (std::size_t t = firstFresh; t < rounded.triangles.size(); ++t)
        if (degenerate(rounded.corner(t, 0), rounded.corner(t, 1), rounded.corner(t, 2)))
            return false;
    const auto pairs = selfIntersections(rounded);
    return std::none_of(pairs.begin(), pairs.end(), [&](const auto& pair) { return pair.second >= firstFresh; });
}

int bodiesGained(const Mesh& mesh, const LocalChange& change)
{
    DisjointSets<Index> kept(mesh.points.size() + change.added.size());
    const auto join = [](DisjointSets<Index>& sets, const Triangle& t) {
        sets.join(t[0], t[1]);
        sets.join(t[0], t[2]);
    };
    forKept(mesh, change, [&](Index t) { join(kept, mesh.triangles[t]); });
    DisjointSets<Index> before = kept, after = kept;
    for (const Index t : change.removed)
        join(before, mesh.triangles[t]);
    for (const Triangle& t : change.fresh)
        join(after, t);
    std::map<Index, double> was, is; // shells that change, and their volumes
    for (const Index t : change.removed)
        was[before.find(mesh.triangles[t][0])] = 0;
    for (const Triangle& t : change.fresh)
        is[after.find(t[0])] = 0;
    if (is.size() <= 1 && !was.empty())
        return 0; // one shell of what were some: no body more
    const Vec3 from = mesh.points.empty() ? Vec3{0, 0, 0} : mesh.points[0];
    const auto add = [&](std::map<Index, double>& shells, DisjointSets<Index>& sets, const Triangle& t) {
        if (const auto shell = shells.find(sets.find(t[0])); shell != shells.end())
            shell->second += sixfoldVolume(pointOf(mesh, change, t[0]), pointOf(mesh, change, t[1]),
                                           pointOf(mesh, change, t[2]), from);
    };
    forKept(mesh, change, [&](Index t) {
        add(was, before, mesh.triangles[t]);
        add(is, after, mesh.triangles[t]);
    });
    for (const Index t : change.removed)
        add(was, before, mesh.triangles[t]);
    for (const Triangle& t : change.fresh)
        add(is, after, t);
    const auto bodies = [](const std::map<Index, double>& shells) {
        return static_cast<int>(
            std::count_if(shells.begin(), shells.end(), [](const auto& shell) { return shell.second > 0; }));
    };
    return bodies(is) - bodies(was);
}

Mesh changed(const Mesh& mesh, const LocalChange& change)
{
    // Only corners of removed triangles can have lost their last use.
    std::vector<char> orphan(mesh.points.size(), 0);
    for (const Index t : change.removed)
        for (const Index v : mesh.triangles[t])
            orphan[v] = 1;
    forKept(mesh, change, [&](Index t) {
        for (const Index v : mesh.triangles[t])
            orphan[v] = 0;
    });
    for (const Triangle& t : change.fresh)
        for (const Index v : t)
            if (v < orphan.size())
                orphan[v] = 0;
    std::vector<char> used(change.added.size(), 0); // tidying may have left some out
    for (const Triangle& t : change.fresh)
        for (const Index v : t)
            if (v >= orphan.size())
                used[v - orphan.size()] = 1;
    Mesh out;
    out.points.reserve(mesh.points.size() + change.added.size());
    std::vector<Index> number(mesh.points.size() + change.added.size());
    for (std::size_t v = 0; v < number.size(); ++v) {
        number[v] = static_cast<Index>(out.points.size());
        if (v < orphan.size() ? !orphan[v] : used[v - orphan.size()] != 0)
            out.points.push_back(pointOf(mesh, change, static_cast<Index>(v)));
    }
    const std::size_t count = mesh.triangles.size() - change.removed.size() + change.fresh.size();
    out.triangles.reserve(count);
    out.labels.reserve(count);
    const auto add = [&](const Triangle& t, Label label) {
        out.triangles.push_back({number[t[0]], number[t[1]], number[t[2]]});
        out.labels.push_back(label);
    };
    forKept(mesh, change, [&](Index t) { add(mesh.triangles[t], mesh.label(t)); });
    for (std::size_t i = 0; i < change.fresh.size(); ++i)
        add(change.fresh[i], change.labels[i]);
    return out;
}

} // namespace quoin::mesh
