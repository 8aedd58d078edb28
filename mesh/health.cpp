// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/health.h"

#include "mesh/distance.h"
#include "mesh/health_notes.h"
#include "mesh/mass.h"
#include "mesh/place.h"
#include "mesh/self_intersection.h"
#include "mesh/shells.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace quoin::mesh {

namespace {

/// Bounds the memory that a hopelessly tangled model can ask for.
constexpr std::size_t mostPairs = 10'000'000;

/// Hits nearer than this share of the size of the coordinates are the sampled triangle itself.
constexpr double ownTriangleShare = 1e-9;

/// Cosine of the angle within which the far side of a wall faces back.
constexpr double facesBack = 0.7071067811865476;

std::size_t notFinitePoints(const Mesh& mesh)
{
    return static_cast<std::size_t>(std::count_if(mesh.points.begin(), mesh.points.end(), [](Vec3 p) {
        return !(std::isfinite(p.x) && std::isfinite(p.y) && std::isfinite(p.z));
    }));
}

/// Middle of what the boxes of two triangles have in common: near where they meet.
Vec3 meetingPlace(const Mesh& mesh, std::pair<Index, Index> pair)
{
    Box3 a, b;
    for (int k = 0; k < 3; ++k) {
        a.add(mesh.corner(pair.first, k));
        b.add(mesh.corner(pair.second, k));
    }
    const Vec3 low{std::max(a.min.x, b.min.x), std::max(a.min.y, b.min.y), std::max(a.min.z, b.min.z)};
    const Vec3 high{std::min(a.max.x, b.max.x), std::min(a.max.y, b.max.y), std::min(a.max.z, b.max.z)};
    return 0.5 * (low + high);
}

Vec3 unitNormal(const Mesh& mesh, std::size_t t)
{
    const Vec3 a = mesh.corner(t, 0);
    return normalized(cross(mesh.corner(t, 1) - a, mesh.corner(t, 2) - a));
}

void findThinnestWall(const Mesh& body, std::size_t samples, unsigned seed, BodyHealth& health)
{
    const Box3 box = bounds(body);
    const double own = ownTriangleShare * (length(box.extents()) + length(box.centre()));
    const double inward = health.volumeMm3 < 0 ? 1 : -1;
    const SurfaceTree tree(body);
    for (const SurfacePoint& s : sampledSurface(body, samples, seed)) {
        const Vec3 normal = unitNormal(body, s.triangle);
        const auto hit = tree.firstHitTriangle(s.point, inward * normal, own);
        if (!hit || dot(normal, unitNormal(body, hit->triangle)) > -facesBack)
            continue;
        if (!health.thinnestWallMm || hit->distanceMm < *health.thinnestWallMm) {
            health.thinnestWallMm = hit->distanceMm;
            health.thinnestWallAt = s.point;
        }
    }
}

BodyHealth bodyHealth(const Mesh& body, const Topology& topology)
{
    BodyHealth h;
    h.triangles = body.triangles.size();
    h.at = body.corner(0, 0);
    h.topology = topology;
    h.volumeMm3 = volume(body);
    h.areaMm2 = area(body);
    h.extentsMm = bounds(body).extents();
    return h;
}

void countPairs(const Mesh& mesh, const std::vector<Index>& bodyOf, Health& health)
{
    const auto pairs = selfIntersections(mesh, mostPairs);
    health.selfIntersectingPairs = pairs.size();
    if (!pairs.empty())
        health.selfIntersectionAt = meetingPlace(mesh, pairs.front());
    for (const auto& pair : pairs)
        if (bodyOf[pair.first] == bodyOf[pair.second]) {
            BodyHealth& body = health.bodies[bodyOf[pair.first]];
            if (body.selfIntersectingPairs++ == 0)
                body.selfIntersectionAt = meetingPlace(mesh, pair);
        }
}

/// Connected sets of open edges.
std::size_t holeCount(const EdgeTable& table)
{
    std::map<Index, Index> parent;
    const auto root = [&](Index v) {
        parent.try_emplace(v, v);
        while (parent[v] != v)
            v = parent[v] = parent[parent[v]];
        return v;
    };
    table.forEachEdge([&](Index low, Index high, std::span<const EdgeUse> uses) {
        if (uses.size() == 1 && low != high)
            parent[root(low)] = root(high);
    });
    return static_cast<std::size_t>(
        std::count_if(parent.begin(), parent.end(), [](const auto& entry) { return entry.first == entry.second; }));
}

/// Fills health.bodies and returns for each triangle the body it belongs to.
std::vector<Index> divide(const Mesh& mesh, const EdgeTable& table, std::vector<Mesh>& bodyMeshes, Health& health)
{
    const Parts parts = connectedParts(mesh);
    const Shells shells = shellsOf(mesh, parts, table);
    std::vector<Index> bodyOf(mesh.triangles.size());
    std::vector<std::vector<Index>> lists(shells.bodyCount);
    for (Index i = 0; i < bodyOf.size(); ++i) {
        bodyOf[i] = shells.shell[parts.partOf[i]].body;
        lists[bodyOf[i]].push_back(i);
    }
    for (const std::vector<Index>& list : lists) {
        bodyMeshes.push_back(lists.size() == 1 ? mesh : subset(mesh, list));
        health.bodies.push_back(
            bodyHealth(bodyMeshes.back(), lists.size() == 1 ? health.topology : topologyOf(bodyMeshes.back())));
    }
    for (const Shell& s : shells.shell) {
        BodyHealth& body = health.bodies[s.body];
        if (s.cavity)
            ++body.cavities;
        else if (s.closed && s.parent != noShell && !shells.shell[s.parent].cavity)
            body.inMaterial = true;
    }
    return bodyOf;
}

} // namespace

bool Health::sound() const
{
    return triangles > 0 && notFinite == 0 && topology.solid() && selfIntersectingPairs == 0 &&
           std::all_of(bodies.begin(), bodies.end(),
                       [](const BodyHealth& b) { return b.volumeMm3 > 0 && !b.inMaterial; });
}

Health healthOf(const Mesh& mesh, const HealthOptions& options, const Context& context)
{
    Health health;
    health.triangles = mesh.triangles.size();
    health.notFinite = notFinitePoints(mesh);
    if (mesh.empty() || health.notFinite != 0) {
        health.notes = healthNotes(health);
        return health;
    }
    context.report(0, "checking how the triangles hang together");
    health.topology = topologyOf(mesh);
    health.volumeMm3 = volume(mesh);
    health.areaMm2 = area(mesh);
    health.extentsMm = bounds(mesh).extents();
    if (context.cancelled())
        return health;
    const EdgeTable table(mesh);
    health.holes = health.topology.openEdges != 0 ? holeCount(table) : 0;
    std::vector<Mesh> bodyMeshes;
    const std::vector<Index> bodyOf = divide(mesh, table, bodyMeshes, health);
    if (context.cancelled())
        return health;
    context.report(0.3, "looking for self-intersections");
    if (options.selfIntersections)
        countPairs(mesh, bodyOf, health);
    context.report(0.8, "measuring walls");
    for (std::size_t i = 0; i < bodyMeshes.size() && !context.cancelled(); ++i) {
        BodyHealth& body = health.bodies[i];
        const double share = health.areaMm2 > 0 ? body.areaMm2 / health.areaMm2 : 0;
        const auto samples = static_cast<std::size_t>(std::ceil(share * static_cast<double>(options.wallSamples)));
        if (body.topology.closed() && samples > 0)
            findThinnestWall(bodyMeshes[i], samples, options.seed, body);
    }
    health.notes = healthNotes(health);
    context.report(1, "checked");
    return health;
}

} // namespace quoin::mesh
