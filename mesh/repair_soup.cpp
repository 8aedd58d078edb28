// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/repair_soup.h"

#include "mesh/edge_table.h"
#include "mesh/topology.h"

#include <algorithm>
#include <unordered_map>

namespace quoin::mesh {

namespace {

/// Times an edge is run from its low to its high end, less the times it is run back.
int netUse(std::span<const EdgeUse> uses)
{
    int net = 0;
    for (const EdgeUse& u : uses)
        net += u.reversed() ? -1 : 1;
    return net;
}

/// Keeps the triangles for which keep holds; returns how many went.
template <class Keep>
std::size_t filter(Mesh& mesh, const Keep& keep)
{
    std::vector<Index> kept;
    kept.reserve(mesh.triangles.size());
    for (Index i = 0; i < mesh.triangles.size(); ++i)
        if (keep(i))
            kept.push_back(i);
    const std::size_t gone = mesh.triangles.size() - kept.size();
    if (gone != 0)
        mesh = subset(mesh, kept);
    return gone;
}

Triangle sorted(Triangle t)
{
    std::sort(t.begin(), t.end());
    return t;
}

/// Whether the corners come in rising order, apart from where they start.
bool rising(const Triangle& t)
{
    return (t[0] < t[1]) + (t[1] < t[2]) + (t[2] < t[0]) == 2;
}

/// Sets of triangles with the same corners, by first triangle; those on their own are left out.
std::vector<std::vector<Index>> duplicateSets(const Mesh& mesh)
{
    std::vector<Index> order(mesh.triangles.size());
    for (Index i = 0; i < order.size(); ++i)
        order[i] = i;
    std::vector<Triangle> key(order.size());
    for (Index i = 0; i < order.size(); ++i)
        key[i] = sorted(mesh.triangles[i]);
    std::sort(order.begin(), order.end(), [&](Index a, Index b) { return key[a] != key[b] ? key[a] < key[b] : a < b; });
    std::vector<std::vector<Index>> sets;
    for (std::size_t i = 0; i < order.size();) {
        std::size_t j = i + 1;
        while (j < order.size() && key[order[j]] == key[order[i]])
            ++j;
        if (j - i > 1)
            sets.emplace_back(order.begin() + static_cast<std::ptrdiff_t>(i),
                              order.begin() + static_cast<std::ptrdiff_t>(j));
        i = j;
    }
    return sets;
}

/// For each doubled triangle (number of its set) whether the skins back to back that it belongs to should go: around
/// them other triangles close the surface without their help.
class DoubleSkins {
public:
    DoubleSkins(const Mesh& mesh, const std::vector<Index>& setOf, std::size_t sets) : m_parent(sets), m_votes(sets, 0)
    {
        for (Index i = 0; i < sets; ++i)
            m_parent[i] = i;
        EdgeTable(mesh).forEachEdge([&](Index, Index, std::span<const EdgeUse> uses) { look(uses, setOf); });
        for (Index i = 0; i < sets; ++i)
            if (root(i) != i)
                m_votes[root(i)] += m_votes[i];
    }
    bool superfluous(Index set) { return m_votes[root(set)] > 0; }

private:
    Index root(Index i)
    {
        while (m_parent[i] != i)
            i = m_parent[i] = m_parent[m_parent[i]];
        return i;
    }
    void look(std::span<const EdgeUse> uses, const std::vector<Index>& setOf)
    {
        std::size_t others = 0;
        std::vector<Index> doubled;
        for (const EdgeUse& u : uses)
            setOf[u.triangle()] == noHalfEdge ? void(++others) : doubled.push_back(setOf[u.triangle()]);
        if (doubled.empty())
            return;
        if (others == 0) {
            for (const Index d : doubled)
                m_parent[root(d)] = root(doubled.front());
            return;
        }
        // On the rim of the double skin: even others are closed already, odd ones need a partner.
        m_votes[doubled.front()] += others % 2 == 0 ? 1 : -1;
    }

    std::vector<Index> m_parent;
    std::vector<int> m_votes;
};

} // namespace

bool balanced(const Mesh& mesh)
{
    return !unbalancedPlace(mesh);
}

std::optional<Vec3> unbalancedPlace(const Mesh& mesh)
{
    std::optional<Vec3> place;
    EdgeTable(mesh).forEachEdge([&](Index low, Index high, std::span<const EdgeUse> uses) {
        if (!place && low != high && netUse(uses) != 0)
            place = 0.5 * (mesh.points[low] + mesh.points[high]);
    });
    return place;
}

std::size_t dropDuplicates(Mesh& mesh)
{
    const std::vector<std::vector<Index>> sets = duplicateSets(mesh);
    if (sets.empty())
        return 0;
    std::vector<Index> evenSetOf(mesh.triangles.size(), noHalfEdge);
    std::vector<char> dropped(mesh.triangles.size(), 0);
    std::vector<const std::vector<Index>*> even;
    for (const std::vector<Index>& set : sets) {
        const auto up = static_cast<std::size_t>(
            std::count_if(set.begin(), set.end(), [&](Index t) { return rising(mesh.triangles[t]); }));
        const bool backToBack = 2 * up == set.size(), keepRising = 2 * up > set.size();
        bool kept = false;
        for (const Index t : set) {
            if (backToBack)
                evenSetOf[t] = static_cast<Index>(even.size());
            const bool keep = !kept && (backToBack || rising(mesh.triangles[t]) == keepRising);
            kept = kept || keep;
            dropped[t] = keep ? 0 : 1;
        }
        if (backToBack)
            even.push_back(&set);
    }
    DoubleSkins skins(mesh, evenSetOf, even.size());
    for (Index i = 0; i < even.size(); ++i)
        if (skins.superfluous(i))
            for (const Index t : *even[i])
                dropped[t] = 1;
    return filter(mesh, [&](Index i) { return dropped[i] == 0; });
}

std::vector<char> backToBack(const Mesh& mesh)
{
    std::vector<char> out(mesh.triangles.size(), 0);
    for (const std::vector<Index>& set : duplicateSets(mesh)) {
        const bool up = std::any_of(set.begin(), set.end(), [&](Index t) { return rising(mesh.triangles[t]); });
        const bool down = !std::all_of(set.begin(), set.end(), [&](Index t) { return rising(mesh.triangles[t]); });
        for (const Index t : set)
            out[t] = up && down ? 1 : 0;
    }
    return out;
}

std::size_t joinNearRims(Mesh& mesh, double toleranceMm)
{
    const EdgeTable table(mesh);
    std::vector<Index> rim;
    std::size_t openBefore = 0;
    table.forEachEdge([&](Index low, Index high, std::span<const EdgeUse> uses) {
        if (uses.size() == 1) {
            ++openBefore;
            rim.push_back(low);
            rim.push_back(high);
        }
    });
    std::sort(rim.begin(), rim.end(), [&](Index a, Index b) {
        return mesh.points[a].x != mesh.points[b].x ? mesh.points[a].x < mesh.points[b].x : a < b;
    });
    rim.erase(std::unique(rim.begin(), rim.end()), rim.end());
    // Sweep along x; each point joins the first one near it.
    std::unordered_map<Index, Index> into;
    for (std::size_t i = 0; i < rim.size(); ++i)
        for (std::size_t j = i; j-- > 0;) {
            const Vec3 d = mesh.points[rim[i]] - mesh.points[rim[j]];
            if (d.x > toleranceMm)
                break;
            if (!into.contains(rim[j]) && length(d) <= toleranceMm) {
                into[rim[i]] = rim[j];
                break;
            }
        }
    if (into.empty())
        return 0;
    Mesh joined = mesh;
    for (Triangle& t : joined.triangles)
        for (Index& v : t)
            if (const auto at = into.find(v); at != into.end())
                v = at->second;
    joined = welded(joined);
    const Topology before = topologyOf(mesh), after = topologyOf(joined);
    if (after.openEdges >= openBefore || after.nonManifoldEdges > before.nonManifoldEdges)
        return 0;
    mesh = std::move(joined);
    return into.size();
}

} // namespace quoin::mesh
