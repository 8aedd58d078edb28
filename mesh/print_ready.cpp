// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/print_ready.h"

#include "mesh/edge_collapse.h"
#include "mesh/float_grid.h"
#include "mesh/mass.h"
#include "mesh/point_index.h"
#include "mesh/self_intersection.h"
#include "mesh/split_fans.h"
#include "mesh/thin_sheet.h"
#include "mesh/tidy.h"
#include "mesh/topology.h"
#include "mesh/untangle.h"

#include <fmt/format.h>

#include <cmath>
#include <optional>

namespace quoin::mesh {

namespace {

/// Rounding, in float steps of the largest coordinate. Each coordinate goes at most half a step, so a corner goes at
/// most 0.87 steps and a triangle higher than twice that can't be turned over: 3 leaves room.
constexpr double shortSteps = 3;
/// Faces pressed together are opened to this; rounding takes at most 1.75 steps of it.
constexpr double sheetSteps = 4;
/// Corners this near to z = 0 stand on the plate; rounding would put half of it there anyway.
constexpr double plateSteps = 1;
/// A body is dropped when its mean thickness, twice its volume over its area, is less than this.
constexpr double foilSteps = 1;
/// More pairs than this in a mesh that came in sound don't happen: the mesh was not sound.
constexpr std::size_t mostPairs = 200'000;
/// Rounding moves a surface by at most a few steps, and the volume by at most that times the area; share of the
/// volume on top.
constexpr double volumeSteps = 8;
constexpr double volumeShare = 1e-6;

std::string placeOf(Vec3 p)
{
    return fmt::format("({:.3f}, {:.3f}, {:.3f}) mm", p.x, p.y, p.z);
}

Problem notManifold(Vec3 at)
{
    return {Reason::NotManifold, "the solid can't be rounded to file precision: it is not closed or not manifold", "",
            placeOf(at), "Repair the model before it is cut."};
}

Problem movedTooFar(double movedMm, double limitMm)
{
    return {Reason::SelfIntersecting,
            fmt::format("rounding to file precision moves the surface by {:.3g} mm, more than the {:.3g} mm allowed",
                        movedMm, limitMm),
            "", "", "Place the model nearer to the origin, or allow more."};
}

Problem tangled(Vec3 at)
{
    return {Reason::SelfIntersecting,
            "the solid can't be rounded to file precision without cutting into itself: walls or gaps are thinner than "
            "a file can hold",
            "", placeOf(at), "Move the cut a little, or repair the model there."};
}

void standOnPlate(Mesh& mesh, double plateMm)
{
    for (Vec3& p : mesh.points)
        if (std::fabs(p.z) <= plateMm)
            p.z = 0;
}

/// Takes away whole bodies and cavities thinner than a step that the given triangles belong to.
std::size_t dropFoils(EditMesh& mesh, const std::vector<Index>& triangles, double thicknessMm)
{
    std::vector<char> seen(mesh.triangleCount(), 0);
    std::size_t dropped = 0;
    for (const Index start : triangles) {
        if (!mesh.alive(start) || seen[start])
            continue;
        std::vector<Index> body{start};
        seen[start] = 1;
        double sixVolumes = 0, twoAreas = 0;
        const Vec3 origin = mesh.point(mesh.triangle(start)[0]);
        for (std::size_t i = 0; i < body.size(); ++i) {
            const Triangle corners = mesh.triangle(body[i]);
            const Vec3 a = mesh.point(corners[0]) - origin, b = mesh.point(corners[1]) - origin,
                       c = mesh.point(corners[2]) - origin;
            sixVolumes += dot(a, cross(b, c));
            twoAreas += length(cross(b - a, c - a));
            for (const Index v : corners)
                mesh.forTrianglesOf(v, [&](Index t) {
                    if (!seen[t]) {
                        seen[t] = 1;
                        body.push_back(t);
                    }
                });
        }
        if (2 * std::fabs(sixVolumes) / 6 >= thicknessMm * twoAreas / 2)
            continue;
        for (const Index t : body)
            mesh.removeTriangle(t);
        dropped += body.size() / 2;
    }
    return dropped;
}

/// Pairs of triangles around corners that lie on one place, and triangles without area: what has no general test.
std::vector<TrianglePair> coincidences(const Mesh& mesh)
{
    Buffer<Vec3> places;
    PointIndex index(mesh.points.size());
    std::vector<Index> firstAt;
    std::vector<std::pair<Index, Index>> twins;
    for (Index v = 0; v < mesh.points.size(); ++v) {
        const Index place = index.insert(mesh.points[v], places);
        if (place == firstAt.size())
            firstAt.push_back(v);
        else
            twins.emplace_back(firstAt[place], v);
    }
    std::vector<TrianglePair> pairs;
    for (Index t = 0; t < mesh.triangles.size(); ++t)
        if (degenerate(mesh.corner(t, 0), mesh.corner(t, 1), mesh.corner(t, 2)))
            pairs.emplace_back(t, t);
    if (twins.empty())
        return pairs;
    const EditMesh linked(mesh);
    for (const auto& [u, v] : twins)
        for (const Index a : linked.trianglesOf(u))
            for (const Index b : linked.trianglesOf(v))
                pairs.emplace_back(a, b);
    return pairs;
}

/// Everything that is wrong with a rounded mesh, as pairs of triangles.
std::vector<TrianglePair> tangles(const Mesh& mesh)
{
    std::vector<TrianglePair> pairs = coincidences(mesh);
    const auto meeting = selfIntersections(mesh, mostPairs);
    pairs.insert(pairs.end(), meeting.begin(), meeting.end());
    return pairs;
}

/// Rounds of cancelling and splitting below: one can lay bare what the next has to do.
constexpr int mostSplits = 4;

/// The input as a manifold by index: sheets of no thickness are taken out, and solids that touch are given corners of
/// their own.
Result<Mesh> manifold(const Mesh& mesh)
{
    Mesh out = mesh;
    for (int round = 0;; ++round) {
        const Topology found = topologyOf(out);
        if (found.solid() && found.duplicateTriangles == 0)
            return out;
        if (found.openEdges != 0 || found.flippedEdges != 0 || round == mostSplits)
            return notManifold(found.somewhere);
        out = splitFans(withoutOppositePairs(out));
    }
}

/// One run: the mesh on its way, and what has become of it.
class Preparation {
public:
    Preparation(Mesh mesh, double limitMm, bool openSheets)
        : m_mesh(std::move(mesh)),
          m_grid(FloatGrid::of(bounds(m_mesh))),
          m_drift(m_mesh.points),
          m_limitMm(limitMm),
          m_openSheets(openSheets)
    {
    }

    Result<PrintReady> run()
    {
        const double volumeBefore = volume(m_mesh), areaBefore = area(m_mesh);
        standOnPlate(m_mesh, stepsMm(plateSteps));
        tidy(sliversOf(m_mesh, stepsMm(shortSteps)));
        snap();
        std::vector<TrianglePair> pairs = tangles(m_mesh);
        if (openSheets(pairs))
            pairs = tangles(m_mesh);
        if (const auto problem = mend(pairs))
            return *problem;
        if (m_mesh.empty())
            return Problem{Reason::NoVolume, "the solid is thinner than a file can hold", "", m_place, "Leave it out."};
        const double allowed = stepsMm(volumeSteps) * areaBefore + volumeShare * std::fabs(volumeBefore);
        for (Index v = 0; v < m_mesh.points.size(); ++v)
            m_out.movedMm = std::max(m_out.movedMm, m_drift.at(v, m_mesh.points[v]));
        if (m_out.movedMm > m_limitMm)
            return movedTooFar(m_out.movedMm, m_limitMm);
        if (std::fabs(volume(m_mesh) - volumeBefore) > allowed)
            return tangled(bounds(m_mesh).centre());
        m_out.mesh = std::move(m_mesh);
        return std::move(m_out);
    }

private:
    double stepsMm(double steps) const { return steps * m_grid.largestStep(); }

    /// Closes short edges and turns slivers in full precision, so that rounding finds little to fold.
    void tidy(const std::vector<Index>& suspects)
    {
        if (suspects.empty())
            return;
        m_place = placeOf(m_mesh.corner(suspects.front(), 0));
        EditMesh edit(std::move(m_mesh));
        const double shortMm = stepsMm(shortSteps);
        m_out.collapsed += dropFoils(edit, suspects, stepsMm(foilSteps));
        std::vector<TrianglePair> alone;
        for (const Index t : suspects)
            alone.emplace_back(t, t);
        if (m_openSheets)
            m_out.untangled += openThinSheets(edit, m_drift, alone, {shortMm, stepsMm(sheetSteps)});
        m_out.collapsed += tidyEdges(edit, m_drift, suspects, {shortMm, shortMm, m_limitMm});
        take(edit);
    }

    void snap()
    {
        for (Vec3& p : m_mesh.points)
            p = m_grid.snapped(p);
    }

    /// The same once more for sheets whose rims had been closed before they came here. False when there are none.
    bool openSheets(const std::vector<TrianglePair>& pairs)
    {
        if (!m_openSheets || pairs.empty() || pairs.size() >= mostPairs)
            return false;
        EditMesh edit(m_mesh);
        Drift drift = m_drift;
        const std::size_t moved = openThinSheets(edit, drift, pairs, {stepsMm(shortSteps), stepsMm(sheetSteps)});
        if (moved == 0)
            return false;
        m_out.untangled += moved;
        m_drift = std::move(drift);
        take(edit);
        snap();
        return true;
    }

    std::optional<Problem> mend(const std::vector<TrianglePair>& pairs)
    {
        if (pairs.empty())
            return std::nullopt;
        m_place = placeOf(m_mesh.corner(pairs.front().first, 0));
        if (pairs.size() >= mostPairs)
            return tangled(m_mesh.corner(pairs.front().first, 0));
        EditMesh edit(std::move(m_mesh));
        std::vector<Index> suspects;
        for (const TrianglePair& pair : pairs)
            suspects.insert(suspects.end(), {pair.first, pair.second});
        m_out.collapsed += dropFoils(edit, suspects, stepsMm(foilSteps));
        const Untangled untangled = untangle(edit, m_drift, pairs, {m_grid, m_limitMm});
        m_out.untangled += untangled.mended;
        if (!untangled.clean)
            return tangled(untangled.somewhere);
        take(edit);
        return std::nullopt;
    }

    void take(const EditMesh& edit)
    {
        m_drift = m_drift.of(edit.vertices());
        m_mesh = edit.mesh();
    }

    Mesh m_mesh;
    FloatGrid m_grid;
    Drift m_drift;
    double m_limitMm;
    bool m_openSheets;
    PrintReady m_out;
    std::string m_place; ///< of the first suspect, for messages
};

} // namespace

Result<PrintReady> printReady(const Mesh& mesh, double limitMm)
{
    auto sound = manifold(mesh);
    if (!sound)
        return sound.problem();
    auto ready = Preparation(*sound, limitMm, true).run();
    if (ready || ready.problem().reason != Reason::SelfIntersecting)
        return ready;
    // A sheet that crosses itself even in full precision is better closed up than opened.
    auto closed = Preparation(std::move(*sound), limitMm, false).run();
    return closed ? closed : ready;
}

} // namespace quoin::mesh
