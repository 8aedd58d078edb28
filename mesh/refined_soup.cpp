// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/refined_soup.h"

#include "mesh/box_tree.h"
#include "mesh/disjoint_sets.h"
#include "mesh/topology.h"

#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/intersections.h>

#include <boost/variant.hpp>

#include <algorithm>
#include <map>

namespace quoin::mesh {

namespace {

using Kernel = CGAL::Exact_predicates_exact_constructions_kernel;
using Point = Kernel::Point_3;
using Flat = Kernel::Point_2;
using Triangulation = CGAL::Constrained_Delaunay_triangulation_2<Kernel, CGAL::Default, CGAL::Exact_intersections_tag>;

constexpr Index unknown = std::numeric_limits<Index>::max();

/// Coordinates in a plane across one axis, so that counter-clockwise means facing along the axis.
Flat flat(const Point& p, int axis)
{
    return {p[(axis + 1) % 3], p[(axis + 2) % 3]};
}

/// The same point without the history of its making, which later steps would drag along.
Flat settled(const Flat& p)
{
    p.exact();
    return p;
}

int dominantAxis(Vec3 n)
{
    const double x = std::abs(n.x), y = std::abs(n.y), z = std::abs(n.z);
    return x >= y && x >= z ? 0 : y >= z ? 1 : 2;
}

} // namespace

struct RefinedSoup::Impl {
    const Mesh& mesh;
    std::vector<RefinedFace> faces;
    std::vector<Point> added; ///< points beyond those of the mesh
    std::map<Point, Index, Kernel::Less_xyz_3> indexOf;
    std::vector<std::vector<Index>> partners;
    std::vector<Index> solid; ///< triangles with an area
    BoxTree tree;             ///< over these

    explicit Impl(const Mesh& m) : mesh(m), partners(m.triangles.size()) {}

    Point exact(Index v) const
    {
        if (v >= mesh.points.size())
            return added[v - mesh.points.size()];
        const Vec3 p = mesh.points[v];
        return {p.x, p.y, p.z};
    }
    Point corner(Index t, std::size_t k) const { return exact(mesh.triangles[t][k]); }
    Kernel::Triangle_3 triangle(Index t) const { return {corner(t, 0), corner(t, 1), corner(t, 2)}; }
    bool coplanar(Index s, Index t) const
    {
        for (std::size_t k = 0; k < 3; ++k)
            if (CGAL::orientation(corner(s, 0), corner(s, 1), corner(s, 2), corner(t, k)) != CGAL::COPLANAR)
                return false;
        return true;
    }

    Index indexOfPoint(const Point& p)
    {
        const auto [at, fresh] = indexOf.try_emplace(p, static_cast<Index>(mesh.points.size() + added.size()));
        if (fresh)
            added.push_back(p);
        return at->second;
    }

    void refine(const std::vector<std::pair<Index, Index>>& pairs);
    void refineTogether(const std::vector<Index>& triangles);
    void takeFaces(const Triangulation& cdt, const std::vector<Index>& triangles, int axis);
    void buildTree();
};

void RefinedSoup::Impl::refine(const std::vector<std::pair<Index, Index>>& pairs)
{
    DisjointSets<Index> sets(mesh.triangles.size());
    for (const auto& [s, t] : pairs) {
        partners[s].push_back(t);
        partners[t].push_back(s);
        if (coplanar(s, t))
            sets.join(s, t);
    }
    std::map<Index, std::vector<Index>> groups;
    for (Index t = 0; t < mesh.triangles.size(); ++t) {
        if (degenerate(mesh.corner(t, 0), mesh.corner(t, 1), mesh.corner(t, 2)))
            continue;
        solid.push_back(t);
        if (partners[t].empty()) {
            faces.push_back({mesh.triangles[t], 1, t});
            continue;
        }
        groups[sets.find(t)].push_back(t);
        for (const Index v : mesh.triangles[t])
            indexOf.try_emplace(exact(v), v);
    }
    for (const auto& group : groups)
        refineTogether(group.second);
}

void RefinedSoup::Impl::refineTogether(const std::vector<Index>& triangles)
{
    const Index first = triangles.front();
    const Kernel::Vector_3 normal = CGAL::normal(corner(first, 0), corner(first, 1), corner(first, 2));
    const int axis =
        dominantAxis({CGAL::to_double(normal.x()), CGAL::to_double(normal.y()), CGAL::to_double(normal.z())});
    Triangulation cdt;
    for (const Index t : triangles)
        for (std::size_t k = 0; k < 3; ++k)
            cdt.insert_constraint(flat(corner(t, k), axis), flat(corner(t, (k + 1) % 3), axis));
    for (const Index t : triangles)
        for (const Index u : partners[t]) {
            if (std::binary_search(triangles.begin(), triangles.end(), u))
                continue;
            const auto common = CGAL::intersection(triangle(t), triangle(u));
            if (!common)
                continue;
            if (const Kernel::Segment_3* s = boost::get<Kernel::Segment_3>(&*common))
                cdt.insert_constraint(settled(flat(s->source(), axis)), settled(flat(s->target(), axis)));
            else if (const Point* p = boost::get<Point>(&*common))
                cdt.insert(settled(flat(*p, axis)));
        }
    takeFaces(cdt, triangles, axis);
}

void RefinedSoup::Impl::takeFaces(const Triangulation& cdt, const std::vector<Index>& triangles, int axis)
{
    const Point origin = corner(triangles.front(), 0);
    const Kernel::Vector_3 normal = CGAL::normal(origin, corner(triangles.front(), 1), corner(triangles.front(), 2));
    std::map<Triangulation::Vertex_handle, Index> index;
    const auto indexAt = [&](Triangulation::Vertex_handle v) {
        const auto [at, fresh] = index.try_emplace(v, unknown);
        if (fresh) {
            // Back up into the plane of the triangles.
            const int i = (axis + 1) % 3, j = (axis + 2) % 3;
            std::array<Kernel::FT, 3> c;
            c[static_cast<std::size_t>(i)] = v->point().x();
            c[static_cast<std::size_t>(j)] = v->point().y();
            c[static_cast<std::size_t>(axis)] =
                origin[axis] -
                (normal[i] * (v->point().x() - origin[i]) + normal[j] * (v->point().y() - origin[j])) / normal[axis];
            const Point p(c[0], c[1], c[2]);
            p.exact(); // a short history from here on
            at->second = indexOfPoint(p);
        }
        return at->second;
    };
    std::vector<Kernel::Triangle_2> outlines;
    std::vector<CGAL::Bbox_2> boxes;
    for (const Index t : triangles) {
        outlines.emplace_back(flat(corner(t, 0), axis), flat(corner(t, 1), axis), flat(corner(t, 2), axis));
        boxes.push_back(outlines.back().bbox());
    }
    for (const auto& face : cdt.finite_face_handles()) {
        const Flat middle =
            CGAL::centroid(face->vertex(0)->point(), face->vertex(1)->point(), face->vertex(2)->point());
        const CGAL::Bbox_2 box = middle.bbox();
        int layers = 0;
        Index source = unknown;
        for (std::size_t i = 0; i < triangles.size(); ++i)
            if (CGAL::do_overlap(box, boxes[i]) && outlines[i].has_on_bounded_side(middle)) {
                layers += outlines[i].orientation() == CGAL::COUNTERCLOCKWISE ? 1 : -1;
                source = std::min(source, triangles[i]);
            }
        if (layers == 0)
            continue;
        const int second = layers > 0 ? 1 : 2;
        faces.push_back({{indexAt(face->vertex(0)), indexAt(face->vertex(second)), indexAt(face->vertex(3 - second))},
                         std::abs(layers),
                         source});
    }
}

void RefinedSoup::Impl::buildTree()
{
    std::vector<Box3> boxes(solid.size());
    for (std::size_t i = 0; i < solid.size(); ++i)
        for (int k = 0; k < 3; ++k)
            boxes[i].add(mesh.corner(solid[i], k));
    tree = BoxTree(boxes);
}

RefinedSoup::RefinedSoup(const Mesh& mesh, const std::vector<std::pair<Index, Index>>& pairs)
    : m_impl(std::make_unique<Impl>(mesh))
{
    m_impl->refine(pairs);
    m_impl->buildTree();
}

RefinedSoup::~RefinedSoup() = default;

const std::vector<RefinedFace>& RefinedSoup::faces() const
{
    return m_impl->faces;
}

Buffer<Vec3> RefinedSoup::points() const
{
    Buffer<Vec3> out = m_impl->mesh.points;
    for (const Point& p : m_impl->added)
        out.push_back({CGAL::to_double(p.x()), CGAL::to_double(p.y()), CGAL::to_double(p.z())});
    return out;
}

namespace {

/// Side of q against the line from a to b across the axis, q being shifted by (e, e^2) with infinitesimal e; 0 only
/// when a and b coincide there.
int sideOf(const Point& a, const Point& b, const Point& q, int axis)
{
    const CGAL::Orientation side = CGAL::orientation(flat(a, axis), flat(b, axis), flat(q, axis));
    if (side != CGAL::COLLINEAR)
        return side == CGAL::LEFT_TURN ? 1 : -1;
    const int u = (axis + 1) % 3, v = (axis + 2) % 3;
    if (const CGAL::Comparison_result c = CGAL::compare(b[v], a[v]); c != CGAL::EQUAL)
        return c == CGAL::SMALLER ? 1 : -1;
    const CGAL::Comparison_result c = CGAL::compare(a[u], b[u]);
    return c == CGAL::SMALLER ? 1 : c == CGAL::LARGER ? -1 : 0;
}

} // namespace

RefinedSoup::Sides RefinedSoup::sidesOf(std::size_t face) const
{
    const Triangle& f = m_impl->faces[face].corners;
    const Point a = m_impl->exact(f[0]), b = m_impl->exact(f[1]), c = m_impl->exact(f[2]);
    const Kernel::Vector_3 n = CGAL::normal(a, b, c);
    const int axis = dominantAxis({CGAL::to_double(n.x()), CGAL::to_double(n.y()), CGAL::to_double(n.z())});
    const Point q = CGAL::centroid(a, b, c);
    const CGAL::Bbox_3 at = q.bbox();
    const auto u = static_cast<std::size_t>((axis + 1) % 3), v = static_cast<std::size_t>((axis + 2) % 3);
    const auto w = static_cast<std::size_t>(axis);
    int above = 0, here = 0;
    m_impl->tree.walk(
        [&](const TightBox& box) {
            const int iu = static_cast<int>(u), iv = static_cast<int>(v);
            return box.max[w] >= (at.min)(axis) && box.min[u] <= (at.max)(iu) && box.max[u] >= (at.min)(iu) &&
                   box.min[v] <= (at.max)(iv) && box.max[v] >= (at.min)(iv);
        },
        [&](Index i) {
            const Index t = m_impl->solid[i];
            const Point p0 = m_impl->corner(t, 0), p1 = m_impl->corner(t, 1), p2 = m_impl->corner(t, 2);
            const int side = sideOf(p0, p1, q, axis);
            if (side == 0 || sideOf(p1, p2, q, axis) != side || sideOf(p2, p0, q, axis) != side)
                return true;
            const CGAL::Orientation where = CGAL::orientation(p0, p1, p2, q);
            if (where == CGAL::COPLANAR)
                here += side;
            else if (where == (side > 0 ? CGAL::NEGATIVE : CGAL::POSITIVE))
                above += side;
            return true;
        });
    const bool along = CGAL::orientation(flat(a, axis), flat(b, axis), flat(c, axis)) == CGAL::LEFT_TURN;
    return along ? Sides{above, above + here} : Sides{above + here, above};
}

} // namespace quoin::mesh
