// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/grid_cutter.h"

#include "core/section_score.h"
#include "mesh/hull.h"
#include "mesh/mass.h"
#include "mesh/plane_cut.h"

#include <algorithm>
#include <bit>

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

class Cutting {
public:
    Cutting(const GridWay& way, const GridJob& job) : m_way(way), m_job(job) {}

    Result<CutTree> leaf(const Mesh& mesh, const SolidCloud& cloud, const std::optional<CellCounts>& wanted,
                         int halvings);

private:
    Result<CutTree> run(const Mesh& mesh, const SolidCloud& cloud, const Run& run, int halvings);
    Result<CutTree> halved(const Mesh& mesh, const SolidCloud& cloud, std::optional<LeafFit> fit, int halvings);
    Result<std::optional<CutTree>> fewer(const Mesh& mesh, const Run& run);
    template <class Side>
    Result<CutTree> split(const Mesh& mesh, const SolidCloud& cloud, const Plane& plane, Side&& side);
    double bestPlace(const Mesh& mesh, const Run& run, int below) const;
    std::optional<LeafFit> tried(const LeafBodies& bodies, const SolidCloud* cloud) const;
    std::optional<CutTree> whole(const Mesh& mesh, const SolidCloud* cloud);
    std::optional<Problem> stopped() const;
    Plane planeAt(int axis, double offset) const { return {m_way.frame.axes[static_cast<std::size_t>(axis)], offset}; }

    const GridWay& m_way;
    const GridJob& m_job;
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
        auto child = side(half, cloud.side(plane, above), above);
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
        if (const auto plane = partingPlane(m_job.islandsApart ? bodies : LeafBodies(mesh, true), m_way.frame))
            return split(mesh, cloud, *plane, [&](const Mesh& half, const SolidCloud& part, bool) {
                return leaf(half, part, std::nullopt, halvings);
            });
    }
    const mesh::Box3 box = boundsIn(m_way.frame, mesh.points);
    // Boxes turned freely take long to try: the whole was divided with them in mind, its parts are not.
    const FitOptions onFaces{m_job.fit.marginMm, false};
    const auto counts = wanted ? wanted : fewestCells(m_way.frame, box.extents(), cloud, m_job.beds, onFaces);
    if (!counts || *counts == CellCounts{1, 1, 1})
        return halved(mesh, cloud, fit, halvings);
    const auto wants = [&](int axis) { return (*counts)[static_cast<std::size_t>(axis)] > 1; };
    const int axis = *std::find_if(m_way.order.begin(), m_way.order.end(), wants);
    const Vec3 cell{box.extents().x / (*counts)[0], box.extents().y / (*counts)[1], box.extents().z / (*counts)[2]};
    const Run all{axis, along(box.min, axis), along(box.max, axis), (*counts)[static_cast<std::size_t>(axis)],
                  longestCellMm(cell, axis, along(cell, axis), m_job.beds, m_job.fit.marginMm)};
    if (std::count_if(counts->begin(), counts->end(), [](int n) { return n > 1; }) == 1) {
        auto better = fewer(mesh, all);
        if (!better)
            return better.problem();
        if (*better)
            return std::move(**better);
    }
    return run(mesh, cloud, all, halvings);
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
        const double at = r.even(1);
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
    const int below = r.cells / 2;
    const double at = m_way.choosePlaces ? bestPlace(mesh, r, below) : r.even(below);
    return split(mesh, cloud, planeAt(r.axis, at),
                 [&](const Mesh& half, const SolidCloud& part, bool above) -> Result<CutTree> {
                     const Run rest = above ? Run{r.axis, at, r.to, r.cells - below, r.longest}
                                            : Run{r.axis, r.from, at, below, r.longest};
                     // Cells that fit together stay together.
                     if (rest.cells > 1)
                         if (auto one = whole(half, &part))
                             return std::move(*one);
                     return run(half, part, rest, halvings);
                 });
}

/// The place for a plane within its slack: fewer islands, more room for joints, clearly less area; else the even one.
double Cutting::bestPlace(const Mesh& mesh, const Run& r, int below) const
{
    const double even = r.even(below), cell = (r.to - r.from) / r.cells;
    const double low = std::max({r.to - (r.cells - below) * r.longest, even - mostShift * cell});
    const double high = std::min({r.from + below * r.longest, even + mostShift * cell});
    const auto section = mesh::sectionByPlane(mesh, planeAt(r.axis, even));
    double best = even;
    std::optional<SectionScore> least;
    if (section)
        least = scoreOf(*section);
    for (const double end : {low, high})
        for (int i = 1; i <= placesASide && (end - even) * (end == low ? -1 : 1) > 0; ++i) {
            const double at = even + (end - even) * i / placesASide;
            const auto other = mesh::sectionByPlane(mesh, planeAt(r.axis, at));
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
    const int axis = e.x >= e.y && e.x >= e.z ? 0 : e.y >= e.z ? 1 : 2;
    const Run two{axis, along(box.min, axis), along(box.max, axis), 2, along(e, axis)};
    const double at = m_way.choosePlaces ? bestPlace(mesh, two, 1) : two.even(1);
    return split(mesh, cloud, planeAt(axis, at), [&](const Mesh& half, const SolidCloud& part, bool) {
        return leaf(half, part, std::nullopt, halvings + 1);
    });
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

CutTree leafOf(const Mesh& mesh, const LeafFit& fit)
{
    CutTree leaf;
    leaf.pieces = fit.pieces;
    leaf.sum = checksum(mesh);
    return leaf;
}

int appendTo(CutPlan& plan, const CutTree& tree)
{
    if (!tree.below)
        return -1;
    const std::size_t node = plan.nodes.size();
    plan.nodes.push_back({tree.plane, -1, -1});
    const int below = appendTo(plan, *tree.below);
    plan.nodes[node].below = below;
    const int above = appendTo(plan, *tree.above);
    plan.nodes[node].above = above;
    return static_cast<int>(node);
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

std::uint64_t checksum(const Mesh& mesh)
{
    std::uint64_t sum = 0xcbf29ce484222325ull;
    const auto add = [&](std::uint64_t word) { sum = (sum ^ word) * 0x100000001b3ull; };
    for (const Vec3 p : mesh.points)
        for (const double v : {p.x, p.y, p.z})
            add(std::bit_cast<std::uint64_t>(v));
    for (const mesh::Triangle& t : mesh.triangles)
        for (const mesh::Index v : t)
            add(v);
    return sum;
}

} // namespace quoin::core
