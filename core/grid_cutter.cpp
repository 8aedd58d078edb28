// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/grid_cutter.h"

#include "core/clear_places.h"
#include "core/section_score.h"
#include "mesh/hull.h"
#include "mesh/mass.h"
#include "mesh/plane_cut.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::core {

using mesh::Mesh;
using mesh::Plane;
using mesh::Vec3;

namespace {

/// A part that still doesn't fit after so many halvings will not fit after more.
constexpr int mostHalvings = 16;

/// A plane is moved from its even place by at most this share of a cell, to one of so many places.
constexpr double mostShift = 0.3;
constexpr int placesASide = 3;

/// Another place is taken for its area alone only when the face is smaller than this share.
constexpr double worthMoving = 0.9;

/// A part in which marked places block all wanted cuts is cut anywhere between these shares of its length instead, so
/// that they come apart; that counts as so many halvings.
constexpr double asideFrom = 0.1, asideTo = 0.9;
constexpr int asideHalvings = 4;

double along(Vec3 v, int axis)
{
    return v[axis];
}

/// A run of cells along one axis: from, to in the frame, so many cells, the longest that one may be.
struct Run {
    int axis;
    double from, to;
    int cells;
    double longest;

    double even(int below) const { return from + (to - from) * below / cells; }
};

/// The cut that divides a run: cells on its two sides, and how far it may be moved.
struct RunCut {
    int below, above;
    double at, low, high;
};

class Cutting {
public:
    Cutting(const GridWay& way, const GridJob& job) : m_way(way), m_job(job), m_within(job.within) {}

    Result<CutTree> leaf(const Mesh& mesh, const SolidCloud& cloud, const std::optional<CellCounts>& wanted,
                         int halvings);

private:
    Result<CutTree> divided(const Mesh& mesh, const SolidCloud& cloud, const CellCounts& counts,
                            std::optional<LeafFit> fit, int halvings);
    Result<CutTree> run(const Mesh& mesh, const SolidCloud& cloud, const Run& run, int halvings);
    Result<CutTree> halved(const Mesh& mesh, const SolidCloud& cloud, std::optional<LeafFit> fit, int halvings);
    Result<std::optional<CutTree>> fewer(const Mesh& mesh, const Run& run);
    template <class Side>
    Result<CutTree> split(const Mesh& mesh, const SolidCloud& cloud, const Plane& plane, Side&& side);
    Result<RunCut> middleCut(const Run& run) const;
    double bestPlace(const Mesh& mesh, int axis, const RunCut& cut, double cell) const;
    std::optional<double> clearOf(int axis, double wanted, OffsetRange within) const;
    bool clear(const Plane& plane) const;
    Problem inTheWay(int axis, double from, double to, double longest) const;
    std::optional<LeafFit> tried(const LeafBodies& bodies, const SolidCloud* cloud) const;
    std::optional<CutTree> whole(const Mesh& mesh, const SolidCloud* cloud);
    std::optional<Problem> stopped() const;
    Plane planeAt(int axis, double offset) const { return {m_way.frame.axes[static_cast<std::size_t>(axis)], offset}; }

    const GridWay& m_way;
    const GridJob& m_job;
    std::vector<HalfSpace> m_within; ///< the cell being cut; kept only when there are marked places
    int m_pieces = 0;
};

std::optional<Problem> Cutting::stopped() const
{
    const bool late = m_job.deadline && std::chrono::steady_clock::now() > *m_job.deadline;
    if (m_job.context.cancelled() || late || m_pieces > m_job.mostPieces)
        return Problem{Reason::Cancelled, "cancelled while looking for cuts", {}, {}, {}};
    return std::nullopt;
}

/// Fits the bodies of a part; nullopt when a single body is plainly too large by its sides or by the hull of its cloud.
std::optional<LeafFit> Cutting::tried(const LeafBodies& bodies, const SolidCloud* cloud) const
{
    if (bodies.size() == 1) {
        const Vec3 e = boundsIn(m_way.frame, bodies[0].points).extents();
        if (clearlyTooLarge({std::max({e.x, e.y, e.z}), 0, 0, 0}, m_job.beds, m_job.fit.marginMm))
            return std::nullopt;
        if (cloud != nullptr &&
            clearlyTooLarge(measuresOf(mesh::innerHull(cloud->points())), m_job.beds, m_job.fit.marginMm))
            return std::nullopt;
    }
    return fitLeaf(bodies, m_job.beds, m_job.fit);
}

/// A part as one leaf, if all of it fits.
std::optional<CutTree> Cutting::whole(const Mesh& mesh, const SolidCloud* cloud)
{
    const auto fit = tried(LeafBodies(mesh, m_job.islandsApart), cloud);
    if (!fit || !fit->fits())
        return std::nullopt;
    m_pieces += fit->pieces;
    return leafOf(mesh, *fit);
}

/// Cuts, and hands each side to `side`; an empty side makes no cut.
template <class Side>
Result<CutTree> Cutting::split(const Mesh& mesh, const SolidCloud& cloud, const Plane& plane, Side&& side)
{
    mesh::CutOptions options;
    options.withLabels = false;
    auto halves = mesh::cutByPlane(mesh, plane, options);
    if (!halves)
        return halves.problem();
    if (halves->below.empty() || halves->above.empty())
        return side(mesh, cloud, halves->below.empty());
    CutTree tree;
    tree.plane = plane;
    for (std::size_t t = halves->belowCap; t < halves->below.triangles.size(); ++t)
        tree.areaMm2 += mesh::triangleArea(halves->below, t);
    if (tree.areaMm2 > 0)
        if (const auto section = mesh::sectionByPlane(mesh, plane))
            tree.withoutRoom = scoreOf(*section).withoutRoom;
    for (const bool above : {false, true}) {
        Mesh half = std::move(above ? halves->above : halves->below);
        if (m_job.keepClear)
            m_within.push_back({plane, above});
        auto child = side(half, cloud.side(plane, above), above);
        if (m_job.keepClear)
            m_within.pop_back();
        if (!child)
            return child;
        tree.pieces += child->pieces;
        tree.withoutRoom += child->withoutRoom;
        tree.areaMm2 += child->areaMm2;
        (above ? tree.above : tree.below) = std::make_unique<CutTree>(std::move(*child));
    }
    return tree;
}

Result<CutTree> Cutting::leaf(const Mesh& mesh, const SolidCloud& cloud, const std::optional<CellCounts>& wanted,
                              int halvings)
{
    if (auto problem = stopped())
        return *problem;
    std::optional<LeafFit> fit;
    if (!wanted) {
        const LeafBodies bodies(mesh, m_job.islandsApart);
        fit = tried(bodies, &cloud);
        if (fit && fit->fits()) {
            m_pieces += fit->pieces;
            return leafOf(mesh, *fit);
        }
        const auto plane = partingPlane(m_job.islandsApart ? bodies : LeafBodies(mesh, true), m_way.frame);
        if (plane && clear(*plane))
            return split(mesh, cloud, *plane, [&](const Mesh& half, const SolidCloud& part, bool) {
                return leaf(half, part, std::nullopt, halvings);
            });
    }
    // Boxes turned freely take long to try: the whole was divided with them in mind, its parts are not.
    const FitOptions onFaces{m_job.fit.marginMm, false};
    const Vec3 extents = boundsIn(m_way.frame, mesh.points).extents();
    const auto counts = wanted ? wanted : fewestCells(m_way.frame, extents, cloud, m_job.beds, onFaces);
    if (!counts || *counts == CellCounts{1, 1, 1})
        return halved(mesh, cloud, fit, halvings);
    return divided(mesh, cloud, *counts, std::move(fit), halvings);
}

/// Divides along the first axis of the order that wants dividing; where marked places block that one, along the next;
/// where they block all, anywhere, so that the parts may do better.
Result<CutTree> Cutting::divided(const Mesh& mesh, const SolidCloud& cloud, const CellCounts& counts,
                                 std::optional<LeafFit> fit, int halvings)
{
    const mesh::Box3 box = boundsIn(m_way.frame, mesh.points);
    const Vec3 cell{box.extents().x / counts[0], box.extents().y / counts[1], box.extents().z / counts[2]};
    const bool oneWay = std::count_if(counts.begin(), counts.end(), [](int n) { return n > 1; }) == 1;
    std::optional<Problem> blocked;
    for (const int axis : m_way.order) {
        const int cells = counts[static_cast<std::size_t>(axis)];
        if (cells < 2)
            continue;
        const Run all{axis, along(box.min, axis), along(box.max, axis), cells,
                      longestCellMm(cell, axis, along(cell, axis), m_job.beds, m_job.fit.marginMm)};
        if (oneWay) {
            auto better = fewer(mesh, all);
            if (!better)
                return better.problem();
            if (*better)
                return std::move(**better);
        }
        if (const auto cut = middleCut(all); !cut)
            blocked = cut.problem();
        else
            return run(mesh, cloud, all, halvings);
    }
    if (halvings + asideHalvings > mostHalvings)
        return *blocked;
    return halved(mesh, cloud, std::move(fit), halvings + asideHalvings);
}

/// Tries with fewer cells than boxes would need, as long as every cell fits in one go: the shape may allow it.
Result<std::optional<CutTree>> Cutting::fewer(const Mesh& mesh, const Run& all)
{
    std::optional<CutTree> best;
    const auto cells = [&](const auto& self, const Mesh& part, const Run& r) -> Result<std::optional<CutTree>> {
        if (auto problem = stopped())
            return *problem;
        if (r.cells == 1)
            return whole(part, nullptr);
        // The first cell alone first: when it doesn't fit, no time is lost with the others.
        bool failed = false;
        const auto place = clearOf(r.axis, r.even(1), {r.from, r.to});
        if (!place)
            return std::optional<CutTree>{};
        const double at = *place;
        auto tree = split(part, SolidCloud::none(), planeAt(r.axis, at),
                          [&](const Mesh& half, const SolidCloud&, bool above) -> Result<CutTree> {
                              if (failed)
                                  return CutTree{};
                              auto child =
                                  self(self, half,
                                       above ? Run{r.axis, at, r.to, r.cells - 1, 0} : Run{r.axis, r.from, at, 1, 0});
                              if (!child)
                                  return child.problem();
                              failed = failed || !*child;
                              return *child ? std::move(**child) : CutTree{};
                          });
        if (!tree)
            return tree.problem();
        return failed ? std::nullopt : std::optional(std::move(*tree));
    };
    for (Run r = all; r.cells > 2;) {
        --r.cells;
        const int before = m_pieces;
        auto tree = cells(cells, mesh, r);
        m_pieces = before;
        if (!tree)
            return tree.problem();
        if (!*tree)
            break;
        best = std::move(*tree);
    }
    if (best)
        m_pieces += best->pieces;
    return best;
}

Result<CutTree> Cutting::run(const Mesh& mesh, const SolidCloud& cloud, const Run& r, int halvings)
{
    if (r.cells == 1)
        return leaf(mesh, cloud, std::nullopt, halvings);
    if (auto problem = stopped())
        return *problem;
    const auto cut = middleCut(r);
    if (!cut)
        return cut.problem();
    const double at = m_way.choosePlaces ? bestPlace(mesh, r.axis, *cut, (r.to - r.from) / r.cells) : cut->at;
    return split(mesh, cloud, planeAt(r.axis, at),
                 [&](const Mesh& half, const SolidCloud& part, bool above) -> Result<CutTree> {
                     const Run rest = above ? Run{r.axis, at, r.to, cut->above, r.longest}
                                            : Run{r.axis, r.from, at, cut->below, r.longest};
                     // Cells that fit together stay together.
                     if (rest.cells > 1)
                         if (auto one = whole(half, &part))
                             return std::move(*one);
                     return run(half, part, rest, halvings);
                 });
}

/// The middle cut of an even division; with marked places, of the one that keeps clear of them.
Result<RunCut> Cutting::middleCut(const Run& r) const
{
    if (!m_job.keepClear) {
        const int below = r.cells / 2;
        return RunCut{below, r.cells - below, r.even(below), r.to - (r.cells - below) * r.longest,
                      r.from + below * r.longest};
    }
    const auto free = m_job.keepClear->freeOffsets(planeAt(r.axis, 0).normal, r.from, r.to, m_within);
    const auto places = clearPlaces(r.from, r.to, r.cells, r.longest, free);
    if (!places || places->empty())
        return inTheWay(r.axis, r.from, r.to, r.longest);
    const int cells = static_cast<int>(places->size()) + 1, below = cells / 2;
    const ClearPlace& place = (*places)[static_cast<std::size_t>(below) - 1];
    return RunCut{below, cells - below, place.at, place.low, place.high};
}

Problem Cutting::inTheWay(int axis, double from, double to, double longest) const
{
    const Vec3 n = planeAt(axis, 0).normal;
    const OffsetRange blocked = longestBlocked(from, to, m_job.keepClear->freeOffsets(n, from, to, m_within));
    const auto place = m_job.keepClear->crossing({n, (blocked.from + blocked.to) / 2}, m_within);
    return Problem{Reason::DoesNotFit,
                   fmt::format("marked places leave no gap for a cut over {:.1f} mm along ({:.2f}, {:.2f}, {:.2f}), "
                               "where a piece may be {:.1f} mm long",
                               blocked.to - blocked.from, n.x, n.y, n.z, longest),
                   {},
                   place ? fmt::format("({:.1f}, {:.1f}, {:.1f}) mm", place->x, place->y, place->z) : "",
                   {}};
}

/// The wanted offset, or the nearest one that keeps clear of marked places; nullopt when there is none.
std::optional<double> Cutting::clearOf(int axis, double wanted, OffsetRange within) const
{
    if (!m_job.keepClear)
        return wanted;
    return nearestFree(wanted, within,
                       m_job.keepClear->freeOffsets(planeAt(axis, 0).normal, within.from, within.to, m_within));
}

bool Cutting::clear(const Plane& plane) const
{
    return !m_job.keepClear || !m_job.keepClear->crossedBy(plane, m_within);
}

/// The place for a plane within its slack: fewer islands, more room for joints, clearly less area; else the even one.
double Cutting::bestPlace(const Mesh& mesh, int axis, const RunCut& cut, double cell) const
{
    const double even = cut.at;
    const double low = std::max(cut.low, even - mostShift * cell);
    const double high = std::min(cut.high, even + mostShift * cell);
    const auto section = mesh::sectionByPlane(mesh, planeAt(axis, even));
    double best = even;
    std::optional<SectionScore> least;
    if (section)
        least = scoreOf(*section);
    for (const double end : {low, high})
        for (int i = 1; i <= placesASide && (end - even) * (end == low ? -1 : 1) > 0; ++i) {
            const double at = even + (end - even) * i / placesASide;
            if (!clear(planeAt(axis, at)))
                continue;
            const auto other = mesh::sectionByPlane(mesh, planeAt(axis, at));
            if (!other)
                continue;
            SectionScore score = scoreOf(*other);
            score.areaMm2 /= worthMoving;
            if (!least || score < *least) {
                score.areaMm2 *= worthMoving;
                least = score;
                best = at;
            }
        }
    return best;
}

Result<CutTree> Cutting::halved(const Mesh& mesh, const SolidCloud& cloud, std::optional<LeafFit> fit, int halvings)
{
    if (!fit || halvings == mostHalvings)
        fit = fitLeaf(LeafBodies(mesh, m_job.islandsApart), m_job.beds, m_job.fit, halvings == mostHalvings);
    if (fit->fits()) {
        m_pieces += fit->pieces;
        return leafOf(mesh, *fit);
    }
    if (halvings == mostHalvings)
        return doesNotFit(fit->misfits.front(), m_job.fit);
    const mesh::Box3 box = boundsIn(m_way.frame, fit->misfits.front().outline);
    const Vec3 e = box.extents();
    std::array<int, 3> axes{0, 1, 2};
    std::stable_sort(axes.begin(), axes.end(), [&](int a, int b) { return e[a] > e[b]; });
    for (const int axis : axes) {
        const double from = along(box.min, axis), to = along(box.max, axis), middle = from + (to - from) / 2;
        const auto place = clearOf(axis, middle, {from + asideFrom * (to - from), from + asideTo * (to - from)});
        if (!place)
            continue;
        const RunCut cut{1, 1, *place, from, to};
        const double at = m_way.choosePlaces ? bestPlace(mesh, axis, cut, (to - from) / 2) : *place;
        return split(mesh, cloud, planeAt(axis, at), [&](const Mesh& half, const SolidCloud& part, bool) {
            return leaf(half, part, std::nullopt, halvings + 1);
        });
    }
    return inTheWay(axes[0], along(box.min, axes[0]), along(box.max, axes[0]), 0);
}

} // namespace

std::optional<Plane> partingPlane(const LeafBodies& bodies, const GridFrame& frame)
{
    if (bodies.size() < 2)
        return std::nullopt;
    std::vector<mesh::Box3> boxes;
    mesh::Box3 all;
    for (std::size_t i = 0; i < bodies.size(); ++i) {
        boxes.push_back(boundsIn(frame, bodies[i].points));
        all.add(boxes.back().min);
        all.add(boxes.back().max);
    }
    std::optional<Plane> best;
    double nearest = 1e300;
    for (int axis = 0; axis < 3; ++axis) {
        std::vector<std::pair<double, double>> spans;
        for (const mesh::Box3& box : boxes)
            spans.emplace_back(along(box.min, axis), along(box.max, axis));
        std::sort(spans.begin(), spans.end());
        double reached = spans.front().second;
        for (const auto& [from, to] : spans) {
            const double middle = (reached + from) / 2, off = std::abs(middle - along(all.centre(), axis));
            if (from > reached && off < nearest) {
                nearest = off;
                best = Plane{frame.axes[static_cast<std::size_t>(axis)], middle};
            }
            reached = std::max(reached, to);
        }
    }
    return best;
}

Result<CutTree> cutByGrid(const Mesh& leaf, const SolidCloud& cloud, const GridWay& way, const GridJob& job)
{
    return Cutting(way, job).leaf(leaf, cloud, way.counts, 0);
}

std::optional<CellCounts> fewestCells(const GridFrame& frame, Vec3 extentsMm, const SolidCloud& cloud,
                                      const std::vector<Bed>& beds, const FitOptions& fit)
{
    std::optional<CellCounts> best;
    std::array<double, 3> least{};
    for (const CellCounts& n : leastCellCounts(extentsMm, beds, fit)) {
        const Vec3 e = extentsMm;
        const double cells = static_cast<double>(n[0]) * n[1] * n[2];
        const double area = (n[0] - 1) * e.y * e.z + (n[1] - 1) * e.x * e.z + (n[2] - 1) * e.x * e.y;
        const std::array<double, 3> score{static_cast<double>(cloud.cellsHeld(frame, n)), cells, area};
        if (!best || score < least) {
            best = n;
            least = score;
        }
    }
    return best;
}

} // namespace quoin::core
