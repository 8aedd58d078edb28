// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/hole_patch.h"

#include "mesh/edge_table.h"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/orient_polygon_soup.h>
#include <CGAL/Polygon_mesh_processing/polygon_soup_to_polygon_mesh.h>
#include <CGAL/Polygon_mesh_processing/triangulate_hole.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/utility.h>

#include <algorithm>

namespace quoin::mesh {

namespace {

namespace PMP = CGAL::Polygon_mesh_processing;
using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using SurfaceMesh = CGAL::Surface_mesh<Kernel::Point_3>;

/// The exhaustive search for the best triangulation takes cubic time: left out for rims of more corners.
constexpr std::size_t cornersForExhaustiveSearch = 500;

Kernel::Point_3 pointOf(Vec3 p)
{
    return {p.x, p.y, p.z};
}

/// For each rim edge i the third corner of the triangle beyond it.
std::vector<Kernel::Point_3> pointsBeyond(const Mesh& around, std::size_t corners)
{
    const EdgeTable table(around);
    std::vector<Kernel::Point_3> beyond;
    for (std::size_t i = 0; i < corners; ++i) {
        const auto uses = table.uses(static_cast<Index>(i), static_cast<Index>((i + 1) % corners));
        const Vec3 p = uses.empty() ? around.points[i] : around.points[apexOf(around, uses.front().halfEdge())];
        beyond.push_back(pointOf(p));
    }
    return beyond;
}

HolePatch fan(const Mesh& around, std::size_t corners)
{
    HolePatch patch;
    Vec3 middle{0, 0, 0};
    for (std::size_t i = 0; i < corners; ++i) {
        patch.points.push_back(around.points[i]);
        middle = middle + around.points[i] / static_cast<double>(corners);
    }
    const auto centre = static_cast<Index>(corners);
    patch.points.push_back(middle);
    for (std::size_t i = 0; i < corners; ++i)
        patch.triangles.push_back({static_cast<Index>(i), static_cast<Index>((i + 1) % corners), centre});
    return patch;
}

} // namespace

HolePatch plainPatch(const Mesh& around, std::size_t corners, bool flat)
{
    std::vector<Kernel::Point_3> rim;
    for (std::size_t i = 0; i < corners; ++i)
        rim.push_back(pointOf(around.points[i]));
    std::vector<CGAL::Triple<int, int, int>> found;
    try {
        PMP::triangulate_hole_polyline(
            rim, pointsBeyond(around, corners), std::back_inserter(found),
            CGAL::parameters::use_2d_constrained_delaunay_triangulation(flat).do_not_use_cubic_algorithm(
                corners > cornersForExhaustiveSearch));
    } catch (const std::exception&) {
        found.clear();
    }
    if (found.size() != corners - 2)
        return fan(around, corners);
    HolePatch patch;
    patch.points.assign(around.points.begin(), around.points.begin() + static_cast<std::ptrdiff_t>(corners));
    for (const auto& t : found) {
        // In rising order a triangle runs the way the rim is listed.
        Triangle corner{static_cast<Index>(t.first), static_cast<Index>(t.second), static_cast<Index>(t.third)};
        std::sort(corner.begin(), corner.end());
        patch.triangles.push_back(corner);
    }
    return patch;
}

std::optional<HolePatch> fairPatch(const Mesh& around, std::size_t corners)
{
    std::vector<Kernel::Point_3> points;
    for (const Vec3 p : around.points)
        points.push_back(pointOf(p));
    std::vector<std::array<std::size_t, 3>> faces;
    for (const auto& [a, b, c] : around.triangles)
        faces.push_back({a, b, c});
    if (corners > cornersForExhaustiveSearch || !PMP::is_polygon_soup_a_polygon_mesh(faces))
        return std::nullopt;
    SurfaceMesh surface;
    PMP::polygon_soup_to_polygon_mesh(points, faces, surface);
    const auto border = surface.halfedge(SurfaceMesh::Vertex_index(0), SurfaceMesh::Vertex_index(1));
    if (!border.is_valid() || !surface.is_border(border))
        return std::nullopt;
    std::size_t length = 0;
    for (auto h = border; length == 0 || h != border; h = surface.next(h))
        if (++length > corners)
            return std::nullopt;
    std::vector<SurfaceMesh::Face_index> added;
    std::vector<SurfaceMesh::Vertex_index> inner;
    try {
        if (!std::get<0>(PMP::triangulate_refine_and_fair_hole(surface, border, std::back_inserter(added),
                                                               std::back_inserter(inner))))
            return std::nullopt;
    } catch (const std::exception&) {
        return std::nullopt;
    }
    if (added.empty())
        return std::nullopt;
    HolePatch patch;
    patch.points.assign(around.points.begin(), around.points.begin() + static_cast<std::ptrdiff_t>(corners));
    std::vector<Index> number(surface.number_of_vertices(), noHalfEdge);
    for (Index i = 0; i < corners; ++i)
        number[i] = i;
    for (const auto v : inner) {
        number[v] = static_cast<Index>(patch.points.size());
        const Kernel::Point_3& p = surface.point(v);
        patch.points.push_back({p.x(), p.y(), p.z()});
    }
    for (const auto f : added) {
        Triangle t{};
        std::size_t k = 0;
        for (const auto v : CGAL::vertices_around_face(surface.halfedge(f), surface))
            t[k++] = number[v];
        if (std::find(t.begin(), t.end(), noHalfEdge) != t.end())
            return std::nullopt;
        patch.triangles.push_back(t);
    }
    return patch;
}

} // namespace quoin::mesh
