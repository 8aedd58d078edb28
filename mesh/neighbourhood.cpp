// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/neighbourhood.h"

#include "mesh/box_tree.h"
#include "mesh/point_index.h"
#include "mesh/topology.h"
#include "mesh/triangle_contact.h"

#include <tbb/enumerable_thread_specific.h>

#include <algorithm>

namespace quoin::mesh {

namespace {

/// The reach goes beyond the tool by this share of its size, so that no rounding puts a middle of one of its faces
/// outside.
constexpr double reachShare = 1e-6;

Box3 boxOf(const Mesh& mesh, std::size_t t)
{
    Box3 box;
    for (int k = 0; k < 3; ++k)
        box.add(mesh.corner(t, k));
    return box;
}

Box3 grown(Box3 box, double by)
{
    box.min = box.min - Vec3{by, by, by};
    box.max = box.max + Vec3{by, by, by};
    return box;
}

/// On how many axes the two boxes overlap.
int axesShared(const Box3& a, const Box3& b)
{
    int shared = 0;
    for (int k = 0; k < 3; ++k)
        shared += a.min[k] <= b.max[k] && b.min[k] <= a.max[k];
    return shared;
}

bool flatTriangle(const Mesh& mesh, std::size_t t)
{
    return degenerate(mesh.corner(t, 0), mesh.corner(t, 1), mesh.corner(t, 2));
}

/// Boxes of the triangles from first to last that take part and have an area.
template <class TakesPart>
BoxTree treeOf(const Mesh& mesh, std::size_t first, std::size_t last, const TakesPart& takesPart,
               std::vector<Index>& numbers)
{
    std::vector<Box3> boxes;
    for (std::size_t t = first; t < last; ++t)
        if (takesPart(t) && !flatTriangle(mesh, t)) {
            boxes.push_back(boxOf(mesh, t));
            numbers.push_back(static_cast<Index>(t));
        }
    return BoxTree(boxes);
}

} // namespace

Neighbourhood neighbourhoodOf(const Mesh& mesh, const Mesh& tool, bool turned)
{
    Neighbourhood out;
    const Box3 box = bounds(tool);
    out.reach = grown(box, reachShare * length(box.extents()));
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        // A ray along one axis stays in the reach on the other two.
        const int shared = axesShared(boxOf(mesh, t), out.reach);
        if (shared < 2)
            continue;
        out.source.push_back(static_cast<Index>(t));
        out.within.push_back(shared == 3);
    }
    PointIndex places(3 * out.source.size() / 2 + tool.points.size());
    const auto local = [&](Vec3 p, Index vertex) {
        const Index number = places.insert(p, out.local.points);
        if (number == out.vertex.size())
            out.vertex.push_back(vertex);
        return number;
    };
    for (const Index t : out.source) {
        Triangle corners = mesh.triangles[t];
        for (Index& v : corners)
            v = local(mesh.points[v], v);
        out.local.triangles.push_back(corners);
    }
    for (Triangle corners : tool.triangles) {
        for (Index& v : corners)
            v = local(tool.points[v], Neighbourhood::noVertex);
        if (turned)
            std::swap(corners[1], corners[2]);
        out.local.triangles.push_back(corners);
    }
    return out;
}

std::vector<std::pair<Index, Index>> Neighbourhood::meetings() const
{
    std::vector<Index> ours, theirs;
    const BoxTree mesh = treeOf(
        local, 0, source.size(), [&](std::size_t t) { return within[t] != 0; }, ours);
    const BoxTree tool = treeOf(
        local, source.size(), local.triangles.size(), [](std::size_t) { return true; }, theirs);
    using Pairs = std::vector<std::pair<Index, Index>>;
    tbb::enumerable_thread_specific<Pairs> found;
    mesh.forEachPair(
        tool,
        [&](Index i, Index j) {
            if (trianglesMeet(local.triangles[ours[i]], local.triangles[theirs[j]], local.points))
                found.local().emplace_back(ours[i], theirs[j]);
        },
        [] { return false; });
    Pairs all;
    for (const Pairs& some : found)
        all.insert(all.end(), some.begin(), some.end());
    std::sort(all.begin(), all.end());
    return all;
}

} // namespace quoin::mesh
