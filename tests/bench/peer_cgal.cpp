// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/bench/bench.h"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/clip.h>
#include <CGAL/Polygon_mesh_processing/corefinement.h>
#include <CGAL/Surface_mesh.h>

namespace quoin::bench {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Surface = CGAL::Surface_mesh<Kernel::Point_3>;
namespace pmp = CGAL::Polygon_mesh_processing;

Surface surfaceOf(const mesh::Mesh& m)
{
    Surface s;
    s.reserve(static_cast<Surface::size_type>(m.points.size()), static_cast<Surface::size_type>(3 * m.points.size()),
              static_cast<Surface::size_type>(m.triangles.size()));
    for (const mesh::Vec3 p : m.points)
        s.add_vertex({p.x, p.y, p.z});
    for (const mesh::Triangle& t : m.triangles)
        s.add_face(Surface::Vertex_index(t[0]), Surface::Vertex_index(t[1]), Surface::Vertex_index(t[2]));
    return s;
}

/// Times of work on fresh copies; the copying is not counted.
template <class F>
Times timedOnCopies(const Surface& original, int runs, F&& f)
{
    std::vector<double> ms;
    for (int i = 0; i < runs; ++i) {
        Surface copy = original;
        const Times one = timed(1, [&] { f(copy); });
        ms.push_back(one.median);
    }
    std::sort(ms.begin(), ms.end());
    return {ms[ms.size() / 2], ms.front(), ms.back()};
}

} // namespace

Times cgalClipOneHalf(const mesh::Mesh& mesh, const mesh::Plane& plane, int runs)
{
    const Kernel::Plane_3 cut(plane.normal.x, plane.normal.y, plane.normal.z, -plane.offset);
    return timedOnCopies(surfaceOf(mesh), runs,
                         [&](Surface& s) { pmp::clip(s, cut, CGAL::parameters::clip_volume(true)); });
}

Times cgalDifference(const mesh::Mesh& mesh, const mesh::Mesh& tool, int runs)
{
    const Surface cutter = surfaceOf(tool);
    return timedOnCopies(surfaceOf(mesh), runs, [&](Surface& s) {
        Surface t = cutter, out;
        pmp::corefine_and_compute_difference(s, t, out);
        keep(&out);
    });
}

} // namespace quoin::bench
