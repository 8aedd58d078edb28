// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/distance.h"

#include "mesh/box_tree.h"
#include "mesh/mass.h"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>

#include <algorithm>
#include <array>
#include <limits>
#include <numeric>
#include <random>

namespace quoin::mesh {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;

constexpr double infinity = std::numeric_limits<double>::infinity();

/// Rounding of the box test along a ray, as a share of the distances compared.
constexpr double slabSlack = 1e-12;
/// Rounding of a lower bound.
constexpr double boundSlackMm = 1e-9;

Kernel::Point_3 pointOf(Vec3 p)
{
    return {p.x, p.y, p.z};
}

/// Side of p against the line from a to b in the plane (y, z), p being shifted by (e, e^2) with infinitesimal e; 0
/// only when a and b coincide there.
int sideOf(Vec3 a, Vec3 b, Vec3 p)
{
    const auto flat = [](Vec3 v) { return Kernel::Point_2(v.y, v.z); };
    const CGAL::Orientation side = CGAL::orientation(flat(a), flat(b), flat(p));
    if (side != CGAL::COLLINEAR)
        return side == CGAL::LEFT_TURN ? 1 : -1;
    if (a.z != b.z)
        return b.z < a.z ? 1 : -1;
    return a.y < b.y ? 1 : a.y > b.y ? -1 : 0;
}

/// 1 where the ray from p along x leaves through the front of the triangle, -1 where it enters by its back, else 0.
int crossing(Vec3 a, Vec3 b, Vec3 c, Vec3 p)
{
    const int side = sideOf(a, b, p);
    if (side == 0 || sideOf(b, c, p) != side || sideOf(c, a, p) != side)
        return 0;
    const CGAL::Orientation above = CGAL::orientation(pointOf(a), pointOf(b), pointOf(c), pointOf(p));
    return above == (side > 0 ? CGAL::NEGATIVE : CGAL::POSITIVE) ? side : 0;
}

} // namespace

struct SurfaceTree::Impl {
    Mesh mesh;
    std::vector<Index> number; ///< of each triangle in the original; empty when all take part
    BoxTree tree;
    Box3 whole;

    Impl(const Mesh& source, std::vector<Index> some) : number(std::move(some))
    {
        if (number.empty())
            return;
        if (number.size() == source.triangles.size()) {
            mesh.points = source.points;
            mesh.triangles = source.triangles;
        } else {
            mesh = subset(source, number);
        }
        std::vector<Box3> boxes(mesh.triangles.size());
        for (std::size_t i = 0; i < boxes.size(); ++i)
            for (int k = 0; k < 3; ++k) {
                boxes[i].add(mesh.corner(i, k));
                whole.add(mesh.corner(i, k));
            }
        tree = BoxTree(boxes);
    }

    Vec3 nearestTo(Vec3 p) const
    {
        Vec3 found{0, 0, 0};
        tree.cheapest(
            infinity, [&](const TightBox& box) { return box.squaredDistance(p); },
            [&](Index i, double best) {
                const Vec3 q = nearestOnTriangle(mesh.corner(i, 0), mesh.corner(i, 1), mesh.corner(i, 2), p);
                const double d = dot(q - p, q - p);
                if (d < best)
                    found = q;
                return std::min(d, best);
            });
        return found;
    }

    SegmentGap gapTo(Vec3 p, Vec3 q) const
    {
        Box3 own;
        own.add(p);
        own.add(q);
        const TightBox around = TightBox::around(own);
        SegmentGap found{infinity, 0};
        const Vec3 axis = q - p;
        const double squared = dot(axis, axis);
        // The cost of a box: its distance from the segment's own box, or that of its middle from the segment less half
        // its diagonal, whichever says more. Neither is ever more than the distance from the segment.
        const auto apart = [&](const TightBox& box) {
            double sum = 0, diagonal = 0;
            std::array<double, 3> middle{};
            for (std::size_t k = 0; k < 3; ++k) {
                const double low = box.min[k], high = box.max[k];
                const double gap = std::max({0.0, low - around.max[k], around.min[k] - high});
                sum += gap * gap;
                diagonal += (high - low) * (high - low);
                middle[k] = 0.5 * (low + high);
            }
            const Vec3 from = Vec3{middle[0], middle[1], middle[2]} - p;
            const double along = squared > 0 ? std::clamp(dot(from, axis) / squared, 0.0, 1.0) : 0.0;
            return std::max(std::sqrt(sum), length(from - along * axis) - 0.5 * std::sqrt(diagonal) - boundSlackMm);
        };
        tree.cheapest(infinity, apart, [&](Index i, double best) {
            const SegmentGap gap = segmentTriangleGap(p, q, mesh.corner(i, 0), mesh.corner(i, 1), mesh.corner(i, 2));
            if (gap.distanceMm < best)
                found = gap;
            return std::min(gap.distanceMm, best);
        });
        return found;
    }

    /// Distance along the ray o + t d to a triangle, or infinity; `far` is a point of the ray past everything.
    double hit(Index i, Vec3 o, Vec3 d, Vec3 far) const
    {
        const Vec3 a = mesh.corner(i, 0), b = mesh.corner(i, 1), c = mesh.corner(i, 2);
        const Kernel::Point_3 from = pointOf(o), to = pointOf(far), pa = pointOf(a), pb = pointOf(b), pc = pointOf(c);
        const int s1 = CGAL::orientation(from, to, pa, pb), s2 = CGAL::orientation(from, to, pb, pc),
                  s3 = CGAL::orientation(from, to, pc, pa);
        if (std::min({s1, s2, s3}) < 0 && std::max({s1, s2, s3}) > 0)
            return infinity;
        const Vec3 n = cross(b - a, c - a);
        const double slope = dot(n, d);
        if (slope == 0 || (s1 == 0 && s2 == 0 && s3 == 0))
            return infinity;
        return dot(n, a - o) / slope;
    }

    std::optional<SurfaceHit> first(Vec3 o, Vec3 d, double minimumMm) const
    {
        const Vec3 toCentre = whole.centre() - o;
        const double reach = 2 * (length(toCentre) + length(whole.extents()) + 1);
        const Vec3 far = o + reach * d;
        SurfaceHit found{infinity, 0};
        // The cost of a box is where the ray enters it.
        const auto entry = [&](const TightBox& box) {
            double in = minimumMm, out = reach;
            for (int k = 0; k < 3; ++k) {
                const auto axis = static_cast<std::size_t>(k);
                const double slack = slabSlack * (reach + std::abs(o[k]));
                const double low = box.min[axis] - o[k] - slack, high = box.max[axis] - o[k] + slack;
                if (d[k] == 0) {
                    if (low > 0 || high < 0)
                        return infinity;
                    continue;
                }
                in = std::max(in, std::min(low / d[k], high / d[k]));
                out = std::min(out, std::max(low / d[k], high / d[k]));
            }
            return in <= out ? in : infinity;
        };
        tree.cheapest(infinity, entry, [&](Index i, double best) {
            const double t = hit(i, o, d, far);
            if (t > minimumMm && t < best) {
                found = {t, number[i]};
                return t;
            }
            return best;
        });
        return found.distanceMm < infinity ? std::optional(found) : std::nullopt;
    }

    /// Adds up what each crossing of the ray from p along x is worth.
    template <class Worth>
    int crossings(Vec3 p, const Worth& worth) const
    {
        int sum = 0;
        tree.walk(
            [&](const TightBox& b) {
                return b.max[0] >= p.x && b.min[1] <= p.y && p.y <= b.max[1] && b.min[2] <= p.z && p.z <= b.max[2];
            },
            [&](Index i) {
                sum += worth(crossing(mesh.corner(i, 0), mesh.corner(i, 1), mesh.corner(i, 2), p));
                return true;
            });
        return sum;
    }
};

SurfaceTree::SurfaceTree(const Mesh& mesh, const std::function<bool(std::size_t)>& use)
{
    std::vector<Index> list;
    list.reserve(mesh.triangles.size());
    for (Index i = 0; i < mesh.triangles.size(); ++i)
        if (!use || use(i))
            list.push_back(i);
    m_impl = std::make_unique<Impl>(mesh, std::move(list));
}

SurfaceTree::SurfaceTree(const Mesh& mesh, const std::vector<Index>& triangles)
    : m_impl(std::make_unique<Impl>(mesh, triangles))
{
}

SurfaceTree::~SurfaceTree() = default;
SurfaceTree::SurfaceTree(SurfaceTree&&) noexcept = default;
SurfaceTree& SurfaceTree::operator=(SurfaceTree&&) noexcept = default;

bool SurfaceTree::empty() const
{
    return m_impl->tree.empty();
}

double SurfaceTree::distance(Vec3 p) const
{
    return empty() ? infinity : length(m_impl->nearestTo(p) - p);
}

SegmentGap SurfaceTree::distanceToSegment(Vec3 p, Vec3 q) const
{
    return empty() ? SegmentGap{infinity, 0} : m_impl->gapTo(p, q);
}

std::optional<Vec3> SurfaceTree::nearest(Vec3 p) const
{
    return empty() ? std::nullopt : std::optional(m_impl->nearestTo(p));
}

std::optional<SurfaceHit> SurfaceTree::firstHitTriangle(Vec3 origin, Vec3 direction, double minimumMm) const
{
    return empty() ? std::nullopt : m_impl->first(origin, direction, minimumMm);
}

std::optional<double> SurfaceTree::firstHit(Vec3 origin, Vec3 direction, double minimumMm) const
{
    const std::optional<SurfaceHit> hit = firstHitTriangle(origin, direction, minimumMm);
    return hit ? std::optional(hit->distanceMm) : std::nullopt;
}

bool SurfaceTree::inside(Vec3 p) const
{
    return m_impl->crossings(p, [](int c) { return std::abs(c); }) % 2 != 0;
}

int SurfaceTree::winding(Vec3 p) const
{
    return m_impl->crossings(p, [](int c) { return c; });
}

std::vector<SurfacePoint> sampledSurface(const Mesh& mesh, std::size_t count, unsigned seed)
{
    std::vector<double> upTo(mesh.triangles.size());
    double total = 0;
    for (std::size_t i = 0; i < upTo.size(); ++i)
        upTo[i] = total += triangleArea(mesh, i);
    std::vector<SurfacePoint> out;
    if (!(total > 0))
        return out;
    std::mt19937_64 random(seed);
    // The library's distributions differ between compilers; 53 random bits don't.
    const auto uniform = [&] { return static_cast<double>(random() >> 11) * 0x1p-53; };
    out.reserve(count);
    std::size_t triangle = 0;
    for (std::size_t i = 0; i < count; ++i) {
        // One in each of `count` equal strips of area: more even than points thrown anywhere.
        const double at = total * (static_cast<double>(i) + uniform()) / static_cast<double>(count);
        while (triangle + 1 < upTo.size() && upTo[triangle] <= at)
            ++triangle;
        const double root = std::sqrt(uniform()), v = uniform();
        out.push_back({(1 - root) * mesh.corner(triangle, 0) + root * (1 - v) * mesh.corner(triangle, 1) +
                           root * v * mesh.corner(triangle, 2),
                       static_cast<Index>(triangle)});
    }
    return out;
}

} // namespace quoin::mesh
