// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/edge_collapse.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::mesh {

namespace {

/// Passes over what has changed; each closes at least one edge or turns one side, so this only bounds odd cases.
constexpr int mostPasses = 100;

struct ShortEdge {
    double lengthMm;
    Index a, b;
    friend bool operator<(const ShortEdge& x, const ShortEdge& y)
    {
        return x.lengthMm != y.lengthMm ? x.lengthMm < y.lengthMm : std::pair(x.a, x.b) < std::pair(y.a, y.b);
    }
    friend bool operator==(const ShortEdge& x, const ShortEdge& y) { return x.a == y.a && x.b == y.b; }
};

class Tidy {
public:
    Tidy(EditMesh& mesh, Drift& drift, const TidyOptions& options) : m_mesh(mesh), m_drift(drift), m_options(options) {}

    std::size_t run(std::vector<Index> triangles)
    {
        m_open = std::move(triangles);
        for (int pass = 0; pass < mostPasses; ++pass) {
            const bool closed = closeShortEdges();
            const bool turned = turnSlivers();
            if (!closed && !turned)
                break;
        }
        return m_closed;
    }

private:
    void sortOpen()
    {
        std::sort(m_open.begin(), m_open.end());
        m_open.erase(std::unique(m_open.begin(), m_open.end()), m_open.end());
        std::erase_if(m_open, [&](Index t) { return !m_mesh.alive(t); });
    }

    std::vector<ShortEdge> shortEdges() const
    {
        std::vector<ShortEdge> edges;
        for (const Index t : m_open) {
            const Triangle& corners = m_mesh.triangle(t);
            for (int k = 0; k < 3; ++k) {
                const auto [a, b] = std::minmax(corners[k], corners[(k + 1) % 3]);
                const double l = length(m_mesh.point(a) - m_mesh.point(b));
                if (l < m_options.shortMm)
                    edges.push_back({l, a, b});
            }
        }
        std::sort(edges.begin(), edges.end());
        edges.erase(std::unique(edges.begin(), edges.end()), edges.end());
        return edges;
    }

    bool closeShortEdges()
    {
        bool any = false;
        for (bool progress = true; progress;) {
            progress = false;
            sortOpen();
            for (const ShortEdge& edge : shortEdges())
                if (m_mesh.vertexAlive(edge.a) && m_mesh.vertexAlive(edge.b))
                    progress = close(edge.a, edge.b) || progress;
            any = any || progress;
        }
        return any;
    }

    /// Largest distance by which u's trustworthy faces leave their planes when u goes to where v is; negative when
    /// one of them would be turned over.
    double cost(Index u, Index v) const
    {
        const Vec3 from = m_mesh.point(u), to = m_mesh.point(v);
        double worst = 0;
        bool turned = false;
        m_mesh.forTrianglesOf(u, [&](Index t) {
            std::array<Vec3, 3> old, moved;
            for (int k = 0; k < 3; ++k) {
                const Index w = m_mesh.triangle(t)[k];
                if (w == v)
                    return;
                old[k] = m_mesh.point(w);
                moved[k] = w == u ? to : old[k];
            }
            if (heightOf(old[0], old[1], old[2]) < m_options.thinMm)
                return;
            const Vec3 normal = cross(old[1] - old[0], old[2] - old[0]);
            turned = turned || dot(normal, cross(moved[1] - moved[0], moved[2] - moved[0])) <= 0;
            worst = std::max(worst, std::fabs(dot(normalized(normal), to - from)));
        });
        return turned ? -1 : worst;
    }

    bool close(Index a, Index b)
    {
        struct Way {
            double cost;
            Index from, to;
        };
        std::array<Way, 2> ways{Way{cost(a, b), a, b}, Way{cost(b, a), b, a}};
        if (ways[1].cost >= 0 && (ways[0].cost < 0 || ways[1].cost < ways[0].cost))
            std::swap(ways[0], ways[1]);
        return std::any_of(ways.begin(), ways.end(),
                           [&](const Way& way) { return way.cost >= 0 && moveInto(way.from, way.to); });
    }

    bool moveInto(Index from, Index to)
    {
        const Vec3 u = m_mesh.point(from), v = m_mesh.point(to);
        if ((u.z == 0 && v.z != 0) || m_drift.joined(from, u, to, v) > m_options.limitMm)
            return false;
        const auto edit = m_mesh.collapse(from, to);
        if (!edit)
            return false;
        m_drift.join(from, u, to, v);
        m_mesh.apply(*edit);
        m_mesh.forTrianglesOf(to, [&](Index t) { m_open.push_back(t); });
        ++m_closed;
        return true;
    }

    bool turnSlivers()
    {
        sortOpen();
        bool any = false;
        const std::vector<Index> now = m_open;
        for (const Index t : now)
            any = turn(t) || any;
        return any;
    }

    bool turn(Index t)
    {
        if (!m_mesh.alive(t))
            return false;
        const double before = heightOf(m_mesh, t);
        if (before >= m_options.thinMm)
            return false;
        const auto edit = m_mesh.flip(t, longestSide(m_mesh, t));
        if (!edit)
            return false;
        const auto corner = [&](int which, int k) { return m_mesh.point(edit->triangles[which].corners[k]); };
        const double after = std::min(heightOf(corner(0, 0), corner(0, 1), corner(0, 2)),
                                      heightOf(corner(1, 0), corner(1, 1), corner(1, 2)));
        if (after <= before || !keepsFacing(*edit))
            return false;
        m_mesh.apply(*edit);
        for (const auto& change : edit->triangles)
            m_open.push_back(change.triangle);
        return true;
    }

    /// The two new triangles look the way that the one across looked, when that one is high enough to say.
    bool keepsFacing(const EditMesh::Edit& edit) const
    {
        const Index other = edit.triangles[1].triangle;
        if (heightOf(m_mesh, other) < m_options.thinMm)
            return true;
        const auto normal = [&](const Triangle& c) {
            return cross(m_mesh.point(c[1]) - m_mesh.point(c[0]), m_mesh.point(c[2]) - m_mesh.point(c[0]));
        };
        const Vec3 old = normal(m_mesh.triangle(other));
        return dot(old, normal(edit.triangles[0].corners)) > 0 && dot(old, normal(edit.triangles[1].corners)) > 0;
    }

    EditMesh& m_mesh;
    Drift& m_drift;
    const TidyOptions& m_options;
    std::vector<Index> m_open; ///< triangles that may need something
    std::size_t m_closed = 0;
};

} // namespace

Drift Drift::of(const std::vector<Index>& vertices) const
{
    Drift out({});
    for (const Index v : vertices) {
        out.m_original.push_back(m_original[v]);
        out.m_gathered.push_back(m_gathered[v]);
    }
    return out;
}

std::size_t tidyEdges(EditMesh& mesh, Drift& drift, std::vector<Index> triangles, const TidyOptions& options)
{
    return Tidy(mesh, drift, options).run(std::move(triangles));
}

} // namespace quoin::mesh
