// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/part_touching.h"

#include "mesh/edge_table.h"
#include "mesh/point_index.h"
#include "mesh/self_intersection.h"
#include "mesh/split_fans.h"

#include <algorithm>
#include <limits>
#include <map>
#include <numeric>

namespace quoin::mesh {

namespace {

/// A pulled corner stays this share of its shortest edge near its place.
constexpr double edgeShare = 0.1;

void dropUnusedPoints(Mesh& mesh)
{
    std::vector<Index> all(mesh.triangles.size());
    std::iota(all.begin(), all.end(), Index{0});
    mesh = subset(mesh, all);
}

/// What a copy of a point can be pulled along, and how far.
struct Copy {
    Index point;
    Vec3 towardsRing{0, 0, 0}; ///< to the middle of the points around it
    Vec3 inwards{0, 0, 0};     ///< against the mean normal
    double shortestMm = std::numeric_limits<double>::infinity();
    std::vector<Index> triangles;
};

/// Sets of copies that hold the same place, or are joined by triangles to such: pulled and judged together.
std::vector<std::vector<Copy>> sites(const Mesh& mesh)
{
    PointIndex index(mesh.points.size());
    Buffer<Vec3> places;
    std::vector<Index> placeOf(mesh.points.size());
    for (Index v = 0; v < mesh.points.size(); ++v)
        placeOf[v] = index.insert(mesh.points[v], places);
    std::vector<unsigned> copies(places.size(), 0);
    for (const Index place : placeOf)
        ++copies[place];
    std::map<Index, Copy> copyOf;
    std::map<Index, Index> parent; // of places
    const auto root = [&](Index p) {
        while (parent.at(p) != p)
            p = parent[p] = parent[parent[p]];
        return p;
    };
    for (Index t = 0; t < mesh.triangles.size(); ++t) {
        Index last = noHalfEdge;
        for (const Index v : mesh.triangles[t]) {
            if (copies[placeOf[v]] < 2)
                continue;
            copyOf.try_emplace(v, Copy{v, {0, 0, 0}, {0, 0, 0}, std::numeric_limits<double>::infinity(), {}})
                .first->second.triangles.push_back(t);
            parent.try_emplace(placeOf[v], placeOf[v]);
            if (last != noHalfEdge)
                parent[root(placeOf[v])] = root(last);
            last = placeOf[v];
        }
    }
    std::map<Index, std::vector<Copy>> bySite;
    for (auto& [v, copy] : copyOf) {
        for (const Index t : copy.triangles) {
            const Vec3 a = mesh.corner(t, 0), b = mesh.corner(t, 1), c = mesh.corner(t, 2);
            copy.inwards = copy.inwards - normalized(cross(b - a, c - a));
            for (const Vec3 p : {a, b, c})
                if (const double d = length(p - mesh.points[v]); d > 0) {
                    copy.towardsRing = copy.towardsRing + (p - mesh.points[v]) / d;
                    copy.shortestMm = std::min(copy.shortestMm, d);
                }
        }
        copy.towardsRing = normalized(copy.towardsRing);
        copy.inwards = normalized(copy.inwards);
        bySite[root(placeOf[v])].push_back(std::move(copy));
    }
    std::vector<std::vector<Copy>> out;
    for (auto& site : bySite)
        out.push_back(std::move(site.second));
    return out;
}

/// Whether the triangles round the copies are clear of each other with the points where they are now.
bool clear(const Mesh& mesh, const std::vector<Copy>& site)
{
    std::vector<Index> triangles;
    for (const Copy& c : site)
        triangles.insert(triangles.end(), c.triangles.begin(), c.triangles.end());
    std::sort(triangles.begin(), triangles.end());
    triangles.erase(std::unique(triangles.begin(), triangles.end()), triangles.end());
    return selfIntersections(subset(mesh, triangles), 1).empty();
}

/// Pulls the copies of a site one way or another until they are clear. Returns how far, or nothing.
bool pullApart(Mesh& mesh, const std::vector<Copy>& site, double stepMm, double& movedMm)
{
    std::vector<Vec3> home;
    for (const Copy& c : site)
        home.push_back(mesh.points[c.point]);
    const auto attempt = [&](auto direction) {
        double farthest = 0;
        for (std::size_t i = 0; i < site.size(); ++i) {
            const double step = std::min(stepMm, edgeShare * site[i].shortestMm);
            const Vec3 shift = step * direction(i);
            mesh.points[site[i].point] = home[i] + shift;
            farthest = std::max(farthest, length(shift));
        }
        if (!clear(mesh, site))
            return false;
        movedMm = std::max(movedMm, farthest);
        return true;
    };
    const Vec3 stay{0, 0, 0};
    if (attempt([&](std::size_t i) { return site[i].inwards; }) ||
        attempt([&](std::size_t i) { return site[i].towardsRing; }) ||
        attempt([&](std::size_t i) { return -site[i].inwards; }))
        return true;
    // One of them alone.
    for (std::size_t one = 0; one < site.size(); ++one)
        if (attempt([&](std::size_t i) { return i == one ? site[i].towardsRing : stay; }) ||
            attempt([&](std::size_t i) { return i == one ? site[i].inwards : stay; }) ||
            attempt([&](std::size_t i) { return i == one ? -site[i].inwards : stay; }))
            return true;
    for (std::size_t i = 0; i < site.size(); ++i)
        mesh.points[site[i].point] = home[i];
    return false;
}

} // namespace

PartedTouching partTouching(Mesh& mesh, double stepMm)
{
    PartedTouching done;
    mesh = splitFans(mesh);
    dropUnusedPoints(mesh);
    for (const std::vector<Copy>& site : sites(mesh)) {
        Buffer<Vec3> places;
        PointIndex index(site.size());
        for (const Copy& c : site)
            index.insert(mesh.points[c.point], places);
        done.points += places.size();
        done.stuck += pullApart(mesh, site, stepMm, done.movedMm) ? 0 : places.size();
    }
    return done;
}

} // namespace quoin::mesh
