// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/face_patch.h"

#include "mesh/outline_loops.h"
#include "mesh/tolerance.h"
#include "mesh/topology.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace quoin::mesh {

namespace {

std::string at(Vec3 p)
{
    return fmt::format("({:.3f}, {:.3f}, {:.3f}) mm", p.x, p.y, p.z);
}

Problem refusedAt(const std::string& what, Vec3 where)
{
    Problem problem = jointRefused(what);
    problem.place = at(where);
    return problem;
}

std::vector<OutlineEdge> borderEdges(const Mesh& surface)
{
    std::vector<Index> all(surface.triangles.size());
    std::iota(all.begin(), all.end(), Index{0});
    return rimOf(surface, all);
}

Status soundSurface(const Mesh& surface)
{
    for (const Vec3 p : surface.points)
        if (!(std::isfinite(p.x) && std::isfinite(p.y) && std::isfinite(p.z)))
            return jointRefused("a feature's surface has a point that is no number");
    for (const Triangle& t : surface.triangles)
        for (const Index v : t)
            if (v >= surface.points.size())
                return jointRefused("a feature's surface names a point that it hasn't got");
    const Topology topology = topologyOf(surface);
    if (topology.nonManifoldEdges != 0)
        return refusedAt("a feature's surface has an edge with more than two triangles", topology.nonManifoldEdgeAt);
    if (topology.flippedEdges != 0)
        return refusedAt("a feature's surface has neighbours that face opposite ways", topology.flippedAt);
    if (topology.nonManifoldVertices != 0)
        return refusedAt("a feature's surface touches itself in a point", topology.nonManifoldVertexAt);
    return Done{};
}

/// Every connected part has to reach the face, or it would float.
Status allReachTheBorder(const Mesh& surface, const std::vector<OutlineEdge>& border)
{
    std::vector<char> onBorder(surface.points.size(), 0);
    for (const OutlineEdge& e : border)
        onBorder[e[0]] = 1;
    const Parts parts = connectedParts(surface);
    std::vector<char> reaches(parts.count, 0);
    for (std::size_t t = 0; t < surface.triangles.size(); ++t)
        for (const Index v : surface.triangles[t])
            if (onBorder[v])
                reaches[parts.partOf[t]] = 1;
    for (std::size_t t = 0; t < surface.triangles.size(); ++t)
        if (!reaches[parts.partOf[t]])
            return refusedAt("a part of a feature's surface has no border to be sewn in by", surface.corner(t, 0));
    return Done{};
}

} // namespace

Result<PatchBorder> borderOf(const FacePatch& patch, const Plane& outward)
{
    const Mesh& surface = patch.surface;
    if (surface.empty())
        return jointRefused("a feature's surface has no triangles");
    if (const Status sound = soundSurface(surface); !sound)
        return sound.problem();
    const std::vector<OutlineEdge> edges = borderEdges(surface);
    if (const Status reach = allReachTheBorder(surface, edges); !reach)
        return reach.problem();
    for (const OutlineEdge& e : edges)
        if (const double off = outward.distance(surface.points[e[0]]); std::abs(off) > tolerance::mouthOffPlaneMm)
            return refusedAt(fmt::format("the border of a feature's surface lies {:.3g} mm off the face's plane", off),
                             surface.points[e[0]]);
    const OutlineLoops loops = loopsOf(edges);
    if (!loops.closed)
        return refusedAt("the border of a feature's surface does not close", surface.points[loops.openAt]);
    const PlaneFrame frame = frameOf(outward);
    PatchBorder border;
    for (const std::vector<Index>& chain : loops.loops) {
        Loop& loop = border.mouth.outline.emplace_back();
        for (const Index v : chain) {
            const Vec3 p = surface.points[v];
            border.corners.push_back(v);
            border.mouth.places.push_back(p - outward.distance(p) * outward.normal);
            loop.push_back(frame.flat(p));
        }
    }
    if (area(border.mouth.outline) <= 0)
        return refusedAt("a feature's surface is turned inside out", border.mouth.places.front());
    if (!triangulateRegion(border.mouth.outline))
        return refusedAt("the border of a feature's surface crosses or touches itself", border.mouth.places.front());
    return border;
}

void appendPatch(const FacePatch& patch, const PatchBorder& border, Index firstCorner, Buffer<Vec3>& points,
                 std::vector<Triangle>& triangles)
{
    constexpr Index unnamed = std::numeric_limits<Index>::max();
    std::vector<Index> name(patch.surface.points.size(), unnamed);
    for (std::size_t i = 0; i < border.corners.size(); ++i)
        name[border.corners[i]] = firstCorner + static_cast<Index>(i);
    for (Triangle t : patch.surface.triangles) {
        for (Index& v : t) {
            if (name[v] == unnamed) {
                name[v] = static_cast<Index>(points.size());
                points.push_back(patch.surface.points[v]);
            }
            v = name[v];
        }
        triangles.push_back(t);
    }
}

double volumeAdded(const FacePatch& patch, const Plane& outward)
{
    const Box3 box = bounds(patch.surface);
    if (box.empty())
        return 0;
    const Vec3 origin = box.centre() - outward.distance(box.centre()) * outward.normal;
    double six = 0;
    for (std::size_t t = 0; t < patch.surface.triangles.size(); ++t)
        six += dot(patch.surface.corner(t, 0) - origin,
                   cross(patch.surface.corner(t, 1) - origin, patch.surface.corner(t, 2) - origin));
    return six / 6;
}

Region mouthOf(const FacePatch& patch, const Plane& outward)
{
    const PlaneFrame frame = frameOf(outward);
    Region mouth;
    for (const std::vector<Index>& chain : loopsOf(borderEdges(patch.surface)).loops) {
        Loop& loop = mouth.emplace_back();
        for (const Index v : chain)
            loop.push_back(frame.flat(patch.surface.points[v]));
    }
    if (area(mouth) < 0)
        for (Loop& loop : mouth)
            std::reverse(loop.begin(), loop.end());
    return mouth;
}

} // namespace quoin::mesh
