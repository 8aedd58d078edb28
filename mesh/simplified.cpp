// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/simplified.h"

#include "mesh/edit_mesh.h"

#include <algorithm>

namespace quoin::mesh {

namespace {

/// Edges looked at for the limit of a round; the share of edges that a round may close up at most; and the rounds.
constexpr std::size_t edgesLookedAt = 4000;
constexpr double mostShare = 0.3;
constexpr int mostRounds = 40;

/// Weight of an edge's own length, so that flat places become even and not slivers.
constexpr double evenness = 1e-5;

/// A face may tilt by no more than this (cosine) in one step.
constexpr double leastCosine = 0.5;

/// The sum of squared distances to planes: p' A p + 2 b' p + c about an origin near the mesh. Neither weighted by area
/// nor divided by the number of planes: so the cost is no less than the largest of the squared distances.
struct Quadric {
    double xx = 0, xy = 0, xz = 0, yy = 0, yz = 0, zz = 0, x = 0, y = 0, z = 0, c = 0;

    void addPlane(Vec3 n, double d)
    {
        xx += n.x * n.x, xy += n.x * n.y, xz += n.x * n.z;
        yy += n.y * n.y, yz += n.y * n.z, zz += n.z * n.z;
        x -= d * n.x, y -= d * n.y, z -= d * n.z;
        c += d * d;
    }
    Quadric operator+(const Quadric& o) const
    {
        return {xx + o.xx, xy + o.xy, xz + o.xz, yy + o.yy, yz + o.yz, zz + o.zz, x + o.x, y + o.y, z + o.z, c + o.c};
    }
    double at(Vec3 p) const
    {
        return p.x * (xx * p.x + 2 * (xy * p.y + xz * p.z + x)) + p.y * (yy * p.y + 2 * (yz * p.z + y)) +
               p.z * (zz * p.z + 2 * z) + c;
    }
    /// The point of least cost near p: a little of the distance to p counts too, so that there always is one.
    Vec3 least(Vec3 p) const
    {
        const double keep = 1e-3 * (xx + yy + zz);
        const double a = xx + keep, d = yy + keep, f = zz + keep;
        const Vec3 r{keep * p.x - x, keep * p.y - y, keep * p.z - z};
        const Vec3 c0{d * f - yz * yz, xz * yz - xy * f, xy * yz - xz * d};
        const double determinant = a * c0.x + xy * c0.y + xz * c0.z;
        if (!(determinant > 0))
            return p;
        const Vec3 c1{c0.y, a * f - xz * xz, xy * xz - a * yz}, c2{c0.z, c1.z, a * d - xy * xy};
        return Vec3{dot(c0, r), dot(c1, r), dot(c2, r)} / determinant;
    }
};

class Simplifier {
public:
    explicit Simplifier(const Mesh& mesh) : m_mesh(mesh), m_quadrics(mesh.points.size())
    {
        m_alive = mesh.triangles.size();
        m_origin = bounds(mesh).centre();
        for (const Triangle& t : mesh.triangles) {
            const Vec3 a = mesh.points[t[0]] - m_origin;
            const Vec3 n = cross(mesh.points[t[1]] - mesh.points[t[0]], mesh.points[t[2]] - mesh.points[t[0]]);
            const double twice = length(n);
            if (twice > 0)
                for (const Index v : t)
                    m_quadrics[v].addPlane(n / twice, dot(n, a) / twice);
        }
    }

    Mesh run(std::size_t most, const Context& context)
    {
        for (int round = 0; round < mostRounds && m_alive > most && !context.cancelled(); ++round) {
            const std::size_t before = m_alive;
            const double share = std::min(mostShare, 1.2 * static_cast<double>(m_alive - most) / 2 /
                                                         (1.5 * static_cast<double>(m_alive)));
            closeBelow(limitFor(share), most, context);
            if (before - m_alive < before / 500)
                break;
        }
        return m_mesh.mesh();
    }

private:
    struct Closing {
        Vec3 at;
        double cost;
    };

    Closing closing(Index u, Index v) const
    {
        const Quadric sum = m_quadrics[u] + m_quadrics[v];
        const Vec3 p = m_mesh.point(u) - m_origin, q = m_mesh.point(v) - m_origin;
        const Vec3 middle = 0.5 * (p + q), edge = q - p;
        const double length2 = dot(edge, edge);
        Vec3 at = sum.least(middle);
        // Far off the edge is no place for its end.
        if (dot(at - middle, at - middle) > length2)
            at = middle;
        Closing best{at, sum.at(at)};
        for (const Vec3 other : {p, q})
            if (const double cost = sum.at(other); cost < best.cost)
                best = {other, cost};
        return {best.at + m_origin, std::max(0.0, best.cost) + evenness * length2};
    }

    /// The cost that a share of all edges stays below.
    double limitFor(double share) const
    {
        const auto& triangles = m_mesh.triangles();
        const std::size_t step = std::max<std::size_t>(1, triangles.size() / (2 * edgesLookedAt));
        std::vector<double> costs;
        for (std::size_t t = 0; t < triangles.size(); t += step)
            if (triangles[t][0] != EditMesh::none)
                costs.push_back(closing(triangles[t][t % 3], triangles[t][(t + 1) % 3]).cost);
        if (costs.empty())
            return 0;
        const auto nth = costs.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(costs.size() - 1));
        std::nth_element(costs.begin(), nth, costs.end());
        return *nth;
    }

    void closeBelow(double limit, std::size_t most, const Context& context)
    {
        constexpr std::size_t looks = 1 << 14;
        for (std::size_t t = 0; t < m_mesh.triangles().size() && m_alive > most; ++t) {
            if (t % looks == 0 && context.cancelled())
                return;
            for (std::size_t k = 0; k < 3; ++k) {
                const Triangle& corners = m_mesh.triangles()[t];
                if (corners[0] == EditMesh::none)
                    break;
                const Index u = corners[k], v = corners[(k + 1) % 3];
                if (u > v)
                    continue;
                const Closing way = closing(u, v);
                if (way.cost <= limit && close(u, v, way.at))
                    break;
            }
        }
    }

    bool turnsOver(Index u, Index v, Vec3 at) const
    {
        bool turned = false;
        m_mesh.forTrianglesOf(u, [&](Index t) {
            const Triangle& c = m_mesh.triangle(t);
            if (turned || c[0] == v || c[1] == v || c[2] == v)
                return;
            const auto place = [&](std::size_t k) { return c[k] == u ? at : m_mesh.point(c[k]); };
            const Vec3 a = m_mesh.point(c[0]);
            const Vec3 before = cross(m_mesh.point(c[1]) - a, m_mesh.point(c[2]) - a);
            const Vec3 after = cross(place(1) - place(0), place(2) - place(0));
            const double along = dot(before, after);
            turned =
                !(along > 0) || along * along < leastCosine * leastCosine * dot(before, before) * dot(after, after);
        });
        return turned;
    }

    bool close(Index u, Index v, Vec3 at)
    {
        if (turnsOver(u, v, at) || turnsOver(v, u, at))
            return false;
        const auto edit = m_mesh.collapse(u, v);
        if (!edit)
            return false;
        m_mesh.apply(*edit);
        m_mesh.setPoint(v, at);
        m_quadrics[v] = m_quadrics[u] + m_quadrics[v];
        m_alive -= 2;
        return true;
    }

    EditMesh m_mesh;
    std::vector<Quadric> m_quadrics;
    Vec3 m_origin{0, 0, 0};
    std::size_t m_alive = 0;
};

} // namespace

Mesh simplified(const Mesh& mesh, std::size_t mostTriangles, const Context& context)
{
    Mesh plain{mesh.points, mesh.triangles, {}};
    if (mesh.triangles.size() <= mostTriangles)
        return plain;
    return Simplifier(plain).run(mostTriangles, context);
}

} // namespace quoin::mesh
