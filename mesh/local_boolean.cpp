// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/local_boolean.h"

#include "mesh/disjoint_sets.h"
#include "mesh/edge_table.h"
#include "mesh/local_change.h"
#include "mesh/mass.h"
#include "mesh/neighbourhood.h"
#include "mesh/open_face.h"
#include "mesh/refined_soup.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <optional>
#include <unordered_map>

namespace quoin::mesh {

namespace {

/// Rounding: edges and heights under this are closed up.
constexpr double mergeMm = 1e-6;
/// Rounding: how far aside the tool is tried when it lies badly; below the step of a file at half a metre.
constexpr double nudgeMm = 3e-5;
/// Rounding: share of the tool's volume by which the volume taken or added may leave its bounds.
constexpr double volumeShare = 1e-6;
/// Directions of no symmetry, so that no two faces of a tool slide along themselves.
constexpr std::array<Vec3, 8> nudges{Vec3{0.61, 0.53, 0.59},   Vec3{-0.57, -0.59, -0.57}, Vec3{0.67, -0.51, 0.54},
                                     Vec3{-0.63, 0.55, -0.55}, Vec3{0.52, 0.63, -0.58},   Vec3{-0.56, -0.61, 0.56},
                                     Vec3{-0.64, 0.49, 0.59},  Vec3{0.54, -0.58, -0.61}};

enum class Operation { Without, With };

std::optional<Problem> unsoundTool(const Mesh& tool)
{
    for (const Vec3 p : tool.points)
        if (!(std::isfinite(p.x) && std::isfinite(p.y) && std::isfinite(p.z)))
            return jointRefused("a feature's solid has a point that is no number");
    const Topology topology = topologyOf(tool);
    if (tool.empty() || !topology.solid())
        return jointRefused("a feature's solid is not closed, oriented and 2-manifold");
    if (volume(tool) <= 0)
        return jointRefused("a feature's solid is inside out");
    if (!selfIntersections(tool, 1).empty())
        return jointRefused("a feature's solid intersects itself");
    return std::nullopt;
}

/// For each face of the cut surface a number that it shares with those it hangs together with across edges with two
/// faces: all of them have the same on either side.
std::vector<Index> sheetsOf(const Mesh& refined)
{
    DisjointSets<Index> sheets(refined.triangles.size());
    EdgeTable(refined).forEachEdge([&](Index, Index, std::span<const EdgeUse> uses) {
        if (uses.size() == 2)
            sheets.join(uses[0].triangle(), uses[1].triangle());
    });
    std::vector<Index> sheet(refined.triangles.size());
    for (Index i = 0; i < sheet.size(); ++i)
        sheet[i] = sheets.find(i);
    return sheet;
}

bool inside(const Box3& box, Vec3 p)
{
    for (int k = 0; k < 3; ++k)
        if (p[k] < box.min[k] || p[k] > box.max[k])
            return false;
    return true;
}

/// Both surfaces cut along each other, and which of the faces bound the outcome.
class CutSurface {
public:
    explicit CutSurface(const Neighbourhood& near)
        : m_near(near), m_pairs(near.meetings()), m_soup(near.local, m_pairs), m_met(near.local.triangles.size(), 0)
    {
        for (const auto& [s, t] : m_pairs)
            m_met[s] = m_met[t] = 1;
        m_refined.points = m_soup.points();
        for (const RefinedFace& f : m_soup.faces())
            m_refined.triangles.push_back(f.corners);
        classify();
    }

    LocalChange change(const Mesh& mesh, Label toolLabel) const
    {
        LocalChange out;
        std::unordered_map<Index, Index> added;
        std::vector<char> stays(m_near.source.size(), 1); // so do triangles without area, which have no faces
        for (std::size_t s = 0; s < stays.size(); ++s)
            stays[s] = !m_met[s];
        for (std::size_t i = 0; i < m_refined.triangles.size(); ++i) {
            const Index source = m_soup.faces()[i].source;
            const bool ofTool = m_near.ofTool(source);
            const auto [front, back] = m_sides[i];
            const bool bounds = (front >= 1) != (back >= 1);
            if (!ofTool && !m_met[source]) {
                stays[source] = bounds;
                continue;
            }
            if (!bounds)
                continue;
            Triangle t = m_refined.triangles[i];
            if (front >= 1)
                std::swap(t[1], t[2]);
            for (Index& v : t)
                v = named(v, source, mesh, added, out.added);
            out.fresh.push_back(t);
            out.labels.push_back(ofTool ? toolLabel : mesh.label(m_near.source[source]));
        }
        for (std::size_t s = 0; s < stays.size(); ++s)
            if (!stays[s])
                out.removed.push_back(m_near.source[s]);
        return out;
    }

private:
    /// Faces of the mesh beyond reach have nothing before them and material behind, and so has all that hangs together
    /// with them; for the rest the largest face of each sheet is asked.
    void classify()
    {
        const std::vector<Index> sheet = sheetsOf(m_refined);
        constexpr RefinedSoup::Sides skin{0, 1};
        std::vector<char> known(sheet.size(), 0);
        std::vector<Index> speaker(sheet.size());
        for (Index i = 0; i < sheet.size(); ++i) {
            const Triangle& t = m_refined.triangles[i];
            const Vec3 middle = (m_refined.points[t[0]] + m_refined.points[t[1]] + m_refined.points[t[2]]) / 3;
            if (!m_near.ofTool(m_soup.faces()[i].source) && !inside(m_near.reach, middle))
                known[sheet[i]] = 1;
            if (sheet[i] == i || triangleArea(m_refined, i) > triangleArea(m_refined, speaker[sheet[i]]))
                speaker[sheet[i]] = i;
        }
        std::vector<RefinedSoup::Sides> of(sheet.size(), skin);
        for (Index i = 0; i < sheet.size(); ++i)
            if (sheet[i] == i && !known[i])
                of[i] = m_soup.sidesOf(speaker[i]);
        m_sides.reserve(sheet.size());
        for (const Index s : sheet)
            m_sides.push_back(of[s]);
    }

    /// A corner of a face by its number in the changed mesh: a vertex of the triangle it was cut from, if it is one.
    Index named(Index v, Index source, const Mesh& mesh, std::unordered_map<Index, Index>& added,
                Buffer<Vec3>& points) const
    {
        if (!m_near.ofTool(source))
            for (std::size_t k = 0; k < 3; ++k)
                if (m_near.local.triangles[source][k] == v)
                    return mesh.triangles[m_near.source[source]][k];
        if (v < m_near.vertex.size() && m_near.vertex[v] != Neighbourhood::noVertex)
            return m_near.vertex[v];
        const auto [it, isNew] = added.emplace(v, static_cast<Index>(mesh.points.size() + points.size()));
        if (isNew)
            points.push_back(m_refined.points[v]);
        return it->second;
    }

    const Neighbourhood& m_near;
    std::vector<std::pair<Index, Index>> m_pairs;
    RefinedSoup m_soup;
    std::vector<char> m_met; ///< of each local triangle: whether it meets one of the other solid
    Mesh m_refined;
    std::vector<RefinedSoup::Sides> m_sides; ///< of each face
};

/// What one try came to.
struct Outcome {
    LocalChange change;
    std::optional<Problem> problem;
    bool final = true; ///< moving the tool a little would not help, or is not needed
};

std::optional<Problem> wrongVolume(const Mesh& mesh, const LocalChange& change, const Mesh& tool, Operation operation)
{
    const double most = volume(tool), slack = volumeShare * most;
    const double added = operation == Operation::With ? volumeAdded(mesh, change) : -volumeAdded(mesh, change);
    if (added >= -slack && added <= most + slack)
        return std::nullopt;
    return jointRefused(fmt::format("a feature of {:.6g} mm3 would change the piece by {:.6g} mm3: the piece is not "
                                    "sound there",
                                    most, added),
                        "Repair it first.");
}

Outcome attempt(const Mesh& mesh, const Mesh& tool, Label toolLabel, Operation operation)
{
    const Neighbourhood near = neighbourhoodOf(mesh, tool, operation == Operation::Without);
    const CutSurface cut(near);
    Outcome out{cut.change(mesh, toolLabel), std::nullopt, true};
    if (out.change.empty())
        return out;
    tidyChange(mesh, out.change, mergeMm);
    if (out.change.fresh.empty() && out.change.removed.size() == mesh.triangles.size()) {
        out.problem = jointRefused("the feature takes the whole piece away");
        return out;
    }
    std::vector<Index> nearby;
    for (std::size_t s = 0; s < near.source.size(); ++s)
        if (near.within[s])
            nearby.push_back(near.source[s]);
    if (auto flaw = flawAfter(mesh, out.change, nearby)) {
        out.problem = std::move(flaw->problem);
        out.final = !flaw->byRounding;
    } else if (auto wrong = wrongVolume(mesh, out.change, tool, operation)) {
        out.problem = std::move(wrong);
    } else if (const int gained = bodiesGained(mesh, out.change); gained > 0) {
        const bool apart = operation == Operation::With && out.change.removed.empty();
        out.problem =
            apart ? jointRefused("the feature does not reach the piece")
                  : jointRefused(fmt::format("the piece would fall into more bodies than it has, by {}", gained),
                                 "Move the feature, or make it smaller.");
        out.final = !apart; // a gap that rounding made is closed by moving
    } else {
        out.final = outlivesRounding(mesh, out.change, nearby);
    }
    return out;
}

Result<Mesh> combined(const Mesh& mesh, const Mesh& tool, Label toolLabel, Operation operation)
{
    if (auto problem = unsoundTool(tool))
        return *problem;
    Outcome best = attempt(mesh, tool, toolLabel, operation);
    for (std::size_t i = 0; i < nudges.size() && !best.final; ++i) {
        Outcome next =
            attempt(mesh, transformed(tool, Transform::translation(nudgeMm * nudges[i])), toolLabel, operation);
        if (!next.problem && (best.problem || next.final))
            best = std::move(next);
    }
    if (best.problem)
        return *best.problem;
    if (best.change.empty())
        return mesh;
    return changed(mesh, best.change);
}

} // namespace

Result<Mesh> withoutSolid(const Mesh& mesh, const Mesh& tool, Label toolLabel)
{
    return combined(mesh, tool, toolLabel, Operation::Without);
}

Result<Mesh> withSolid(const Mesh& mesh, const Mesh& tool, Label toolLabel)
{
    return combined(mesh, tool, toolLabel, Operation::With);
}

} // namespace quoin::mesh
