// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/limb_cuts.h"

#include "core/parallel.h"
#include "mesh/distance.h"

#include <algorithm>
#include <limits>
#include <tuple>

namespace quoin::core {

using mesh::Index;
using mesh::Plane;
using mesh::Vec3;

namespace {

constexpr Index none = std::numeric_limits<Index>::max();
constexpr int firstTurns = 8;  ///< normals tried at a place to begin with, over half a turn
constexpr int mostSteps = 6;   ///< of turning the normal
constexpr double stays = 1e-4; ///< radians
constexpr std::size_t mostCrossed = 5000;

/// Below this the surface does not run along: no limb.
constexpr double leastStraight = 0.6;

/// Cuts whose middles are nearer than this share of the outline and whose normals agree (cosine) are one.
constexpr double nearShare = 0.04, sameCosine = 0.98;

/// Sum of products of a vector with itself, weighted.
struct Spread {
    double xx = 0, xy = 0, xz = 0, yy = 0, yz = 0, zz = 0;
    void add(Vec3 n, double w)
    {
        xx += w * n.x * n.x, xy += w * n.x * n.y, xz += w * n.x * n.z;
        yy += w * n.y * n.y, yz += w * n.y * n.z, zz += w * n.z * n.z;
    }
    double along(Vec3 d) const
    {
        return d.x * (xx * d.x + 2 * (xy * d.y + xz * d.z)) + d.y * (yy * d.y + 2 * yz * d.z) + d.z * d.z * zz;
    }
    /// The direction with the least of it near `from`, by inverse iteration.
    Vec3 least(Vec3 from) const
    {
        const double trace = xx + yy + zz, e = 1e-7 * trace;
        const double a = xx + e, d = yy + e, f = zz + e;
        const Vec3 r0{d * f - yz * yz, xz * yz - xy * f, xy * yz - xz * d};
        const Vec3 r1{r0.y, a * f - xz * xz, xy * xz - a * yz}, r2{r0.z, r1.z, a * d - xy * xy};
        Vec3 v = from;
        for (int i = 0; i < 8; ++i) {
            const Vec3 next{dot(r0, v), dot(r1, v), dot(r2, v)};
            if (!(dot(next, next) > 0))
                break;
            v = normalized(next);
        }
        return dot(v, from) < 0 ? -v : v;
    }
};

} // namespace

struct LimbCuts::Outline {
    Spread normals;
    Vec3 middle{0, 0, 0};
    double aroundMm = 0;
};

LimbCuts::LimbCuts(const mesh::Mesh& mesh) : m_mesh(mesh), m_across(mesh.triangles.size(), {none, none, none})
{
    std::vector<std::tuple<Index, Index, Index, Index>> edges;
    edges.reserve(3 * mesh.triangles.size());
    for (Index t = 0; t < mesh.triangles.size(); ++t)
        for (Index k = 0; k < 3; ++k) {
            const Index u = mesh.triangles[t][k], v = mesh.triangles[t][(k + 1) % 3];
            edges.emplace_back(std::min(u, v), std::max(u, v), t, k);
        }
    std::sort(edges.begin(), edges.end());
    for (std::size_t i = 0; i + 1 < edges.size(); ++i) {
        const auto& [u, v, t, k] = edges[i];
        const auto& [u2, v2, t2, k2] = edges[i + 1];
        if (u == u2 && v == v2) {
            m_across[t][k] = t2;
            m_across[t2][k2] = t;
        }
    }
}

/// Walks round the outline of a plane from one triangle.
std::optional<LimbCuts::Outline> LimbCuts::around(Index triangle, const Plane& plane) const
{
    Outline out;
    Index t = triangle, from = none;
    for (std::size_t steps = 0; steps < mostCrossed; ++steps) {
        const mesh::Triangle& c = m_mesh.triangles[t];
        Vec3 ends[2];
        Index next = none;
        int n = 0;
        for (std::size_t k = 0; k < 3; ++k) {
            const Vec3 p = m_mesh.points[c[k]], q = m_mesh.points[c[(k + 1) % 3]];
            const double a = plane.distance(p), b = plane.distance(q);
            if ((a < 0) == (b < 0))
                continue;
            if (n < 2)
                ends[n] = p + (a / (a - b)) * (q - p);
            ++n;
            if (m_across[t][k] != from || from == none)
                next = m_across[t][k];
        }
        if (n != 2 || next == none)
            return std::nullopt;
        const double l = length(ends[1] - ends[0]);
        const Vec3 a = m_mesh.points[c[0]];
        out.normals.add(normalized(cross(m_mesh.points[c[1]] - a, m_mesh.points[c[2]] - a)), l);
        out.middle = out.middle + 0.5 * l * (ends[0] + ends[1]);
        out.aroundMm += l;
        from = t;
        t = next;
        if (t == triangle) {
            if (!(out.aroundMm > 0))
                return std::nullopt;
            out.middle = out.middle / out.aroundMm;
            return out;
        }
    }
    return std::nullopt;
}

std::optional<LimbCut> LimbCuts::at(Index triangle, Vec3 normal) const
{
    const Vec3 p = (m_mesh.corner(triangle, 0) + m_mesh.corner(triangle, 1) + m_mesh.corner(triangle, 2)) / 3;
    std::optional<Outline> outline;
    for (int step = 0; step < mostSteps; ++step) {
        outline = around(triangle, mesh::planeThrough(p, normal));
        if (!outline)
            return std::nullopt;
        const Vec3 next = outline->normals.least(normal);
        const double turn = length(next - normal);
        normal = next;
        if (turn < stays)
            break;
    }
    // How little of the outline's normals lies along the axis, against an even share.
    const double straight = 1 - 3 * outline->normals.along(normal) / outline->aroundMm;
    const Plane plane = mesh::planeThrough(p, normal);
    return LimbCut{plane, outline->middle - plane.distance(outline->middle) * normal, outline->aroundMm, straight};
}

std::optional<LimbCut> LimbCuts::beside(const LimbCut& cut, double alongMm) const
{
    const Plane moved{cut.plane.normal, cut.plane.offset + alongMm};
    const Vec3 middle = cut.middle + alongMm * cut.plane.normal;
    // Of all triangles that the plane meets the one nearest to the limb's middle.
    Index nearest = none;
    double least = 1e300;
    for (Index t = 0; t < m_mesh.triangles.size(); ++t) {
        const double a = moved.distance(m_mesh.corner(t, 0)), b = moved.distance(m_mesh.corner(t, 1)),
                     c = moved.distance(m_mesh.corner(t, 2));
        if ((a < 0) == (b < 0) && (b < 0) == (c < 0))
            continue;
        const Vec3 p = (m_mesh.corner(t, 0) + m_mesh.corner(t, 1) + m_mesh.corner(t, 2)) / 3;
        if (const double d = dot(p - middle, p - middle); d < least) {
            least = d;
            nearest = t;
        }
    }
    if (nearest == none)
        return std::nullopt;
    auto found = at(nearest, cut.plane.normal);
    // Through the place that was asked for, not through the triangle's.
    if (found)
        found->plane = mesh::planeThrough(middle, found->plane.normal);
    return found;
}

std::vector<LimbCut> LimbCuts::spread(std::size_t places, unsigned seed, double mostAroundMm) const
{
    const auto samples = mesh::sampledSurface(m_mesh, places, seed);
    std::vector<std::optional<LimbCut>> found(samples.size());
    forEachIndex(samples.size(), [&](std::size_t i) {
        const Index t = samples[i].triangle;
        const Vec3 a = m_mesh.corner(t, 0);
        const mesh::PlaneFrame frame =
            mesh::frameOf(mesh::planeThrough(a, cross(m_mesh.corner(t, 1) - a, m_mesh.corner(t, 2) - a)));
        double least = mostAroundMm;
        Vec3 best{0, 0, 0};
        const Vec3 p = (a + m_mesh.corner(t, 1) + m_mesh.corner(t, 2)) / 3;
        for (int k = 0; k < firstTurns; ++k) {
            const double angle = 3.14159265358979 * k / firstTurns;
            const Vec3 normal = std::cos(angle) * frame.u + std::sin(angle) * frame.v;
            const auto outline = around(t, mesh::planeThrough(p, normal));
            if (outline && outline->aroundMm < least) {
                least = outline->aroundMm;
                best = normal;
            }
        }
        if (dot(best, best) > 0)
            found[i] = at(t, best);
    });
    std::vector<LimbCut> out;
    for (const auto& cut : found)
        if (cut && cut->straight > leastStraight && cut->aroundMm < mostAroundMm &&
            std::none_of(out.begin(), out.end(), [&](const LimbCut& o) {
                return length(o.middle - cut->middle) < nearShare * cut->aroundMm &&
                       std::abs(dot(o.plane.normal, cut->plane.normal)) > sameCosine;
            }))
            out.push_back(*cut);
    return out;
}

} // namespace quoin::core
