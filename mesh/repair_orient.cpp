// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/disjoint_sets.h"
#include "mesh/distance.h"
#include "mesh/edge_table.h"
#include "mesh/mass.h"
#include "mesh/place.h"
#include "mesh/repair_soup.h"
#include "mesh/shells.h"
#include "mesh/topology.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace quoin::mesh {

namespace {

/// Triangles joined by "faces the same way" or "faces the other way": union-find with a bit of parity.
class Facing {
public:
    explicit Facing(std::size_t count) : m_parent(count), m_turned(count, 0)
    {
        std::iota(m_parent.begin(), m_parent.end(), Index{0});
    }
    /// The leader, and whether i is turned against it.
    std::pair<Index, bool> find(Index i)
    {
        Index root = i;
        bool turned = false;
        while (m_parent[root] != root) {
            turned ^= m_turned[root] != 0;
            root = m_parent[root];
        }
        for (bool rest = turned; m_parent[i] != root && i != root;) {
            const Index next = m_parent[i];
            const bool step = m_turned[i] != 0;
            m_parent[i] = root;
            m_turned[i] = rest ? 1 : 0;
            rest ^= step;
            i = next;
        }
        return {root, turned};
    }
    /// False when a and b are joined the other way already.
    bool join(Index a, Index b, bool turned)
    {
        const auto [rootA, turnedA] = find(a);
        const auto [rootB, turnedB] = find(b);
        if (rootA == rootB)
            return (turnedA != turnedB) == turned;
        const bool between = turned ^ turnedA ^ turnedB;
        m_parent[std::max(rootA, rootB)] = std::min(rootA, rootB);
        m_turned[std::max(rootA, rootB)] = between ? 1 : 0;
        return true;
    }

private:
    std::vector<Index> m_parent;
    std::vector<char> m_turned;
};

/// The uses of an edge in angular order about it.
std::vector<EdgeUse> inAngularOrder(const Mesh& mesh, Index low, Index high, std::span<const EdgeUse> uses)
{
    const Vec3 origin = mesh.points[low], axis = normalized(mesh.points[high] - origin);
    const Vec3 x = normalized(cross(axis, std::abs(axis.x) < 0.9 ? Vec3{1, 0, 0} : Vec3{0, 1, 0}));
    const Vec3 y = cross(axis, x);
    std::vector<std::pair<double, EdgeUse>> fins;
    for (const EdgeUse& u : uses) {
        const Vec3 d = mesh.points[apexOf(mesh, u.halfEdge())] - origin;
        fins.emplace_back(std::atan2(dot(d, y), dot(d, x)), u);
    }
    std::stable_sort(fins.begin(), fins.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<EdgeUse> out;
    for (const auto& fin : fins)
        out.push_back(fin.second);
    return out;
}

/// Closed surfaces of their own where the mesh falls into such at edges with more than two triangles; else the
/// connected parts.
Parts closedPieces(const Mesh& mesh, const EdgeTable& table)
{
    DisjointSets<Index> sets(mesh.triangles.size());
    bool plain = true;
    table.forEachEdge([&](Index, Index, std::span<const EdgeUse> uses) {
        plain = plain && uses.size() <= 2;
        if (uses.size() != 2)
            return;
        sets.join(uses[0].triangle(), uses[1].triangle());
    });
    if (plain)
        return connectedParts(mesh);
    bool closed = true;
    table.forEachEdge([&](Index, Index, std::span<const EdgeUse> uses) {
        for (const EdgeUse& u : uses)
            closed = closed && std::count_if(uses.begin(), uses.end(),
                                             [&](const EdgeUse& other) {
                                                 return sets.find(other.triangle()) == sets.find(u.triangle());
                                             }) %
                                       2 ==
                                   0;
    });
    if (!closed)
        return connectedParts(mesh);
    Parts parts;
    parts.partOf.resize(sets.size());
    for (Index i = 0; i < sets.size(); ++i)
        parts.partOf[i] = sets.find(i) == i ? static_cast<Index>(parts.count++) : parts.partOf[sets.find(i)];
    return parts;
}

/// Triangles that a shell's place is judged by.
constexpr std::size_t trianglesTested = 64;

/// Whether most of a shell lies within what the others enclose: then it is a cavity that breaks out of its body, not a
/// body turned inside out.
bool mostlyInside(const Mesh& mesh, const Parts& parts, const std::vector<Shell>& shells, Index shell)
{
    const Box3& box = shells[shell].box;
    const auto near = [&](Index other) {
        const Box3& b = shells[other].box;
        return other != shell && b.min.x <= box.max.x && b.max.x >= box.min.x && b.min.y <= box.max.y &&
               b.max.y >= box.min.y && b.min.z <= box.max.z && b.max.z >= box.min.z;
    };
    const SurfaceTree others(mesh, [&](std::size_t t) { return near(parts.partOf[t]); });
    if (others.empty())
        return false;
    std::vector<Index> own;
    for (Index t = 0; t < parts.partOf.size(); ++t)
        if (parts.partOf[t] == shell)
            own.push_back(t);
    const std::size_t step = std::max<std::size_t>(1, own.size() / trianglesTested);
    std::size_t asked = 0, inside = 0;
    for (std::size_t i = 0; i < own.size(); i += step, ++asked)
        inside += others.winding((mesh.corner(own[i], 0) + mesh.corner(own[i], 1) + mesh.corner(own[i], 2)) / 3) > 0;
    return 2 * inside > asked;
}

bool shouldTurn(const std::vector<Shell>& shells, Index i)
{
    const Shell& s = shells[i];
    if (!s.closed)
        return false;
    // Cavities, and bodies in the material of another, go with what they lie in.
    const bool inMaterial = s.parent != noShell && !shells[s.parent].cavity;
    return s.cavity || inMaterial ? shouldTurn(shells, s.parent) : s.volumeMm3 < 0;
}

} // namespace

Result<std::size_t> orientAlike(Mesh& mesh)
{
    const EdgeTable table(mesh);
    Facing facing(mesh.triangles.size());
    std::optional<Vec3> oneSided;
    table.forEachEdge([&](Index low, Index high, std::span<const EdgeUse> uses) {
        if (uses.size() == 2 && low != high &&
            !facing.join(uses[0].triangle(), uses[1].triangle(), uses[0].reversed() == uses[1].reversed()) && !oneSided)
            oneSided = 0.5 * (mesh.points[low] + mesh.points[high]);
    });
    if (oneSided)
        return Problem{Reason::NotOriented, "the surface has one side only, like a twisted band", "",
                       placeText(*oneSided), "Export it again as a solid."};
    table.forEachEdge([&](Index low, Index high, std::span<const EdgeUse> uses) {
        if (uses.size() <= 2 || uses.size() % 2 != 0 || low == high)
            return;
        const std::vector<EdgeUse> fins = inAngularOrder(mesh, low, high, uses);
        for (std::size_t i = 1; i < fins.size(); ++i)
            (void)facing.join(fins[i - 1].triangle(), fins[i].triangle(), fins[i - 1].reversed() == fins[i].reversed());
    });
    std::vector<double> votes(mesh.triangles.size(), 0);
    for (Index i = 0; i < votes.size(); ++i) {
        const auto [leader, turned] = facing.find(i);
        votes[leader] += (turned ? -1 : 1) * triangleArea(mesh, i);
    }
    std::size_t count = 0;
    for (Index i = 0; i < votes.size(); ++i) {
        const auto [leader, turned] = facing.find(i);
        if (turned == (votes[leader] >= 0)) {
            std::swap(mesh.triangles[i][1], mesh.triangles[i][2]);
            ++count;
        }
    }
    return count;
}

std::size_t turnOutwards(Mesh& mesh)
{
    const EdgeTable table(mesh);
    const Parts parts = closedPieces(mesh, table);
    const Shells shells = shellsOf(mesh, parts, table);
    std::vector<char> turn(parts.count, 0);
    for (Index i = 0; i < parts.count; ++i)
        turn[i] = shouldTurn(shells.shell, i) ? 1 : 0;
    for (Index i = 0; i < parts.count; ++i)
        if (turn[i] != 0 && shells.shell[i].parent == noShell && mostlyInside(mesh, parts, shells.shell, i))
            turn[i] = 0;
    for (Index t = 0; t < mesh.triangles.size(); ++t)
        if (turn[parts.partOf[t]] != 0)
            std::swap(mesh.triangles[t][1], mesh.triangles[t][2]);
    return static_cast<std::size_t>(std::count(turn.begin(), turn.end(), 1));
}

} // namespace quoin::mesh
