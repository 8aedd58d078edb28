// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/hull.h"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/convex_hull_3.h>

#include <algorithm>
#include <array>
#include <numbers>
#include <random>
#include <span>

namespace quoin::mesh {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Point = Kernel::Point_3;
using HullMesh = CGAL::Surface_mesh<Point>;

/// Fewer points than this go straight to the hull: sorting out costs more than it saves.
constexpr std::size_t worthFiltering = 500;
constexpr int coarseDirections = 14;
constexpr int fineDirections = 120;
constexpr std::size_t batch = 512;
constexpr std::size_t lanes = 8;

/// Patches along one side of the cube map of directions: about 3 degrees each.
constexpr std::size_t patchesAlong = 24;

/// Rounding of a plane test in double precision, as a share of the largest coordinate: a point has to lie deeper than
/// this inside the polytope of extreme points to be thrown out.
constexpr double insideRelative = 1e-12;

/// Rounding of a distance in double precision, as a share of the lengths it comes from.
constexpr double roundingRelative = 1e-14;

/// Whether the points span space, decided exactly.
bool spansSpace(std::span<const Point> points)
{
    std::size_t i = 1;
    const auto advance = [&](auto&& enough) {
        while (i < points.size() && !enough(points[i]))
            ++i;
        return i < points.size() ? &points[i] : nullptr;
    };
    if (points.empty())
        return false;
    const Point& a = points[0];
    const Point* b = advance([&](const Point& p) { return p != a; });
    const Point* c = b ? advance([&](const Point& p) { return !CGAL::collinear(a, *b, p); }) : nullptr;
    const Point* d = c ? advance([&](const Point& p) { return !CGAL::coplanar(a, *b, *c, p); }) : nullptr;
    return d != nullptr;
}

/// Facets of one hull, joined where they lie in one plane, decided exactly.
class FlatFacets {
public:
    explicit FlatFacets(const HullMesh& hull) : m_hull(hull), m_facet(hull.num_faces(), none)
    {
        for (const auto f : hull.faces())
            if (m_facet[f] == none)
                spread(f);
    }

    /// The corners of each facet, counter-clockwise seen from outside; points along its edges are left out.
    std::vector<std::vector<HullMesh::Vertex_index>> outlines() const
    {
        std::vector<std::vector<HullMesh::Vertex_index>> out(m_count);
        std::vector<bool> walked(m_hull.num_halfedges());
        for (const auto h : m_hull.halfedges()) {
            if (walked[h] || !onRim(h))
                continue;
            auto& corners = out[m_facet[m_hull.face(h)]];
            auto at = h;
            do {
                walked[at] = true;
                const auto next = nextOnRim(at);
                if (!CGAL::collinear(point(m_hull.source(at)), point(m_hull.target(at)), point(m_hull.target(next))))
                    corners.push_back(m_hull.target(at));
                at = next;
            } while (at != h);
        }
        return out;
    }

private:
    static constexpr std::size_t none = ~std::size_t{0};

    const Point& point(HullMesh::Vertex_index v) const { return m_hull.point(v); }
    bool onRim(HullMesh::Halfedge_index h) const
    {
        return m_facet[m_hull.face(h)] != m_facet[m_hull.face(m_hull.opposite(h))];
    }
    HullMesh::Halfedge_index nextOnRim(HullMesh::Halfedge_index h) const
    {
        h = m_hull.next(h);
        while (!onRim(h))
            h = m_hull.next(m_hull.opposite(h));
        return h;
    }
    void spread(HullMesh::Face_index first)
    {
        const auto h = m_hull.halfedge(first);
        const Point &a = point(m_hull.source(h)), &b = point(m_hull.target(h)),
                    &c = point(m_hull.target(m_hull.next(h)));
        std::vector<HullMesh::Face_index> open{first};
        m_facet[first] = m_count;
        while (!open.empty()) {
            const auto f = open.back();
            open.pop_back();
            for (const auto side : m_hull.halfedges_around_face(m_hull.halfedge(f))) {
                const auto across = m_hull.opposite(side);
                const auto other = m_hull.face(across);
                if (m_facet[other] == none && CGAL::coplanar(a, b, c, point(m_hull.target(m_hull.next(across))))) {
                    m_facet[other] = m_count;
                    open.push_back(other);
                }
            }
        }
        ++m_count;
    }

    const HullMesh& m_hull;
    std::vector<std::size_t> m_facet; ///< of each triangle
    std::size_t m_count = 0;
};

/// The hull without any sorting out; empty when the points are flat. Points in the order of their coordinates, each
/// facet as a fan from its first corner: the library's own order, and how it divides flat facets, go by addresses in
/// memory and are others each time.
Mesh hullOf(const Buffer<Vec3>& input)
{
    std::vector<Point> points;
    points.reserve(input.size());
    for (const Vec3 p : input)
        points.emplace_back(p.x, p.y, p.z);
    if (!spansSpace(points))
        return {};
    HullMesh hull;
    CGAL::convex_hull_3(points.begin(), points.end(), hull);
    std::vector<std::vector<HullMesh::Vertex_index>> facets = FlatFacets(hull).outlines();
    std::vector<HullMesh::Vertex_index> corners;
    for (const auto& facet : facets)
        corners.insert(corners.end(), facet.begin(), facet.end());
    const auto before = [&](auto a, auto b) { return hull.point(a) < hull.point(b); }; // by x, then y, then z
    std::sort(corners.begin(), corners.end(), before);
    corners.erase(std::unique(corners.begin(), corners.end()), corners.end());
    Mesh out;
    std::vector<Index> number(hull.num_vertices());
    for (const auto v : corners) {
        number[v] = static_cast<Index>(out.points.size());
        const Point& p = hull.point(v);
        out.points.push_back({p.x(), p.y(), p.z()});
    }
    for (auto& facet : facets) {
        std::rotate(facet.begin(), std::min_element(facet.begin(), facet.end(), before), facet.end());
        for (std::size_t i = 1; i + 1 < facet.size(); ++i)
            out.triangles.push_back({number[facet[0]], number[facet[i]], number[facet[i + 1]]});
    }
    std::sort(out.triangles.begin(), out.triangles.end());
    return out;
}

/// Directions spread evenly over the sphere (golden-angle spiral).
std::vector<Vec3> spreadDirections(int count)
{
    std::vector<Vec3> out;
    const double turn = std::numbers::pi * (3 - std::sqrt(5.0));
    for (int i = 0; i < count; ++i) {
        const double z = 1 - (2.0 * i + 1) / count;
        const double r = std::sqrt(1 - z * z);
        out.push_back({r * std::cos(turn * i), r * std::sin(turn * i), z});
    }
    return out;
}

/// Which points reach furthest in each direction, each once, in order.
std::vector<std::size_t> extremePoints(std::span<const Vec3> points, const std::vector<Vec3>& directions)
{
    std::vector<double> reach(directions.size(), -1e300);
    std::vector<std::size_t> who(points.empty() ? 0 : directions.size());
    // In batches that stay in the cache, with an inner loop that the compiler can run on several points at a time.
    std::array<double, batch> x, y, z, d;
    for (std::size_t from = 0; from < points.size(); from += batch) {
        const std::size_t count = std::min(batch, points.size() - from);
        for (std::size_t i = 0; i < batch; ++i) {
            const Vec3 p = points[from + std::min(i, count - 1)];
            x[i] = p.x;
            y[i] = p.y;
            z[i] = p.z;
        }
        for (std::size_t k = 0; k < directions.size(); ++k) {
            const Vec3 n = directions[k];
            std::array<double, lanes> most;
            most.fill(reach[k]);
            for (std::size_t i = 0; i < batch; i += lanes)
                for (std::size_t lane = 0; lane < lanes; ++lane) {
                    d[i + lane] = n.x * x[i + lane] + n.y * y[i + lane] + n.z * z[i + lane];
                    most[lane] = d[i + lane] > most[lane] ? d[i + lane] : most[lane];
                }
            const double furthest = *std::max_element(most.begin(), most.end());
            if (furthest > reach[k]) {
                reach[k] = furthest;
                const auto at = static_cast<std::size_t>(std::find(d.begin(), d.end(), furthest) - d.begin());
                who[k] = from + std::min(at, count - 1);
            }
        }
    }
    std::sort(who.begin(), who.end());
    who.erase(std::unique(who.begin(), who.end()), who.end());
    return who;
}

/// The patch of a cube map, patchesAlong squared a side, that a direction points into.
std::size_t patchOf(Vec3 d)
{
    const double ax = std::abs(d.x), ay = std::abs(d.y), az = std::abs(d.z);
    const std::size_t axis = ax >= ay && ax >= az ? 0 : ay >= az ? 1 : 2;
    const double major = axis == 0 ? d.x : axis == 1 ? d.y : d.z;
    const double s = axis == 0 ? d.y : d.x, t = axis == 2 ? d.y : d.z;
    const auto cell = [&](double v) {
        const double share = major != 0 ? v / std::abs(major) : 0;
        return std::min(patchesAlong - 1, static_cast<std::size_t>((share + 1) / 2 * patchesAlong));
    };
    return ((2 * axis + (major < 0 ? 1 : 0)) * patchesAlong + cell(s)) * patchesAlong + cell(t);
}

struct HalfSpace {
    Vec3 normal;
    double offset;
};

std::vector<HalfSpace> halfSpacesOf(const Mesh& hull, double inset)
{
    std::vector<HalfSpace> out;
    for (std::size_t t = 0; t < hull.triangles.size(); ++t) {
        const Vec3 a = hull.corner(t, 0);
        const Vec3 n = normalized(cross(hull.corner(t, 1) - a, hull.corner(t, 2) - a));
        out.push_back({n, dot(n, a) - inset});
    }
    return out;
}

/// The points that are not deep inside the polytope of those extreme in `directionCount` directions. All of them when
/// that polytope is flat.
Buffer<Vec3> withoutInside(const Buffer<Vec3>& points, int directionCount)
{
    Buffer<Vec3> extremes;
    double largest = 0;
    for (const std::size_t i : extremePoints(points, spreadDirections(directionCount))) {
        extremes.push_back(points[i]);
        largest = std::max({largest, std::abs(points[i].x), std::abs(points[i].y), std::abs(points[i].z)});
    }
    const Mesh polytope = hullOf(extremes);
    if (polytope.empty())
        return points;
    std::vector<HalfSpace> sides = halfSpacesOf(polytope, insideRelative * largest);
    Buffer<Vec3> kept;
    for (const Vec3 p : points) {
        const auto outside = [p](const HalfSpace& s) { return !(dot(s.normal, p) < s.offset); };
        // The side that kept the last point often keeps the next one too: try it first.
        const auto found = std::find_if(sides.begin(), sides.end(), outside);
        if (found == sides.end())
            continue;
        kept.push_back(p);
        if (found != sides.begin())
            std::iter_swap(found, sides.begin());
    }
    return kept;
}

} // namespace

Buffer<Vec3> hullCandidates(const Buffer<Vec3>& points)
{
    Buffer<Vec3> kept = points;
    // A coarse sieve for the bulk, a fine one for what it leaves.
    for (const int directions : {coarseDirections, fineDirections})
        if (kept.size() >= worthFiltering)
            kept = withoutInside(kept, directions);
    return kept;
}

Mesh convexHull(const Buffer<Vec3>& points)
{
    return hullOf(points.size() < worthFiltering ? points : hullCandidates(points));
}

Mesh innerHull(const Buffer<Vec3>& points)
{
    Box3 box;
    for (const Vec3 p : points)
        box.add(p);
    const Vec3 middle = box.centre();
    std::vector<double> reach(6 * patchesAlong * patchesAlong, -1);
    std::vector<std::size_t> who(reach.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec3 d = points[i] - middle;
        const std::size_t patch = patchOf(d);
        if (dot(d, d) > reach[patch]) {
            reach[patch] = dot(d, d);
            who[patch] = i;
        }
    }
    Buffer<Vec3> chosen;
    for (const std::size_t i : extremePoints(points, spreadDirections(fineDirections)))
        chosen.push_back(points[i]);
    for (std::size_t patch = 0; patch < reach.size(); ++patch)
        if (reach[patch] >= 0)
            chosen.push_back(points[who[patch]]);
    return hullOf(chosen);
}

Loop convexHull(std::vector<Vec2> points)
{
    const auto before = [](Vec2 a, Vec2 b) { return a.x < b.x || (a.x == b.x && a.y < b.y); };
    std::sort(points.begin(), points.end(), before);
    points.erase(std::unique(points.begin(), points.end()), points.end());
    if (points.size() < 3)
        return points;
    const auto turnsLeft = [](Vec2 a, Vec2 b, Vec2 c) {
        return CGAL::orientation(Kernel::Point_2(a.x, a.y), Kernel::Point_2(b.x, b.y), Kernel::Point_2(c.x, c.y)) ==
               CGAL::LEFT_TURN;
    };
    Loop chain;
    const auto add = [&](Vec2 p, std::size_t floor) {
        while (chain.size() >= floor + 2 && !turnsLeft(chain[chain.size() - 2], chain.back(), p))
            chain.pop_back();
        chain.push_back(p);
    };
    for (const Vec2 p : points)
        add(p, 0);
    const std::size_t lower = chain.size() - 1;
    for (std::size_t i = points.size() - 1; i-- > 0;)
        add(points[i], lower);
    chain.pop_back();
    return chain;
}

namespace {

Circle circleOn(Vec2 a, Vec2 b)
{
    const Vec2 c = 0.5 * (a + b);
    return {c, std::max(length(a - c), length(b - c))};
}

/// Circle through three points; the widest circle on two of them when they are in a line.
Circle circleOn(Vec2 a, Vec2 b, Vec2 c)
{
    const Vec2 u = b - a, v = c - a;
    const double d = 2 * cross(u, v);
    const double scale = std::max(dot(u, u), dot(v, v));
    if (std::abs(d) <= roundingRelative * scale) {
        Circle widest = circleOn(a, b);
        for (const Circle& other : {circleOn(a, c), circleOn(b, c)})
            if (other.radius > widest.radius)
                widest = other;
        return widest;
    }
    const Vec2 r{(v.y * dot(u, u) - u.y * dot(v, v)) / d, (u.x * dot(v, v) - v.x * dot(u, u)) / d};
    return {a + r, std::max({length(r), length(b - a - r), length(c - a - r)})};
}

bool holds(const Circle& circle, Vec2 p)
{
    return length(p - circle.centre) <= circle.radius * (1 + roundingRelative);
}

} // namespace

Circle smallestEnclosingCircle(const std::vector<Vec2>& points)
{
    Loop p = convexHull(points);
    if (p.empty())
        return {{0, 0}, 0};
    // A fixed shuffle: expected linear time, and the same answer on every run.
    std::mt19937 random(1);
    for (std::size_t i = p.size(); i > 1; --i)
        std::swap(p[i - 1], p[random() % i]);
    Circle circle{p[0], 0};
    for (std::size_t i = 1; i < p.size(); ++i) {
        if (holds(circle, p[i]))
            continue;
        circle = {p[i], 0};
        for (std::size_t j = 0; j < i; ++j) {
            if (holds(circle, p[j]))
                continue;
            circle = circleOn(p[i], p[j]);
            for (std::size_t k = 0; k < j; ++k)
                if (!holds(circle, p[k]))
                    circle = circleOn(p[i], p[j], p[k]);
        }
    }
    // Rounding must not leave a point outside.
    for (const Vec2 q : p)
        circle.radius = std::max(circle.radius, length(q - circle.centre));
    return circle;
}

} // namespace quoin::mesh
