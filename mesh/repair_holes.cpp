// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/repair_holes.h"

#include "mesh/edge_table.h"
#include "mesh/hole_patch.h"
#include "mesh/mass.h"
#include "mesh/place.h"
#include "mesh/self_intersection.h"

#include <fmt/format.h>

#include <algorithm>
#include <unordered_map>

namespace quoin::mesh {

namespace {

/// A rim counts as flat when it lies within this share of its length of a plane.
constexpr double flatShare = 1e-4;

/// Rims of fewer corners are closed by the corners alone.
constexpr std::size_t cornersWorthFairing = 9;

/// Rings of triangles round a hole that its filling takes its shape and density from.
constexpr int ringsAround = 3;

using Rim = std::vector<Index>; ///< corners in the order in which the filling runs them

/// All rims. Where one passes the same point again, the loop up to there is a rim of its own.
std::optional<std::vector<Rim>> rimsOf(const Mesh& mesh)
{
    std::vector<std::pair<Index, Index>> edges;
    EdgeTable(mesh).forEachEdge([&](Index low, Index high, std::span<const EdgeUse> uses) {
        if (uses.size() == 1 && low != high)
            edges.emplace_back(uses[0].reversed() ? low : high, uses[0].reversed() ? high : low);
    });
    std::sort(edges.begin(), edges.end());
    std::vector<char> used(edges.size(), 0);
    const auto unusedFrom = [&](Index v) {
        auto at = std::lower_bound(edges.begin(), edges.end(), std::pair{v, Index{0}});
        while (at != edges.end() && at->first == v && used[static_cast<std::size_t>(at - edges.begin())] != 0)
            ++at;
        return at != edges.end() && at->first == v ? static_cast<std::size_t>(at - edges.begin()) : edges.size();
    };
    std::vector<Rim> rims;
    for (std::size_t first = 0; first < edges.size(); ++first) {
        if (used[first] != 0)
            continue;
        Rim path;
        std::unordered_map<Index, std::size_t> placeOnPath;
        for (std::size_t e = first;;) {
            used[e] = 1;
            placeOnPath[edges[e].first] = path.size();
            path.push_back(edges[e].first);
            const Index to = edges[e].second;
            if (const auto seen = placeOnPath.find(to); seen != placeOnPath.end()) {
                const auto from = path.begin() + static_cast<std::ptrdiff_t>(seen->second);
                rims.emplace_back(from, path.end());
                for (auto v = from; v != path.end(); ++v)
                    placeOnPath.erase(*v);
                path.erase(from, path.end());
            }
            e = unusedFrom(to);
            if (path.empty())
                break;
            if (e == edges.size())
                return std::nullopt;
        }
    }
    return rims;
}

double rimLength(const Mesh& mesh, const Rim& rim)
{
    double sum = 0;
    for (std::size_t i = 0; i < rim.size(); ++i)
        sum += length(mesh.points[rim[(i + 1) % rim.size()]] - mesh.points[rim[i]]);
    return sum;
}

/// Flat against the plane of its area vector; a rim all in line is flat too.
bool liesInPlane(const Mesh& mesh, const Rim& rim)
{
    Vec3 areaVector{0, 0, 0}, middle{0, 0, 0};
    for (const Index v : rim)
        middle = middle + mesh.points[v] / static_cast<double>(rim.size());
    for (std::size_t i = 0; i < rim.size(); ++i)
        areaVector = areaVector + cross(mesh.points[rim[i]] - middle, mesh.points[rim[(i + 1) % rim.size()]] - middle);
    const Vec3 normal = normalized(areaVector);
    const double slack = flatShare * rimLength(mesh, rim);
    return std::all_of(rim.begin(), rim.end(),
                       [&](Index v) { return std::abs(dot(mesh.points[v] - middle, normal)) <= slack; });
}

/// Triangles within some rings of the rim, as a mesh whose first points are the rim's corners in order.
Mesh surroundings(const Mesh& mesh, const Rim& rim)
{
    std::vector<char> near(mesh.points.size(), 0);
    for (const Index v : rim)
        near[v] = 1;
    std::vector<Index> triangles;
    for (int ring = 0; ring < ringsAround; ++ring) {
        triangles.clear();
        for (Index i = 0; i < mesh.triangles.size(); ++i) {
            const Triangle& t = mesh.triangles[i];
            if (near[t[0]] != 0 || near[t[1]] != 0 || near[t[2]] != 0)
                triangles.push_back(i);
        }
        for (const Index i : triangles)
            for (const Index v : mesh.triangles[i])
                near[v] = 1;
    }
    std::unordered_map<Index, Index> number;
    Mesh out;
    const auto take = [&](Index v) {
        const auto [at, fresh] = number.try_emplace(v, static_cast<Index>(out.points.size()));
        if (fresh)
            out.points.push_back(mesh.points[v]);
        return at->second;
    };
    for (const Index v : rim)
        take(v);
    for (const Index i : triangles) {
        const Triangle& t = mesh.triangles[i];
        const Index a = take(t[0]), b = take(t[1]), c = take(t[2]);
        out.triangles.push_back({a, b, c});
    }
    return out;
}

/// The mesh with the patch put in; the patch's first points are the rim's corners.
void putIn(Mesh& mesh, const Rim& rim, const HolePatch& patch)
{
    std::vector<Index> number(rim);
    for (std::size_t i = rim.size(); i < patch.points.size(); ++i) {
        number.push_back(static_cast<Index>(mesh.points.size()));
        mesh.points.push_back(patch.points[i]);
    }
    for (const Triangle& t : patch.triangles) {
        mesh.triangles.push_back({number[t[0]], number[t[1]], number[t[2]]});
        if (!mesh.labels.empty())
            mesh.labels.push_back(skinLabel);
    }
}

/// Whether the last `count` triangles meet any triangle near them.
bool lastOnesCut(const Mesh& mesh, std::size_t count)
{
    const std::size_t first = mesh.triangles.size() - count;
    Box3 box;
    for (std::size_t i = first; i < mesh.triangles.size(); ++i)
        for (int k = 0; k < 3; ++k)
            box.add(mesh.corner(i, k));
    std::vector<Index> near;
    Index firstNear = 0;
    for (Index i = 0; i < mesh.triangles.size(); ++i) {
        Box3 own;
        for (int k = 0; k < 3; ++k)
            own.add(mesh.corner(i, k));
        if (i == first)
            firstNear = static_cast<Index>(near.size());
        if (own.min.x <= box.max.x && own.max.x >= box.min.x && own.min.y <= box.max.y && own.max.y >= box.min.y &&
            own.min.z <= box.max.z && own.max.z >= box.min.z)
            near.push_back(i);
    }
    for (const auto& pair : selfIntersections(subset(mesh, near)))
        if (pair.second >= firstNear)
            return true;
    return false;
}

void fill(Mesh& mesh, const Rim& rim)
{
    const Mesh around = surroundings(mesh, rim);
    const bool flat = liesInPlane(mesh, rim);
    if (!flat && rim.size() >= cornersWorthFairing) {
        if (const std::optional<HolePatch> patch = fairPatch(around, rim.size())) {
            Mesh tried = mesh;
            putIn(tried, rim, *patch);
            if (!lastOnesCut(tried, patch->triangles.size())) {
                mesh = std::move(tried);
                return;
            }
        }
    }
    putIn(mesh, rim, plainPatch(around, rim.size(), flat));
}

} // namespace

Result<HoleFilling> fillHoles(Mesh& mesh, double longestRimMm)
{
    const std::optional<std::vector<Rim>> rims = rimsOf(mesh);
    if (!rims)
        return Problem{Reason::NotRepairable, "the open edges form no closed rims", "", "", "Export it again."};
    HoleFilling done;
    for (const Rim& rim : *rims) {
        const double lengthMm = rimLength(mesh, rim);
        if (lengthMm > longestRimMm && !liesInPlane(mesh, rim))
            return Problem{
                Reason::NotRepairable,
                fmt::format("a hole with a rim of {:.1f} mm is too large to guess what belongs there", lengthMm), "",
                placeText(mesh.points[rim.front()]), "Close it in the program it comes from."};
        done.longestRimMm = std::max(done.longestRimMm, lengthMm);
    }
    const std::size_t before = mesh.triangles.size();
    for (const Rim& rim : *rims)
        fill(mesh, rim);
    done.holes = rims->size();
    done.triangles = mesh.triangles.size() - before;
    for (std::size_t i = before; i < mesh.triangles.size(); ++i)
        done.areaMm2 += triangleArea(mesh, i);
    return done;
}

} // namespace quoin::mesh
