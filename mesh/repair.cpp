// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/repair.h"

#include "mesh/distance.h"
#include "mesh/health.h"
#include "mesh/mass.h"
#include "mesh/part_touching.h"
#include "mesh/place.h"
#include "mesh/repair_holes.h"
#include "mesh/repair_soup.h"
#include "mesh/self_intersection.h"
#include "mesh/shells.h"
#include "mesh/tolerance.h"
#include "mesh/topology.h"
#include "mesh/winding_surface.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace quoin::mesh {

namespace {

/// Default weld tolerance, as a share of the diagonal.
constexpr double weldShare = 1e-6;

/// How far touching places are pulled apart: a share of the diagonal, and enough steps of a 32-bit float at the largest
/// coordinate to survive an STL file.
constexpr double pullShare = 1e-5;
constexpr double pullFloatSteps = 16;

/// Uniting rounds its new points, which may tangle slivers anew. It is tried again, each time joining new points that
/// are nearer than this share of the diagonal, and given up after the last.
constexpr std::array snapShares{1e-11, 1e-10, 1e-9, 1e-8, 1e-7, 1e-7, 1e-6, 1e-6};

/// Rounds of uniting and parting.
constexpr int mostRounds = 5;

/// A model with more pairs of triangles through each other than this isn't worth the wait.
constexpr std::size_t mostPairs = 2'000'000;

/// A repaired model may reach less far than before by this share of the diagonal, and may leave out at most this share
/// of its volume as inside out.
constexpr double lostReachShare = 1e-3;
constexpr double lostVolumeShare = 0.05;

/// Less than this share of the volume may reach farther and still be left out, with a word about it: sharp tips that a
/// coarse model has turned over.
constexpr double trifleShare = 1e-4;

/// Points that the movement of the surface is measured at, on each surface.
constexpr std::size_t movementSamples = 4000;

Problem refusal(std::string what, std::string place, std::string remedy = "Mend it in the program it comes from.")
{
    return {Reason::NotRepairable, std::move(what), "", std::move(place), std::move(remedy)};
}

double largestCoordinate(const Box3& box)
{
    double most = 0;
    for (int axis = 0; axis < 3; ++axis)
        most = std::max({most, std::abs(box.min[axis]), std::abs(box.max[axis])});
    return most;
}

/// Bounds of the triangles in the list that belong to bodies, not to cavities.
Box3 reachOfBodies(const Mesh& mesh, const std::vector<Index>& triangles)
{
    const Parts parts = connectedParts(mesh);
    const Shells shells = shellsOf(mesh, parts);
    Box3 reach;
    for (const Index t : triangles)
        if (shells.shell[parts.partOf[t]].volumeMm3 > 0)
            for (int k = 0; k < 3; ++k)
                reach.add(mesh.corner(t, k));
    return reach;
}

/// One repair on its way: the mesh as far as it got, and what was done.
class Work {
public:
    Work(const Mesh& mesh, const RepairOptions& options, const Context& context)
        : m_mesh(mesh),
          m_options(options),
          m_context(context),
          m_diagonalMm(length(bounds(mesh).extents())),
          m_start(mesh.corner(0, 0))
    {
    }

    std::optional<Problem> run();
    Mesh takeMesh() { return std::move(m_mesh); }
    std::vector<std::string> takeChanges() { return std::move(m_changes); }

private:
    void weld();
    std::optional<Problem> close();
    void turn();
    std::optional<Problem> unite();
    std::optional<Problem> part(const Topology& t);
    std::optional<Problem> checkReach(const WindingSurface& skin);
    bool tangled() const;
    std::optional<Problem> cancelled(double fraction, const char* stage) const
    {
        m_context.report(fraction, stage);
        if (m_context.cancelled())
            return Problem{Reason::Cancelled, "the repair was cancelled", "", "", ""};
        return std::nullopt;
    }
    void say(std::string change) { m_changes.push_back(std::move(change)); }

    Mesh m_mesh;
    const RepairOptions& m_options;
    const Context& m_context;
    double m_diagonalMm;
    Vec3 m_start; ///< a corner of the model as it came
    std::vector<std::string> m_changes;
};

void Work::weld()
{
    const std::size_t points = m_mesh.points.size(), triangles = m_mesh.triangles.size();
    m_mesh = welded(m_mesh);
    if (m_mesh.points.size() < points)
        say("joined or dropped " + counted(points - m_mesh.points.size(), "point"));
    if (m_mesh.triangles.size() < triangles)
        say("dropped " + counted(triangles - m_mesh.triangles.size(), "triangle") + " with two equal corners");
    if (topologyOf(m_mesh).openEdges == 0)
        return;
    const double most = weldShare * m_diagonalMm;
    const double tolerance = m_options.weldMm > 0 ? m_options.weldMm : most;
    if (const std::size_t joined = joinNearRims(m_mesh, tolerance); joined != 0)
        say(fmt::format("joined {} on open edges that were within {:.2g} mm", counted(joined, "point"), tolerance));
}

std::optional<Problem> Work::close()
{
    // Doubled triangles may be what balances an edge: then the union sorts them out.
    const bool wasBalanced = balanced(m_mesh);
    Mesh single = m_mesh;
    if (const std::size_t n = dropDuplicates(single); n != 0 && (!wasBalanced || balanced(single))) {
        m_mesh = std::move(single);
        say("dropped " + counted(n, "duplicate triangle"));
    }
    if (balanced(m_mesh))
        return std::nullopt;
    double sheetArea = 0;
    if (const std::size_t n = dropSheets(m_mesh, sheetArea); n != 0)
        say(fmt::format("dropped inner walls or fins: {}, {:.3g} mm2", counted(n, "triangle"), sheetArea));
    if (!balanced(m_mesh)) {
        const Result<std::size_t> turned = orientAlike(m_mesh);
        if (!turned)
            return refusal(turned.problem().what, turned.problem().place);
        if (*turned != 0)
            say("turned " + counted(*turned, "triangle") + " to agree with their neighbours");
    }
    if (const Topology t = topologyOf(m_mesh); t.openEdges != 0) {
        const Result<HoleFilling> filled = fillHoles(m_mesh, m_options.largestHoleShare * m_diagonalMm);
        if (!filled)
            return filled.problem();
        say(fmt::format("filled {} with {}, {:.3g} mm2, longest rim {:.3g} mm", counted(filled->holes, "hole"),
                        counted(filled->triangles, "triangle"), filled->areaMm2, filled->longestRimMm));
    }
    double looseArea = 0;
    if (const std::size_t n = dropFlatParts(m_mesh, looseArea); n != 0)
        say(fmt::format("dropped {} that enclosed nothing, {:.3g} mm2", counted(n, "loose sheet"), looseArea));
    if (const std::optional<Vec3> place = unbalancedPlace(m_mesh))
        return refusal("triangles meet in an edge so that inside and outside can't be told", placeText(*place));
    return std::nullopt;
}

void Work::turn()
{
    if (const std::size_t n = turnOutwards(m_mesh); n != 0)
        say("turned " + counted(n, "shell") + " that " + (n == 1 ? "was" : "were") + " inside out");
    const std::vector<char> thin = backToBack(m_mesh);
    double thinArea = 0;
    for (std::size_t i = 0; i < thin.size(); ++i)
        thinArea += thin[i] != 0 ? triangleArea(m_mesh, i) : 0;
    if (const auto n = static_cast<std::size_t>(std::count(thin.begin(), thin.end(), 1)); n != 0)
        say(fmt::format("left out {} lying back to back, {:.3g} mm2", counted(n, "triangle"), thinArea));
}

/// Whether anything overlaps, lies in another's material or has no area.
bool Work::tangled() const
{
    const Topology t = topologyOf(m_mesh);
    if (t.degenerateTriangles != 0 || !selfIntersections(m_mesh, 1).empty())
        return true;
    const Health h = healthOf(m_mesh, {.selfIntersections = false, .wallSamples = 0});
    return std::any_of(h.bodies.begin(), h.bodies.end(), [](const BodyHealth& b) { return b.inMaterial; });
}

std::optional<Problem> Work::unite()
{
    double twice = 0, turned = 0;
    std::size_t first = 0, unions = 0;
    for (; unions < snapShares.size() && tangled(); ++unions) {
        const double share = static_cast<double>(unions) / snapShares.size();
        if (auto stop = cancelled(0.5 + 0.3 * share, "uniting what overlaps"))
            return stop;
        const auto pairs = selfIntersections(m_mesh, mostPairs);
        if (pairs.size() >= mostPairs)
            return refusal("millions of triangles cut each other", placeText(m_mesh.corner(pairs.front().first, 0)));
        WindingSurface skin = windingSurface(m_mesh, pairs, snapShares[unions] * m_diagonalMm);
        if (unions == 0) {
            twice = skin.twiceMm3;
            turned = skin.turnedMm3;
            first = pairs.size();
        }
        if (skin.mesh.empty())
            return refusal("the surface encloses no volume", placeText(m_mesh.corner(0, 0)));
        if (auto problem = checkReach(skin))
            return problem;
        m_mesh = std::move(skin.mesh);
    }
    if (unions == 0)
        return std::nullopt;
    const double volumeMm3 = volume(m_mesh), negligible = tolerance::cutVolumeRelative * volumeMm3;
    const std::string pairs = counted(first, "pair of triangles", "pairs of triangles");
    say(twice > negligible
            ? fmt::format("united what overlapped ({}): {:.6g} mm3 were enclosed more than once", pairs, twice)
            : fmt::format("resolved where the surface touched or cut itself ({})", pairs));
    if (turned > lostVolumeShare * volumeMm3)
        return refusal(
            fmt::format("{:.3g} mm3 of it are inside out against {:.3g} mm3 that are not", turned, volumeMm3),
            placeText(m_mesh.corner(0, 0)));
    if (turned > negligible)
        say(fmt::format("left out {:.6g} mm3 that were inside out", turned));
    return std::nullopt;
}

std::optional<Problem> Work::part(const Topology& t)
{
    const double step = std::max(pullShare * m_diagonalMm,
                                 pullFloatSteps * 2 * tolerance::floatRelative * largestCoordinate(bounds(m_mesh)));
    const PartedTouching parted = partTouching(m_mesh, step);
    if (parted.stuck != 0)
        return refusal("the surface touches itself at " + counted(parted.stuck, "point") +
                           " and can't be pulled apart there",
                       placeText(t.nonManifoldEdges != 0 ? t.nonManifoldEdgeAt : t.nonManifoldVertexAt));
    say(fmt::format("parted the surface at {} where it touched itself, pulling it {:.2g} mm apart",
                    counted(parted.points, "point"), 2 * parted.movedMm));
    return std::nullopt;
}

/// What is left out as inside out may not be what made the model reach so far.
std::optional<Problem> Work::checkReach(const WindingSurface& skin)
{
    if (skin.turned.empty())
        return std::nullopt;
    const Box3 lost = reachOfBodies(m_mesh, skin.turned), now = bounds(skin.mesh);
    const double slack = lostReachShare * m_diagonalMm;
    for (int axis = 0; axis < 3; ++axis) {
        const bool below = lost.min[axis] < now.min[axis] - slack;
        if (!below && !(lost.max[axis] > now.max[axis] + slack))
            continue;
        const std::string reach =
            fmt::format("it reached to {:.3f} mm along {}, the rest to {:.3f} mm",
                        below ? lost.min[axis] : lost.max[axis], "xyz"[axis], below ? now.min[axis] : now.max[axis]);
        if (skin.turnedMm3 > trifleShare * volume(skin.mesh))
            return refusal("a part of the model that is inside out would be lost: " + reach,
                           placeText(below ? lost.min : lost.max));
        say(fmt::format("left out a tip of at most {:.3g} mm3 that was inside out: {}", skin.turnedMm3, reach));
    }
    return std::nullopt;
}

std::optional<Problem> Work::run()
{
    if (auto stop = cancelled(0.1, "welding"))
        return stop;
    weld();
    if (auto stop = cancelled(0.2, "closing the surface"))
        return stop;
    if (auto problem = close())
        return problem;
    if (m_mesh.empty())
        return refusal("the surface encloses no volume", placeText(m_start));
    if (auto stop = cancelled(0.4, "turning the surface outwards"))
        return stop;
    turn();
    // Parting may push a pulled corner through a surface close by; then that is united in turn.
    for (int round = 0; round < mostRounds; ++round) {
        if (auto problem = unite())
            return problem;
        if (auto stop = cancelled(0.8, "parting what touches"))
            return stop;
        const Topology t = topologyOf(m_mesh);
        if (t.nonManifoldEdges == 0 && t.nonManifoldVertices == 0)
            break;
        if (auto problem = part(t))
            return problem;
    }
    return std::nullopt;
}

double surfaceMoved(const Mesh& a, const Mesh& b)
{
    double most = 0;
    const auto measure = [&](const Mesh& from, const Mesh& to) {
        const SurfaceTree tree(to);
        for (const SurfacePoint& s : sampledSurface(from, movementSamples, 1))
            most = std::max(most, tree.distance(s.point));
    };
    measure(a, b);
    measure(b, a);
    return most;
}

} // namespace

Result<Repaired> repaired(const Mesh& mesh, const RepairOptions& options, const Context& context)
{
    if (mesh.empty())
        return refusal("the model has no triangles", "", "Export it again.");
    const HealthOptions quick{.selfIntersections = true, .wallSamples = 0};
    const Health before = healthOf(mesh, quick, context);
    if (before.notFinite != 0)
        return Problem{Reason::NumberNotFinite, counted(before.notFinite, "point") + " without a finite place", "", "",
                       "Export it again."};
    if (context.cancelled())
        return Problem{Reason::Cancelled, "the repair was cancelled", "", "", ""};
    RepairReport report{{}, before.volumeMm3, before.volumeMm3, before.areaMm2, before.areaMm2, 0};
    if (before.sound())
        return Repaired{mesh, std::move(report)};
    Work work(mesh, options, context);
    if (auto problem = work.run())
        return std::move(*problem);
    Repaired done{work.takeMesh(), std::move(report)};
    const Health after = healthOf(done.mesh, quick);
    if (const std::optional<Problem> why = whyNotSound(done.mesh, after))
        return refusal("it is still not sound after the repair: " + why->what, why->place);
    done.report.changes = work.takeChanges();
    done.report.volumeAfterMm3 = after.volumeMm3;
    done.report.areaAfterMm2 = after.areaMm2;
    done.report.surfaceMovedMm = surfaceMoved(mesh, done.mesh);
    context.report(1, "repaired");
    return done;
}

} // namespace quoin::mesh
