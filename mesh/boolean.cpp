// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/boolean.h"

#include "mesh/mass.h"

#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/corefinement.h>
#include <CGAL/Polygon_mesh_processing/orient_polygon_soup.h>
#include <CGAL/Polygon_mesh_processing/polygon_soup_to_polygon_mesh.h>
#include <CGAL/Polygon_mesh_processing/repair_degeneracies.h>
#include <CGAL/Surface_mesh.h>

namespace quoin::mesh {

namespace {

namespace PMP = CGAL::Polygon_mesh_processing;
// Exact points in and out: the rounding that the corefinement would do on its own (the middle of an interval) shifts
// points off the very planes they were constructed on, and the next operation trips over the creases.
using Kernel = CGAL::Exact_predicates_exact_constructions_kernel;
using SurfaceMesh = CGAL::Surface_mesh<Kernel::Point_3>;
using RoundedMesh = CGAL::Surface_mesh<CGAL::Exact_predicates_inexact_constructions_kernel::Point_3>;

enum class Operation { Union, Difference, Intersection };

const char* ordinal(bool first)
{
    return first ? "the first solid" : "the second solid";
}

Result<SurfaceMesh> toSurfaceMesh(const Mesh& mesh, bool first)
{
    std::vector<Kernel::Point_3> points;
    points.reserve(mesh.points.size());
    for (const Vec3 p : mesh.points)
        points.emplace_back(p.x, p.y, p.z);
    std::vector<std::array<std::size_t, 3>> faces;
    faces.reserve(mesh.triangles.size());
    for (const auto& [a, b, c] : mesh.triangles)
        faces.push_back({a, b, c});
    SurfaceMesh out;
    if (!PMP::is_polygon_soup_a_polygon_mesh(faces))
        return Problem{Reason::NotClosed, std::string(ordinal(first)) + " is not an oriented 2-manifold surface", "",
                       "", "Repair it first."};
    PMP::polygon_soup_to_polygon_mesh(points, faces, out);
    if (!CGAL::is_closed(out))
        return Problem{Reason::NotClosed, std::string(ordinal(first)) + " is not closed", "", "", "Repair it first."};
    if (!mesh.empty() && volume(mesh) <= 0)
        return Problem{Reason::NotOriented, std::string(ordinal(first)) + " is inside out", "", "", "Repair it first."};
    return out;
}

/// The exact number, rounded once. A number that is a double comes back unchanged.
double nearest(const Kernel::FT& number)
{
    return CGAL::to_double(number.exact());
}

RoundedMesh rounded(SurfaceMesh& surface)
{
    surface.collect_garbage();
    RoundedMesh out;
    out.reserve(surface.number_of_vertices(), surface.number_of_edges(), surface.number_of_faces());
    for (const auto v : surface.vertices()) {
        const auto& p = surface.point(v);
        out.add_vertex({nearest(p.x()), nearest(p.y()), nearest(p.z())});
    }
    for (const auto f : surface.faces()) {
        std::vector<RoundedMesh::Vertex_index> corners;
        for (const auto v : CGAL::vertices_around_face(surface.halfedge(f), surface))
            corners.emplace_back(static_cast<Index>(v));
        out.add_face(corners);
    }
    return out;
}

/// Where edges of the two solids all but meet, the exact answer has points a hair apart and triangles with no height;
/// rounded to a file's 32-bit floats they would fold over. Points nearer than mergeMm become one, and triangles lower
/// than that are flipped away; nothing moves further.
void tidy(RoundedMesh& surface)
{
    constexpr double mergeMm = 1e-6;
    constexpr double capCosine = -0.98; // widest angle of a triangle, beyond 168 degrees
    constexpr double needleRatio = 100; // longest to shortest edge
    PMP::experimental::remove_almost_degenerate_faces(surface, capCosine, needleRatio, mergeMm,
                                                      CGAL::parameters::flip_triangle_height_threshold(mergeMm));
    surface.collect_garbage();
}

Mesh fromSurfaceMesh(SurfaceMesh& exact)
{
    RoundedMesh surface = rounded(exact);
    tidy(surface);
    Mesh out;
    out.points.reserve(surface.number_of_vertices());
    for (const auto v : surface.vertices()) {
        const auto& p = surface.point(v);
        out.points.push_back({p.x(), p.y(), p.z()});
    }
    out.triangles.reserve(surface.number_of_faces());
    for (const auto f : surface.faces()) {
        Triangle t{};
        std::size_t k = 0;
        for (const auto v : CGAL::vertices_around_face(surface.halfedge(f), surface))
            t[k++] = static_cast<Index>(v);
        out.triangles.push_back(t);
    }
    return out;
}

bool compute(Operation operation, SurfaceMesh& a, SurfaceMesh& b, SurfaceMesh& out)
{
    const auto strict = CGAL::parameters::throw_on_self_intersection(true);
    switch (operation) {
    case Operation::Union:
        return PMP::corefine_and_compute_union(a, b, out, strict);
    case Operation::Difference:
        return PMP::corefine_and_compute_difference(a, b, out, strict);
    case Operation::Intersection:
        return PMP::corefine_and_compute_intersection(a, b, out, strict);
    }
    return false;
}

/// The answer when one of the solids is empty.
Mesh withEmpty(Operation operation, const Mesh& a, const Mesh& b)
{
    Mesh out = operation == Operation::Union ? (a.empty() ? b : a) : operation == Operation::Difference ? a : Mesh{};
    out.labels.clear();
    return out;
}

Result<Mesh> combined(Operation operation, const Mesh& a, const Mesh& b)
{
    Result<SurfaceMesh> first = toSurfaceMesh(a, true);
    if (!first)
        return first.problem();
    Result<SurfaceMesh> second = toSurfaceMesh(b, false);
    if (!second)
        return second.problem();
    if (a.empty() || b.empty())
        return withEmpty(operation, a, b);
    SurfaceMesh out;
    try {
        if (!compute(operation, *first, *second, out))
            return Problem{Reason::CutFailed, "the solids touch in a line or a point, so the result is no 2-manifold",
                           "", "", "Move one of them a little."};
    } catch (const PMP::Corefinement::Self_intersection_exception&) {
        return Problem{Reason::SelfIntersecting, "one of the solids intersects itself where they meet", "", "",
                       "Repair it first."};
    } catch (const std::exception& e) {
        return Problem{Reason::CutFailed, std::string("combining the solids failed: ") + e.what(), "", "",
                       "Check both for self-intersections."};
    }
    return fromSurfaceMesh(out);
}

} // namespace

Result<Mesh> solidUnion(const Mesh& a, const Mesh& b)
{
    return combined(Operation::Union, a, b);
}
Result<Mesh> solidDifference(const Mesh& a, const Mesh& b)
{
    return combined(Operation::Difference, a, b);
}
Result<Mesh> solidIntersection(const Mesh& a, const Mesh& b)
{
    return combined(Operation::Intersection, a, b);
}

} // namespace quoin::mesh
