// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/branch_search.h"

#include "core/section_score.h"
#include "core/tidy_cut.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

namespace quoin::core {

using Clock = std::chrono::steady_clock;

namespace {

/// Triangles of the stand-in that cuts are looked for in.
constexpr std::size_t proxyTriangles = 10'000;

/// Share of the time that better grids are looked for, before trees of planes.
constexpr double gridShare = 0.25;

/// When what was found in the stand-in doesn't fit on the mesh, it is searched again, so much smaller beds each time.
constexpr int mostRounds = 4;
constexpr double trustedLess = 1.6, leastErrorMm = 0.05;

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
      m_directions(std::move(directions))
{
}

bool BranchSearch::done() const
{
    return m_shared.context.cancelled() || Clock::now() > m_shared.deadline || m_best->pieces <= m_leastPieces;
}

void BranchSearch::prepare(std::size_t mostTriangles)
{
    m_proxy = searchProxy(m_leaf, mostTriangles, m_shared.context);
    m_shrunk = shrunkBeds(m_shared.beds, m_proxy.errorMm);
    m_onProxy.emplace(Shared{m_shrunk, m_shared.options, m_shared.context, m_shared.deadline});
    m_onProxy->deadline = std::min(
        m_shared.deadline,
        Clock::now() + std::chrono::duration_cast<Clock::duration>(gridShare * (m_shared.deadline - Clock::now())));
}

/// Takes over what a grid search found, if it works on the mesh itself and is better.
bool BranchSearch::takeGrid(const GridSearch& grid)
{
    std::optional<CutTree> tree;
    if (m_gridIsExact) {
        tree = grid.best().copy();
    } else if (auto carried = carriedOut(m_leaf, *planesOf(grid.best()), m_shared)) {
        tree = std::move(*carried);
    }
    m_gridsTried = grid.tried();
    if (!tree || (m_best && !better(*tree, *m_best)))
        return false;
    m_best = std::move(tree);
    m_words = grid.words();
    return true;
}

Status BranchSearch::first()
{
    prepare(proxyTriangles);
    const auto search = [&](const mesh::Mesh& mesh, bool exact, const Shared& beds) {
        m_gridIsExact = exact;
        m_grid = std::make_unique<GridSearch>(mesh, m_within, m_leastPieces, beds);
        m_grid->onProgress = onProgress;
        return m_grid->first();
    };
    const bool exact = m_proxy.mesh.triangles.size() == m_leaf.triangles.size();
    if (!exact && search(m_proxy.mesh, false, *m_onProxy) && takeGrid(*m_grid))
        return Done{};
    if (m_shared.context.cancelled())
        return Problem{Reason::Cancelled, "cancelled while looking for cuts", {}, {}, {}};
    if (const Status found = search(m_leaf, true, exact ? *m_onProxy : m_shared); !found)
        return found;
    takeGrid(*m_grid);
    return Done{};
}

void BranchSearch::improve(const std::function<void()>& onBetter)
{
    m_grid->improve([&] {
        if (takeGrid(*m_grid) && onBetter)
            onBetter();
    });
    if (!done())
        searchTrees(onBetter);
}

void BranchSearch::searchTrees(const std::function<void()>& onBetter)
{
    const SuggestOptions& o = m_shared.options;
    const bool marks = o.keepClear && !o.keepClear->empty();
    for (int round = 0; round < mostRounds && !done(); ++round) {
        CutSearch search({m_proxy.mesh, m_within, m_shrunk, o.fit, o.islandsApart, marks ? o.keepClear : nullptr,
                          o.seed, m_directions},
                         {m_shared.context, m_shared.deadline, o.work});
        search.onProgress = onProgress;
        search.adopt(round == 0 ? m_grid->best() : *m_best);
        bool allFit = true;
        search.run(m_best->pieces, m_leastPieces, [&](const PlaneTreePtr& planes) {
            auto tree = carriedOut(m_leaf, *planes, m_shared);
            allFit = tree || m_shared.context.cancelled();
            if (tree && better(*tree, *m_best)) {
                m_best = std::move(*tree);
                m_words = fmt::format("{} planes, each where it saves most", m_best->cuts());
                if (onBetter)
                    onBetter();
            }
            return allFit;
        });
        m_work += search.work();
        if (allFit)
            return;
        // The stand-in promised more than the mesh holds: it is trusted less.
        m_proxy.errorMm = std::max(trustedLess * m_proxy.errorMm, leastErrorMm);
        m_shrunk = shrunkBeds(m_shared.beds, m_proxy.errorMm);
    }
}

} // namespace quoin::core
