// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/branch_search.h"

#include "core/cut_judge.h"
#include "core/cut_polish.h"
#include "core/section_score.h"
#include "core/tidy_cut.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

namespace quoin::core {

using Clock = std::chrono::steady_clock;

namespace {

/// Triangles of the stand-in that cuts are looked for in.
constexpr std::size_t proxyTriangles = 8'000;

/// Parts with more triangles get their first grid in the stand-in.
constexpr std::size_t mostGridTriangles = 60'000;

/// Share of the time that better grids are looked for, before trees of planes.
constexpr double gridShare = 0.25;

/// When what was found in the stand-in doesn't fit on the mesh, it is searched again, so much smaller beds each time.
constexpr int mostRounds = 4;
constexpr double trustedLess = 1.6, leastErrorMm = 0.05;

/// Share of the time, after the grids, that is kept for polishing; rounds of it.
constexpr double polishShare = 0.35;
constexpr int mostPolishRounds = 4;

/// Two trees begin alike when their first planes differ by less than this (cosine, share of the size) and they have as
/// many pieces.
constexpr double alikeCosine = 0.97, alikeShare = 0.08;

bool better(const CutTree& a, const CutTree& b)
{
    return std::tie(a.pieces, a.withoutRoom, a.areaMm2) < std::tie(b.pieces, b.withoutRoom, b.areaMm2);
}

/// A tree that was looked for elsewhere as planes alone.
PlaneTreePtr planesOf(const CutTree& tree)
{
    auto out = std::make_shared<PlaneTree>();
    out->plane = tree.plane;
    out->pieces = tree.pieces;
    out->areaMm2 = tree.areaMm2;
    if (tree.below) {
        out->below = planesOf(*tree.below);
        out->above = planesOf(*tree.above);
    }
    return out;
}

/// The leaves are no longer those that were fitted.
void forgetSums(CutTree& tree)
{
    tree.sum = 0;
    if (!tree.below)
        return;
    forgetSums(*tree.below);
    forgetSums(*tree.above);
}

bool alike(const PlaneTree& a, const PlaneTree& b, double sizeMm)
{
    if (!a.below || !b.below)
        return !a.below && !b.below;
    const double cosine = dot(a.plane.normal, b.plane.normal);
    const double offset = cosine < 0 ? -b.plane.offset : b.plane.offset;
    return a.pieces == b.pieces && std::abs(cosine) > alikeCosine &&
           std::abs(a.plane.offset - offset) < alikeShare * sizeMm;
}

std::string wordsOf(int cuts)
{
    return fmt::format("{} planes, each where it saves most", cuts);
}

} // namespace

Result<CutTree> carriedOut(const mesh::Mesh& leaf, const PlaneTree& planes, const BranchSearch::Shared& shared)
{
    if (shared.context.cancelled())
        return Problem{Reason::Cancelled, "cancelled while looking for cuts", {}, {}, {}};
    if (!planes.below) {
        const LeafFit fit = fitLeaf(LeafBodies(leaf, shared.options.islandsApart), shared.beds, shared.options.fit);
        if (!fit.fits())
            return doesNotFit(fit.misfits.front(), shared.options.fit);
        return leafOf(leaf, fit);
    }
    auto halves = cutTidily(leaf, planes.plane, 1);
    if (!halves)
        return halves.problem();
    // A plane that only touches makes no cut: what is on its other side stays whole.
    if (halves->below.empty() || halves->above.empty())
        return carriedOut(leaf, halves->below.empty() ? *planes.above : *planes.below, shared);
    CutTree tree;
    tree.plane = planes.plane;
    if (const auto section = mesh::sectionByPlane(leaf, planes.plane)) {
        const SectionScore score = scoreOf(*section);
        tree.withoutRoom = score.withoutRoom;
        tree.areaMm2 = score.areaMm2;
    }
    for (const bool above : {false, true}) {
        auto side = carriedOut(above ? halves->above : halves->below, above ? *planes.above : *planes.below, shared);
        if (!side)
            return side.problem();
        tree.pieces += side->pieces;
        tree.withoutRoom += side->withoutRoom;
        tree.areaMm2 += side->areaMm2;
        (above ? tree.above : tree.below) = std::make_unique<CutTree>(std::move(*side));
        (above ? halves->above : halves->below) = {};
    }
    return tree;
}

BranchSearch::BranchSearch(mesh::Mesh leaf, std::vector<HalfSpace> within, int leastPieces, const Shared& shared,
                           std::vector<mesh::Vec3> directions)
    : m_leaf(std::move(leaf)),
      m_within(std::move(within)),
      m_leastPieces(leastPieces),
      m_shared(shared),
      m_directions(std::move(directions)),
      m_until(shared.deadline)
{
}

bool BranchSearch::late() const
{
    return m_shared.context.cancelled() || Clock::now() > m_until;
}

/// When a share of the time that is left will be over.
Clock::time_point BranchSearch::after(double shareOfRest) const
{
    if (m_shared.options.work > 0)
        return m_until;
    const auto now = Clock::now();
    return std::min(m_until, now + std::chrono::duration_cast<Clock::duration>(shareOfRest * (m_until - now)));
}

/// What a part of the work reports, as a part of the whole.
std::function<void(double)> BranchSearch::progressOver(double from, double share) const
{
    if (!onProgress)
        return {};
    return [this, from, share](double fraction) { onProgress(from + share * fraction); };
}

void BranchSearch::prepare(std::size_t mostTriangles)
{
    m_proxy = searchProxy(m_leaf, mostTriangles, m_shared.context);
    m_shrunk = shrunkBeds(m_shared.beds, m_proxy.errorMm);
    m_onProxy.emplace(Shared{m_shrunk, m_shared.options, m_shared.context, after(gridShare)});
    m_onMesh.emplace(Shared{m_shared.beds, m_shared.options, m_shared.context, after(gridShare)});
}

/// Takes a tree as the best if it is better.
bool BranchSearch::take(CutTree tree, std::string words)
{
    if (!m_ways.empty() && !better(tree, best()))
        return false;
    m_ways.assign(1, {std::make_shared<CutTree>(std::move(tree)), std::move(words), 0, false});
    return true;
}

/// Takes over what a grid search found, if it works on the mesh itself and is better.
bool BranchSearch::takeGrid(const GridSearch& grid)
{
    m_gridsTried = grid.tried();
    if (m_gridIsExact)
        return take(grid.best().copy(), grid.words());
    auto carried = carriedOut(m_leaf, *planesOf(grid.best()), m_shared);
    return carried && take(std::move(*carried), grid.words());
}

Status BranchSearch::firstGrid(const mesh::Mesh& mesh, bool exact, const Shared& shared)
{
    m_gridIsExact = exact;
    m_grid = std::make_unique<GridSearch>(mesh, m_within, m_leastPieces, shared);
    m_grid->onProgress = onProgress;
    return m_grid->first();
}

Status BranchSearch::first()
{
    prepare(proxyTriangles);
    const bool small = m_leaf.triangles.size() <= mostGridTriangles;
    if (!small && firstGrid(m_proxy.mesh, false, *m_onProxy)) {
        m_gridsTried = m_grid->tried();
        m_provisional = true;
        CutTree tree = m_grid->best().copy();
        forgetSums(tree);
        take(std::move(tree), m_grid->words());
        return Done{};
    }
    if (m_shared.context.cancelled())
        return Problem{Reason::Cancelled, "cancelled while looking for cuts", {}, {}, {}};
    if (const Status found = firstGrid(m_leaf, true, *m_onMesh); !found)
        return found;
    takeGrid(*m_grid);
    return Done{};
}

Status BranchSearch::firstOnMesh()
{
    m_ways.clear();
    m_provisional = false;
    if (const Status found = firstGrid(m_leaf, true, *m_onMesh); !found)
        return found;
    takeGrid(*m_grid);
    return Done{};
}

void BranchSearch::improve(Clock::time_point until, const std::function<void()>& onBetter)
{
    m_until = until;
    m_provisional = false;
    m_onProxy->deadline = m_onMesh->deadline = after(gridShare);
    m_grid->onProgress = progressOver(0, gridShare);
    const auto tell = [&] {
        if (onBetter)
            onBetter();
    };
    m_grid->improve([&] {
        if (takeGrid(*m_grid))
            tell();
    });
    if (!m_gridIsExact && !done())
        gridOnMesh(tell);
    if (!late())
        searchTrees(tell);
}

/// The grids once more in the mesh itself: on beds that are not made smaller one may fit exactly.
void BranchSearch::gridOnMesh(const std::function<void()>& onBetter)
{
    GridSearch grid(m_leaf, m_within, m_leastPieces, *m_onMesh);
    const auto found = [&] {
        m_gridsTried += 1;
        if (take(grid.best().copy(), grid.words()))
            onBetter();
    };
    if (!grid.first())
        return;
    found();
    grid.improve(found);
}

void BranchSearch::searchTrees(const std::function<void()>& onBetter)
{
    const SuggestOptions& o = m_shared.options;
    const bool marks = o.keepClear && !o.keepClear->empty();
    for (int round = 0; round < mostRounds && !late(); ++round) {
        const SearchLimits limits{m_shared.context, after(1 - polishShare), o.work};
        CutSearch search({m_proxy.mesh, m_within, m_shrunk, o.fit, o.islandsApart, marks ? o.keepClear : nullptr,
                          o.seed, m_directions},
                         limits);
        search.onProgress = progressOver(gridShare, 1 - gridShare);
        search.adopt(best());
        if (round == 0 && !m_gridIsExact)
            search.adopt(m_grid->best());
        bool allFit = true;
        if (!done())
            search.run(best().pieces, m_leastPieces, [&](const PlaneTreePtr& planes) {
                auto tree = carriedOut(m_leaf, *planes, m_shared);
                allFit = tree || m_shared.context.cancelled();
                if (tree)
                    if (const int cuts = tree->cuts(); take(std::move(*tree), wordsOf(cuts)))
                        onBetter();
                return allFit;
            });
        m_work += search.work();
        if (allFit) {
            polish(search, onBetter);
            return;
        }
        // The stand-in promised more than the mesh holds: it is trusted less.
        m_proxy.errorMm = std::max(trustedLess * m_proxy.errorMm, leastErrorMm);
        m_shrunk = shrunkBeds(m_shared.beds, m_proxy.errorMm);
    }
}

/// Moves the planes of the best ways to where they cost less, and puts the ways in order. Each must work on the mesh
/// itself.
void BranchSearch::polish(const CutSearch& search, const std::function<void()>& onBetter)
{
    const SuggestOptions& o = m_shared.options;
    const CutJudge judge(m_proxy.mesh, m_shared.beds, o.fit.marginMm, o.judge);
    const CutCost cost = [&](const mesh::Mesh& cell, const mesh::Plane& plane, const mesh::Region& section) {
        return weighed(judge.ofFace(cell, plane, section), o.weights);
    };
    const double sizeMm = length(mesh::bounds(m_proxy.mesh).extents());
    std::vector<PlaneTreePtr> all{planesOf(best())};
    for (const PlaneTreePtr& way : search.ways())
        if (std::none_of(all.begin(), all.end(), [&](const PlaneTreePtr& a) { return alike(*a, *way, sizeMm); }))
            all.push_back(way);
    std::erase_if(all, [&](const PlaneTreePtr& way) { return way->pieces > best().pieces + o.morePieces; });
    std::vector<Way> found;
    const std::size_t wanted = std::min(static_cast<std::size_t>(std::max(1, o.alternatives)), all.size());
    for (std::size_t i = 0; i < wanted && !late(); ++i) {
        const double left = static_cast<double>(wanted - i);
        const SearchLimits limits{m_shared.context, after(polishShare / left), 0};
        auto way = priced(search.mesh(), m_within, *all[i], search.ground(), cost, all[i]->pieces);
        if (!way)
            continue;
        const PricedTree moved = polished(search.mesh(), m_within, *way, search.ground(), cost,
                                          o.work > 0 ? 1 : mostPolishRounds, o.seed, limits);
        for (const PricedTree& tree : {moved, *way}) {
            auto carried = carriedOut(m_leaf, *tree.tree, m_shared);
            if (!carried)
                continue;
            const bool isBest = i == 0 && m_ways.front().tree->pieces == carried->pieces;
            const int cuts = carried->cuts();
            found.push_back(
                {std::make_shared<CutTree>(std::move(*carried)), isBest ? words() : wordsOf(cuts), tree.cost, true});
            break;
        }
    }
    // What was best stays, where polishing has come to nothing.
    if (std::none_of(found.begin(), found.end(), [&](const Way& w) { return w.tree->pieces <= best().pieces; }))
        found.push_back(m_ways.front());
    std::stable_sort(found.begin(), found.end(), [](const Way& a, const Way& b) {
        return a.tree->pieces != b.tree->pieces ? a.tree->pieces < b.tree->pieces : a.cost < b.cost;
    });
    const bool changed = found.front().tree != m_ways.front().tree;
    m_ways = std::move(found);
    if (changed)
        onBetter();
}

} // namespace quoin::core
