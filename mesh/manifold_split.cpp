// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/manifold_split.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <unordered_map>
#include <utility>
#include <vector>

namespace quoin::mesh {

namespace {

/// A triangle's use of an edge: which triangle, and which of its corners the directed edge starts at.
struct Use {
    Index triangle;
    std::size_t corner;
};

class Splitter {
public:
    explicit Splitter(Mesh& mesh) : m_mesh(mesh)
    {
        for (Index t = 0; t < mesh.triangles.size(); ++t)
            for (std::size_t k = 0; k < 3; ++k) {
                const Index a = mesh.triangles[t][k], b = mesh.triangles[t][(k + 1) % 3];
                m_uses[key(std::min(a, b), std::max(a, b))].push_back({t, k});
            }
    }

    std::size_t run()
    {
        // Only the triangles around vertices of touching edges matter.
        std::vector<char> touched(m_mesh.points.size(), 0);
        bool any = false;
        for (const auto& [edge, uses] : m_uses)
            if (uses.size() > 2) {
                touched[edge >> 32] = touched[edge & 0xffffffffu] = 1;
                any = true;
            }
        if (!any)
            return 0;
        m_parent.resize(3 * m_mesh.triangles.size());
        std::iota(m_parent.begin(), m_parent.end(), std::size_t{0});
        for (auto& [edge, uses] : m_uses)
            join(uses);
        return duplicate(touched);
    }

private:
    static std::uint64_t key(Index a, Index b) { return (static_cast<std::uint64_t>(a) << 32) | b; }
    std::size_t find(std::size_t c)
    {
        while (m_parent[c] != c)
            c = m_parent[c] = m_parent[m_parent[c]];
        return c;
    }
    /// Corners of two triangles that share an edge (run oppositely) hang together at both its ends.
    void pair(const Use& a, const Use& b)
    {
        const auto corner = [](const Use& u, std::size_t step) { return 3 * u.triangle + (u.corner + step) % 3; };
        m_parent[find(corner(a, 0))] = find(corner(b, 1));
        m_parent[find(corner(a, 1))] = find(corner(b, 0));
    }
    void join(std::vector<Use>& uses)
    {
        if (uses.size() == 2) {
            pair(uses[0], uses[1]);
            return;
        }
        if (uses.size() < 2)
            return;
        // Angles about the edge, seen along its direction from the lower to the higher point number.
        const Use& first = uses.front();
        Index from = m_mesh.triangles[first.triangle][first.corner];
        Index to = m_mesh.triangles[first.triangle][(first.corner + 1) % 3];
        if (from > to)
            std::swap(from, to);
        const Vec3 origin = m_mesh.points[from], axis = normalized(m_mesh.points[to] - origin);
        const Vec3 x = normalized(cross(axis, std::abs(axis.x) < 0.9 ? Vec3{1, 0, 0} : Vec3{0, 1, 0}));
        const Vec3 y = cross(axis, x);
        struct Fin {
            double angle;
            bool forward; ///< runs from the lower to the higher point
            Use use;
        };
        std::vector<Fin> fins;
        for (const Use& u : uses) {
            const Vec3 d = m_mesh.points[m_mesh.triangles[u.triangle][(u.corner + 2) % 3]] - origin;
            fins.push_back({std::atan2(dot(d, y), dot(d, x)), m_mesh.triangles[u.triangle][u.corner] == from, u});
        }
        std::sort(fins.begin(), fins.end(), [](const Fin& a, const Fin& b) {
            return a.angle != b.angle ? a.angle < b.angle : a.forward > b.forward;
        });
        // A triangle that runs the edge forward has its outside towards larger angles: material lies between a
        // backward one and the next forward one. Matched like brackets, so ties do no harm.
        std::vector<Use> open;
        std::size_t done = 0;
        for (std::size_t i = 0; done < uses.size() && i < 2 * fins.size(); ++i) {
            const Fin& f = fins[i % fins.size()];
            if (!f.forward && i < fins.size())
                open.push_back(f.use);
            else if (f.forward && !open.empty() && !std::exchange(m_matched[3 * f.use.triangle + f.use.corner], true)) {
                pair(open.back(), f.use);
                open.pop_back();
                done += 2;
            }
        }
    }
    std::size_t duplicate(const std::vector<char>& touched)
    {
        std::size_t added = 0;
        std::map<std::pair<Index, std::size_t>, Index> copies; // (point, fan) to its point
        std::vector<char> used(m_mesh.points.size(), 0);
        for (std::size_t t = 0; t < m_mesh.triangles.size(); ++t)
            for (std::size_t k = 0; k < 3; ++k) {
                Index& v = m_mesh.triangles[t][k];
                if (v >= touched.size() || touched[v] == 0)
                    continue;
                const auto [it, isNew] = copies.emplace(std::pair{v, find(3 * t + k)}, v);
                if (isNew && std::exchange(used[v], 1) != 0) {
                    it->second = static_cast<Index>(m_mesh.points.size());
                    m_mesh.points.push_back(Vec3(m_mesh.points[v]));
                    ++added;
                }
                v = it->second;
            }
        return added;
    }

    Mesh& m_mesh;
    std::unordered_map<std::uint64_t, std::vector<Use>> m_uses;
    std::unordered_map<std::size_t, bool> m_matched;
    std::vector<std::size_t> m_parent;
};

} // namespace

std::size_t splitTouchingEdges(Mesh& mesh)
{
    return Splitter(mesh).run();
}

} // namespace quoin::mesh
