// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/untangle.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace quoin::mesh {

namespace {

/// Rounds of growing boldness. Edges up to `firstReach` steps are closed in the first; each round doubles it.
constexpr int rounds = 8;
constexpr double firstReachSteps = 3;
/// A cluster of fewer pairs is left to the edits of single corners.
constexpr std::size_t smallestCluster = 3;
/// Exact tests spent on one mesh before it is given up: well under a minute's worth.
constexpr std::size_t mostTests = 50'000'000;

class Untangler {
public:
    Untangler(EditMesh& mesh, Drift& drift, const std::vector<TrianglePair>& pairs, const UntangleOptions& options)
        : m_mesh(mesh), m_drift(drift), m_options(options), m_contacts(mesh, pairs)
    {
        for (Index v = 0; v < mesh.vertexCount(); ++v)
            if (mesh.vertexAlive(v))
                m_bounds.add(mesh.point(v));
    }

    Untangled run()
    {
        for (m_round = 0; m_round < rounds && !m_contacts.empty(); ++m_round) {
            bool any = true;
            while (any && !m_contacts.empty() && m_contacts.tests() < mostTests)
                any = m_round == 0 ? mendPairs() : (mendPairs() || moveClusters());
        }
        Untangled out{m_contacts.empty(), m_mended, {0, 0, 0}};
        if (!out.clean)
            out.somewhere = m_mesh.point(m_mesh.triangle(m_contacts.pairs().front().first)[0]);
        return out;
    }

private:
    struct Side {
        double lengthMm;
        Index triangle;
        int k;
    };

    double reachMm() const { return firstReachSteps * m_options.grid.largestStep() * std::ldexp(1.0, m_round); }

    bool mendPairs()
    {
        bool any = false;
        for (const auto& [a, b] : m_contacts.pairs())
            if (m_contacts.meets(a, b) && m_contacts.tests() < mostTests)
                any = mend(a, b) || any;
        return any;
    }

    bool mend(Index a, Index b)
    {
        const std::vector<Side> sides = sidesOf(a == b ? std::vector<Index>{a} : std::vector<Index>{a, b});
        if (closeOne(sides) || turnOne(sides))
            return true;
        std::vector<Index> corners;
        for (const Side& side : sides)
            corners.push_back(m_mesh.triangle(side.triangle)[side.k]);
        std::sort(corners.begin(), corners.end());
        corners.erase(std::unique(corners.begin(), corners.end()), corners.end());
        for (const Index v : corners)
            if (nudge(v, {normalOf(a), normalOf(b)}))
                return true;
        if (m_round == 0)
            return false;
        std::vector<Index> around;
        for (const Index v : corners)
            m_mesh.forTrianglesOf(v, [&](Index t) { around.push_back(t); });
        std::sort(around.begin(), around.end());
        around.erase(std::unique(around.begin(), around.end()), around.end());
        const std::vector<Side> ring = sidesOf(around);
        return closeOne(ring) || turnOne(ring);
    }

    /// Sides of triangles, shortest first.
    std::vector<Side> sidesOf(const std::vector<Index>& triangles) const
    {
        std::vector<Side> sides;
        for (const Index t : triangles)
            for (int k = 0; k < 3; ++k) {
                const Triangle& c = m_mesh.triangle(t);
                sides.push_back({length(m_mesh.point(c[k]) - m_mesh.point(c[(k + 1) % 3])), t, k});
            }
        std::stable_sort(sides.begin(), sides.end(),
                         [](const Side& x, const Side& y) { return x.lengthMm < y.lengthMm; });
        return sides;
    }

    bool closeOne(const std::vector<Side>& sides)
    {
        for (const Side& side : sides) {
            if (side.lengthMm > reachMm())
                break;
            const Triangle c = m_mesh.triangle(side.triangle);
            const Index p = c[side.k], q = c[(side.k + 1) % 3];
            if (close(p, q) || close(q, p))
                return true;
        }
        return false;
    }

    bool close(Index from, Index to)
    {
        const Vec3 u = m_mesh.point(from), v = m_mesh.point(to);
        if ((u.z == 0 && v.z != 0) || m_drift.joined(from, u, to, v) > m_options.limitMm)
            return false;
        const auto edit = m_mesh.collapse(from, to);
        if (!edit || !keepsFacing(*edit) || !improve(*edit))
            return false;
        m_drift.join(from, u, to, v);
        return true;
    }

    bool turnOne(const std::vector<Side>& sides)
    {
        for (auto side = sides.rbegin(); side != sides.rend(); ++side)
            if (turn(side->triangle, side->k))
                return true;
        return false;
    }

    bool turn(Index t, int k)
    {
        const auto edit = m_mesh.flip(t, k);
        if (!edit)
            return false;
        const Triangle& own = m_mesh.triangle(t);
        const Triangle& one = edit->triangles[0].corners;
        const Triangle& two = edit->triangles[1].corners;
        const Vec3 p = m_mesh.point(own[k]), q = m_mesh.point(own[(k + 1) % 3]);
        const Vec3 r = m_mesh.point(one[2]), s = m_mesh.point(one[1]);
        const Vec3 between = normalized(cross(q - p, s - r));
        if (std::fabs(dot(between, r - p)) > reachMm() || bothTurnedApart(one, two))
            return false;
        return improve(*edit);
    }

    /// Whether two triangles that are high enough to say look opposite ways.
    bool bothTurnedApart(const Triangle& one, const Triangle& two) const
    {
        const auto thin = [&](const Triangle& c) {
            return heightOf(m_mesh.point(c[0]), m_mesh.point(c[1]), m_mesh.point(c[2])) < reachMm();
        };
        return !thin(one) && !thin(two) && dot(normalOf(one), normalOf(two)) <= 0;
    }

    bool keepsFacing(const EditMesh::Edit& edit) const
    {
        return std::none_of(edit.triangles.begin(), edit.triangles.end(), [&](const EditMesh::TriangleChange& change) {
            return change.corners[0] != EditMesh::none &&
                   bothTurnedApart(m_mesh.triangle(change.triangle), change.corners);
        });
    }

    /// Moves a corner by 1, 2, 4 ... steps: into its own surroundings, off the faces that meet, along the axes.
    bool nudge(Index v, const std::vector<Vec3>& normals)
    {
        Vec3 middle{0, 0, 0};
        const std::vector<Index> ring = m_mesh.neighboursOf(v);
        if (ring.empty())
            return false;
        for (const Index w : ring)
            middle = middle + m_mesh.point(w) / static_cast<double>(ring.size());
        std::vector<Vec3> ways{normalized(middle - m_mesh.point(v))};
        for (const Vec3 n : normals) {
            ways.push_back(n);
            ways.push_back(-n);
        }
        for (const Vec3 axis : {Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0, 1}}) {
            ways.push_back(axis);
            ways.push_back(-axis);
        }
        for (int steps = 1; steps <= 1 << m_round; steps *= 2)
            for (const Vec3 way : ways)
                if (const auto moved = stepped(v, way, steps); moved && improve({{}, {*moved}}))
                    return true;
        return false;
    }

    /// The corner moved along a direction by so many steps, if it may stand there.
    std::optional<EditMesh::PointChange> stepped(Index v, Vec3 way, int steps) const
    {
        const double largest = std::max({std::fabs(way.x), std::fabs(way.y), std::fabs(way.z)});
        if (largest == 0)
            return std::nullopt;
        const Vec3 from = m_mesh.point(v), unit = way / largest, step = m_options.grid.step;
        const auto whole = [&](double w) { return std::nearbyint(w * steps); };
        Vec3 to = from + Vec3{whole(unit.x) * step.x, whole(unit.y) * step.y, whole(unit.z) * step.z};
        if (from.z == 0)
            to.z = 0;
        to.x = std::clamp(to.x, m_bounds.min.x, m_bounds.max.x);
        to.y = std::clamp(to.y, m_bounds.min.y, m_bounds.max.y);
        to.z = std::clamp(to.z, m_bounds.min.z, m_bounds.max.z);
        if (to == from || m_drift.at(v, to) > m_options.limitMm)
            return std::nullopt;
        return EditMesh::PointChange{v, to};
    }

    bool moveClusters()
    {
        bool any = false;
        std::set<Index> seen;
        for (const TrianglePair& pair : m_contacts.pairs()) {
            if (seen.count(pair.first) != 0)
                continue;
            const std::vector<Index> cluster = m_contacts.cluster(pair.first);
            seen.insert(cluster.begin(), cluster.end());
            if (cluster.size() >= smallestCluster)
                any = moveCluster(cluster) || any;
        }
        return any;
    }

    bool moveCluster(const std::vector<Index>& cluster)
    {
        std::set<Index> corners;
        for (const Index t : cluster)
            if (m_mesh.alive(t))
                corners.insert(m_mesh.triangle(t).begin(), m_mesh.triangle(t).end());
        for (int steps = 1; steps <= 1 << m_round; steps *= 2)
            for (const double sign : {1.0, -1.0}) {
                EditMesh::Edit edit;
                for (const Index v : corners)
                    if (const auto moved = stepped(v, sign * vertexNormal(v), steps); moved && moved->point.z != 0)
                        edit.points.push_back(*moved);
                if (!edit.points.empty() && improve(edit))
                    return true;
            }
        return false;
    }

    Vec3 vertexNormal(Index v) const
    {
        Vec3 sum{0, 0, 0};
        m_mesh.forTrianglesOf(v, [&](Index t) { sum = sum + normalOf(t); });
        return sum;
    }

    Vec3 normalOf(Index t) const { return normalOf(m_mesh.triangle(t)); }
    Vec3 normalOf(const Triangle& c) const
    {
        return normalized(cross(m_mesh.point(c[1]) - m_mesh.point(c[0]), m_mesh.point(c[2]) - m_mesh.point(c[0])));
    }

    bool improve(const EditMesh::Edit& edit)
    {
        if (!m_contacts.improve(edit))
            return false;
        ++m_mended;
        return true;
    }

    EditMesh& m_mesh;
    Drift& m_drift;
    const UntangleOptions& m_options;
    ContactSet m_contacts;
    Box3 m_bounds;
    int m_round = 0;
    std::size_t m_mended = 0;
};

} // namespace

Untangled untangle(EditMesh& mesh, Drift& drift, const std::vector<TrianglePair>& pairs, const UntangleOptions& options)
{
    return Untangler(mesh, drift, pairs, options).run();
}

} // namespace quoin::mesh
