// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/triangulate.h"

#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Spatial_sort_traits_adapter_2.h>
#include <CGAL/Triangulation_face_base_with_info_2.h>
#include <CGAL/Triangulation_vertex_base_with_info_2.h>
#include <CGAL/property_map.h>
#include <CGAL/spatial_sort.h>

#include <algorithm>
#include <limits>
#include <unordered_map>

namespace quoin::mesh {

namespace {

constexpr int unvisited = std::numeric_limits<int>::min();
constexpr Index none = std::numeric_limits<Index>::max();

Problem touching(const std::string& what)
{
    return {Reason::CutFailed, what, {}, {}, "Repair the model (--repair), or move the plane a little."};
}

std::uint64_t keyOf(Index a, Index b)
{
    return (static_cast<std::uint64_t>(a) << 32) | b;
}

/// Directed edges with opposites cancelled: key (from, to) to how often it is left over.
class NetEdges {
public:
    explicit NetEdges(const std::vector<OutlineEdge>& edges)
    {
        m_count.reserve(2 * edges.size());
        for (const OutlineEdge& e : edges) {
            if (e[0] == e[1])
                continue;
            if (const auto back = m_count.find(keyOf(e[1], e[0])); back != m_count.end() && back->second > 0)
                --back->second;
            else
                ++m_count[keyOf(e[0], e[1])];
        }
    }
    template <class F>
    void forEach(const std::vector<OutlineEdge>& edges, F&& f)
    {
        // In the order of the input, each surviving edge once: the outcome doesn't hang on hash order.
        for (const OutlineEdge& e : edges)
            if (const auto it = m_count.find(keyOf(e[0], e[1])); it != m_count.end() && it->second > 0) {
                f(e, it->second);
                it->second = 0;
            }
    }

private:
    std::unordered_map<std::uint64_t, int> m_count;
};

/// One triangulation in a kernel: insert, constrain, wind, read off.
template <class Kernel>
class Filler {
    using Point = typename Kernel::Point_2;
    using VertexBase = CGAL::Triangulation_vertex_base_with_info_2<Index, Kernel>;
    using FaceInfo = CGAL::Triangulation_face_base_with_info_2<int, Kernel>;
    using FaceBase = CGAL::Constrained_triangulation_face_base_2<Kernel, FaceInfo>;
    using Data = CGAL::Triangulation_data_structure_2<VertexBase, FaceBase>;
    using Cdt = CGAL::Constrained_Delaunay_triangulation_2<Kernel, Data, CGAL::No_constraint_intersection_tag>;
    using VertexHandle = typename Cdt::Vertex_handle;
    using FaceHandle = typename Cdt::Face_handle;

public:
    Result<OutlineTriangles> fill(const std::vector<Point>& points, const std::vector<OutlineEdge>& edges)
    {
        std::vector<OutlineEdge> kept;
        std::vector<int> times;
        NetEdges(edges).forEach(edges, [&](const OutlineEdge& e, int count) {
            kept.push_back(e);
            times.push_back(count);
        });
        if (kept.empty())
            return OutlineTriangles{}; // a plane between two bodies meets neither
        insertPoints(points, kept);
        for (std::size_t i = 0; i < kept.size(); ++i)
            if (!constrain(kept[i], times[i]))
                return touching("the section's outline crosses or touches itself");
        if (!wind())
            return touching(
                "the section encloses an area other than once: the model intersects itself or is inside out");
        return readOff();
    }

private:
    void insertPoints(const std::vector<Point>& points, const std::vector<OutlineEdge>& edges)
    {
        m_handle.assign(points.size(), VertexHandle());
        std::vector<std::size_t> order;
        order.reserve(edges.size() + 1);
        std::vector<char> used(points.size(), 0);
        for (const OutlineEdge& e : edges)
            for (const Index v : e)
                if (!std::exchange(used[v], 1))
                    order.push_back(v);
        using Map = typename CGAL::Pointer_property_map<Point>::const_type;
        const CGAL::Spatial_sort_traits_adapter_2<Kernel, Map> traits(CGAL::make_property_map(points));
        CGAL::spatial_sort(order.begin(), order.end(), traits);
        FaceHandle hint;
        for (const std::size_t i : order) {
            const std::size_t before = m_cdt.number_of_vertices();
            const VertexHandle v = m_cdt.insert(points[i], hint);
            if (m_cdt.number_of_vertices() > before)
                v->info() = static_cast<Index>(i);
            else
                m_shared = true;
            m_handle[i] = v;
            hint = v->face();
        }
    }

    bool constrain(const OutlineEdge& e, int times)
    {
        const VertexHandle a = m_handle[e[0]], b = m_handle[e[1]];
        if (a == b) { // both ends on one spot: nothing to enclose, but they are one point now
            m_closedUp.push_back(e);
            return true;
        }
        try {
            m_cdt.insert_constraint(a, b);
        } catch (const typename Cdt::Intersection_of_constraints_exception&) {
            return false;
        }
        FaceHandle face;
        int side = 0;
        if (!m_cdt.is_edge(a, b, face, side))
            return false; // another point lies on the edge
        Seam& seam = m_seams[keyOf(a->info(), b->info())];
        seam.count += times;
        seam.from = e[0];
        seam.to = e[1];
        return true;
    }

    /// Winding numbers, flooded inwards from outside. False unless all are 0 or 1.
    bool wind()
    {
        for (const FaceHandle f : m_cdt.all_face_handles())
            f->info() = unvisited;
        std::vector<FaceHandle> open;
        if (m_cdt.dimension() < 2)
            return m_seams.empty();
        open.push_back(m_cdt.infinite_face());
        open.back()->info() = 0;
        while (!open.empty()) {
            const FaceHandle f = open.back();
            open.pop_back();
            for (int i = 0; i < 3; ++i) {
                const FaceHandle g = f->neighbor(i);
                if (g->info() != unvisited)
                    continue;
                g->info() = f->info() + (f->is_constrained(i) ? crossing(f, i) : 0);
                if (g->info() != 0 && g->info() != 1)
                    return false;
                open.push_back(g);
            }
        }
        return true;
    }

    /// Change of the winding number on leaving face f over its edge i: the face lies left of its own edges, so a
    /// step to the right of an outline edge leaves what it encloses.
    int crossing(FaceHandle f, int i) const
    {
        const Index a = f->vertex(Cdt::ccw(i))->info(), b = f->vertex(Cdt::cw(i))->info();
        const auto count = [&](Index from, Index to) {
            const auto it = m_seams.find(keyOf(from, to));
            return it == m_seams.end() ? 0 : it->second.count;
        };
        return count(b, a) - count(a, b);
    }

    OutlineTriangles readOff() const
    {
        OutlineTriangles out;
        out.merged = m_closedUp;
        for (const FaceHandle f : m_cdt.finite_face_handles()) {
            if (f->info() != 1)
                continue;
            Triangle t;
            for (int k = 0; k < 3; ++k)
                t[static_cast<std::size_t>(k)] = m_shared ? nameInFan(f, k, out) : f->vertex(k)->info();
            out.triangles.push_back(t);
        }
        return out;
    }

    /// Where several points share a spot: the name that the outline gives the spot at the end of this face's fan.
    Index nameInFan(FaceHandle f, int k, OutlineTriangles& out) const
    {
        const VertexHandle v = f->vertex(k);
        // Clockwise to the outline edge that leaves v, counter-clockwise to the one that arrives.
        const auto walk = [&](bool clockwise) {
            FaceHandle g = f;
            for (std::size_t guard = 0; guard <= m_cdt.number_of_vertices(); ++guard) {
                const int at = g->index(v);
                const int edge = clockwise ? Cdt::cw(at) : Cdt::ccw(at);
                const VertexHandle other = g->vertex(clockwise ? Cdt::ccw(at) : Cdt::cw(at));
                const auto it =
                    m_seams.find(clockwise ? keyOf(v->info(), other->info()) : keyOf(other->info(), v->info()));
                if (g->is_constrained(edge) && it != m_seams.end())
                    return clockwise ? it->second.from : it->second.to;
                g = g->neighbor(edge);
                if (g == f)
                    break;
            }
            return none;
        };
        const Index leaving = walk(true), arriving = walk(false);
        if (leaving == none)
            return v->info();
        if (arriving != none && arriving != leaving)
            out.merged.push_back({leaving, arriving});
        return leaving;
    }

    struct Seam {
        int count = 0;
        Index from = none, to = none; ///< the outline's own names of the ends
    };
    Cdt m_cdt;
    std::vector<VertexHandle> m_handle;
    std::unordered_map<std::uint64_t, Seam> m_seams; ///< by the handles' names, directed
    std::vector<OutlineEdge> m_closedUp;             ///< edges without length
    bool m_shared = false;                           ///< some points share a spot
};

} // namespace

Result<OutlineTriangles> triangulateOutline(const std::vector<Vec2>& points, const std::vector<OutlineEdge>& edges)
{
    using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
    std::vector<Kernel::Point_2> places;
    places.reserve(points.size());
    for (const Vec2 p : points)
        places.emplace_back(p.x, p.y);
    return Filler<Kernel>().fill(places, edges);
}

Result<OutlineTriangles> triangulateOutlineExactly(const std::vector<CrossingPoint>& points, const Plane& plane,
                                                   const std::vector<OutlineEdge>& edges)
{
    using Kernel = CGAL::Exact_predicates_exact_constructions_kernel;
    using Number = Kernel::FT;
    // Seen along the axis nearest to the normal: an affine picture of the plane, turned over if the normal points
    // the other way, with no rounding at all.
    const Vec3 n = plane.normal;
    const double ax = std::abs(n.x), ay = std::abs(n.y), az = std::abs(n.z);
    const int drop = az >= ax && az >= ay ? 2 : ay >= ax ? 1 : 0;
    const int first = (drop + 1) % 3, second = (drop + 2) % 3;
    const bool flip = n[drop] < 0;
    const auto height = [&](Vec3 p) {
        return Number(n.x) * Number(p.x) + Number(n.y) * Number(p.y) + Number(n.z) * Number(p.z) - Number(plane.offset);
    };
    std::vector<Kernel::Point_2> places;
    places.reserve(points.size());
    for (const CrossingPoint& c : points) {
        Number x(c.a[first]), y(c.a[second]);
        if (!(c.a == c.b)) {
            const Number ha = height(c.a), hb = height(c.b);
            const Number t = ha / (ha - hb);
            x += t * (Number(c.b[first]) - x);
            y += t * (Number(c.b[second]) - y);
        }
        places.emplace_back(flip ? Number(-x) : x, y);
    }
    return Filler<Kernel>().fill(places, edges);
}

Result<std::vector<Triangle>> triangulateRegion(const Region& region)
{
    std::vector<Vec2> points;
    std::vector<OutlineEdge> edges;
    for (const Loop& loop : region) {
        const auto base = static_cast<Index>(points.size());
        const auto n = static_cast<Index>(loop.size());
        for (Index i = 0; i < n; ++i)
            edges.push_back({base + i, base + (i + 1) % n});
        points.insert(points.end(), loop.begin(), loop.end());
    }
    auto filled = triangulateOutline(points, edges);
    if (!filled)
        return filled.problem();
    return std::move(filled->triangles);
}

} // namespace quoin::mesh
