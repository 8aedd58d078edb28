// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_search.h"

#include "mesh/mass.h"
#include "mesh/plane_cut.h"

#include <algorithm>
#include <numbers>

namespace quoin::core {

using Clock = std::chrono::steady_clock;
using mesh::Plane;
using mesh::Vec3;

namespace {

constexpr int never = 1'000'000;

/// Flat faces of the whole that pieces may stand on.
constexpr std::size_t mostDowns = 4;

/// Places at which limbs are looked for, and the longest outline of one in sides of the bed.
constexpr std::size_t limbPlaces = 400;
constexpr double longestOutline = 5;

/// A way whose estimate is above the limit by more than this share (and one piece) is not followed.
constexpr double hopeless = 0.3;

/// Departures that are tried from the most promising tree, and rounds of solving parts again without gain.
constexpr int mostDepartures = 2;
constexpr int mostIdleRounds = 60;
constexpr int mostPiecesAgain = 14;
constexpr std::size_t mostFollowed = 5;

/// Parts with more pieces than this are not searched with two departures: taking parts out again gains more.
constexpr int mostPiecesDeep = 7;

PlaneTreePtr joined(const CutMove& move)
{
    auto tree = std::make_shared<PlaneTree>();
    tree->plane = move.plane;
    tree->below = move.below->best;
    tree->above = move.above->best;
    tree->pieces = tree->below->pieces + tree->above->pieces;
    tree->areaMm2 = move.areaMm2 + tree->below->areaMm2 + tree->above->areaMm2;
    return tree;
}

CutMove* bestMoveOf(CutNode& node)
{
    const auto at =
        std::find_if(node.moves.begin(), node.moves.end(), [&](const CutMove& m) { return m.id == node.bestMove; });
    return at == node.moves.end() ? nullptr : &*at;
}

/// The nodes along the best tree that are cut, each after those above it.
void chainOf(CutNode& node, std::vector<CutNode*>& chain)
{
    if (node.fits || !node.best)
        return;
    if (CutMove* move = bestMoveOf(node)) {
        chain.push_back(&node);
        chainOf(*move->below, chain);
        chainOf(*move->above, chain);
    }
}

void planesOf(const PlaneTree& tree, std::vector<Plane>& planes)
{
    if (!tree.below)
        return;
    planes.push_back(tree.plane);
    planesOf(*tree.below, planes);
    planesOf(*tree.above, planes);
}

/// What the best trees of the nodes above a changed one come to now.
void refresh(CutNode& node)
{
    CutMove* move = node.fits || !node.best ? nullptr : bestMoveOf(node);
    if (!move)
        return;
    refresh(*move->below);
    refresh(*move->above);
    if (move->below->best && move->above->best)
        node.best = joined(*move);
}

double unitFrom(std::mt19937& random)
{
    return static_cast<double>(random()) / 4294967296.0;
}

Vec3 anyDirection(std::mt19937& random)
{
    const double z = 2 * unitFrom(random) - 1, a = 2 * std::numbers::pi * unitFrom(random);
    const double r = std::sqrt(1 - z * z);
    return {r * std::cos(a), r * std::sin(a), z};
}

} // namespace

CutSearch::CutSearch(SearchTask task, const SearchLimits& limits)
    : m_limits(limits), m_whole(std::move(task.mesh)), m_begun(Clock::now())
{
    m_ground = std::make_unique<CutGround>(CutGround{task.beds,
                                                     task.fit,
                                                     task.islandsApart,
                                                     task.keepClear,
                                                     task.seed,
                                                     QuickFit(task.beds, task.fit),
                                                     PieceEstimator(task.beds, task.fit),
                                                     {},
                                                     {},
                                                     {},
                                                     {},
                                                     nullptr,
                                                     [this] { return late(); }});
    const PieceShape shape(m_whole);
    m_ground->frames = gridFrames(shape, mesh::massProperties(m_whole));
    m_ground->normals = cutNormals(m_whole, m_ground->frames, task.directions);
    for (const FlatFace& face : shape.flatFaces())
        if (m_ground->downs.size() < mostDowns)
            m_ground->downs.push_back(face.down);
    m_limbCuts = std::make_unique<LimbCuts>(m_whole);
    m_ground->limbCuts = m_limbCuts.get();
    const double side = std::cbrt(m_ground->quick.volumeMm3());
    m_ground->limbs = m_limbCuts->spread(limbPlaces, task.seed, longestOutline * side);
    m_root = nodeOf(m_whole, std::move(task.within), *m_ground);
}

CutSearch::~CutSearch() = default;

bool CutSearch::late() const
{
    return m_enough || m_limits.context.cancelled() || Clock::now() > m_limits.deadline;
}

bool CutSearch::stopped() const
{
    return late() || (m_limits.work > 0 && m_work >= m_limits.work);
}

void CutSearch::grow(CutNode& node, const Breadth& breadth)
{
    ++m_work;
    expand(node, *m_ground, breadth);
    if (onProgress) {
        const auto seconds = [](auto d) { return std::chrono::duration<double>(d).count(); };
        const double byTime = seconds(Clock::now() - m_begun) / std::max(1e-3, seconds(m_limits.deadline - m_begun));
        onProgress(std::clamp(byTime, 0.0, 1.0));
    }
}

void CutSearch::adopt(const CutTree& known)
{
    adopt(*m_root, known);
}

void CutSearch::adopt(CutNode& node, const CutTree& known)
{
    if (node.fits || !known.below)
        return;
    mesh::CutOptions options;
    options.withLabels = false;
    auto halves = mesh::cutByPlane(node.mesh, known.plane, options);
    if (!halves || halves->below.empty() || halves->above.empty())
        return;
    CutMove move;
    move.plane = known.plane;
    move.id = node.moveIds++;
    for (std::size_t t = halves->belowCap; t < halves->below.triangles.size(); ++t)
        move.areaMm2 += mesh::triangleArea(halves->below, t);
    for (const bool above : {false, true}) {
        std::vector<HalfSpace> within = node.within;
        within.push_back({known.plane, above});
        auto side = nodeOf(std::move(above ? halves->above : halves->below), std::move(within), *m_ground);
        adopt(*side, above ? *known.above : *known.below);
        (above ? move.above : move.below) = std::move(side);
    }
    move.estimate = move.below->estimate + move.above->estimate;
    move.least = move.below->least + move.above->least;
    move.value = move.estimate;
    if (move.below->best && move.above->best && (!node.best || joined(move)->pieces < node.best->pieces)) {
        node.best = joined(move);
        node.bestMove = move.id;
    }
    node.moves.push_back(std::move(move));
}

std::vector<PlaneTreePtr> CutSearch::ways() const
{
    std::vector<PlaneTreePtr> all;
    if (m_root->best)
        all.push_back(m_root->best);
    for (const CutMove& move : m_root->moves)
        if (move.below->best && move.above->best && move.id != m_root->bestMove)
            all.push_back(joined(move));
    std::stable_sort(all.begin(), all.end(), [](const PlaneTreePtr& a, const PlaneTreePtr& b) {
        return a->pieces != b->pieces ? a->pieces < b->pieces : a->areaMm2 < b->areaMm2;
    });
    return all;
}

bool CutSearch::tellIfBetter()
{
    if (!m_root->best || m_root->best->pieces >= m_told)
        return true;
    m_told = m_root->best->pieces;
    if (!m_onBetter(m_root->best))
        m_enough = true;
    m_enough = m_enough || m_told <= m_least;
    return !m_enough;
}

/// Solves both sides of one way. @return whether there is now a tree of no more than `limit` pieces that takes it
bool CutSearch::follow(CutNode& node, CutMove& move, int departures, int limit)
{
    if (move.least > limit)
        return false;
    // The side that may take more first: it decides.
    const bool aboveFirst = move.above->estimate > move.below->estimate;
    CutNode& first = aboveFirst ? *move.above : *move.below;
    CutNode& second = aboveFirst ? *move.below : *move.above;
    // The known pieces of the one are what the other has to do without; the bound where nothing is known.
    const int one = solve(first, departures, limit - second.least);
    if (one > limit - second.least)
        return false;
    const int other = solve(second, departures, limit - one);
    if (one + other > limit || !first.best || !second.best)
        return false;
    node.best = joined(move);
    node.bestMove = move.id;
    return true;
}

/// Finds a tree of no more than `limit` pieces, departing so often from what is most promising. @return its pieces
int CutSearch::solve(CutNode& node, int departures, int limit)
{
    if (node.fits)
        return node.pieces;
    const int known = node.best ? node.best->pieces : never;
    limit = std::min(limit, known - 1);
    if (node.least > limit || (node.triedWith >= departures && node.triedLimit >= limit) || stopped())
        return known;
    if (!node.expanded)
        grow(node, {});
    const int asked = limit;
    for (std::size_t i = 0; i < node.moves.size() && static_cast<int>(i) <= departures && !m_enough; ++i) {
        CutMove& move = node.moves[i];
        if (i > 0 && move.estimate > limit + 1 + hopeless * limit)
            continue;
        if (follow(node, move, departures - static_cast<int>(i), limit)) {
            limit = node.best->pieces - 1;
            if (&node == m_root.get())
                tellIfBetter();
        }
        if (node.least > limit)
            break;
    }
    if (!stopped() && (node.triedWith < departures || node.triedLimit < asked)) {
        node.triedWith = departures;
        node.triedLimit = asked;
    }
    return node.best ? node.best->pieces : never;
}

/// Takes one part of the best tree out and solves it again with other directions. @return whether it took fewer pieces
bool CutSearch::again(std::mt19937& random, int round)
{
    std::vector<CutNode*> chain;
    chainOf(*m_root, chain);
    std::erase_if(chain, [](const CutNode* n) { return n->best->pieces <= n->least; });
    const auto mostPieces = [&](int most) {
        std::vector<CutNode*> some;
        std::copy_if(chain.begin(), chain.end(), std::back_inserter(some),
                     [&](const CutNode* n) { return n->best->pieces <= most; });
        return some;
    };
    std::vector<CutNode*> some = mostPieces(mostPiecesAgain + round / 10);
    if (some.empty())
        some = chain;
    if (some.empty())
        return false;
    const int fewest = (*std::min_element(some.begin(), some.end(), [](const CutNode* a, const CutNode* b) {
                           return a->tries < b->tries;
                       }))->tries;
    std::erase_if(some, [&](const CutNode* n) { return n->tries > fewest; });
    CutNode& node = *some[random() % some.size()];
    ++node.tries;
    Breadth breadth;
    planesOf(*node.best, breadth.planes);
    if (breadth.planes.size() > breadth.cuts)
        breadth.planes.resize(breadth.cuts);
    constexpr int moreDirections = 32;
    for (int i = 0; i < moreDirections; ++i)
        breadth.more.push_back(anyDirection(random));
    // Near the planes that are there, too.
    for (const Plane& p : std::vector<Plane>(breadth.planes))
        breadth.more.push_back(normalized(p.normal + 0.15 * anyDirection(random)));
    breadth.onlyThese = node.expanded;
    breadth.kept += 2 * static_cast<std::size_t>(node.tries);
    const int before = node.best->pieces;
    const int firstNew = node.moveIds;
    node.triedWith = -1;
    grow(node, breadth);
    const int departures = std::min(2, node.tries / 2);
    std::size_t followed = 0;
    for (std::size_t i = 0; i < node.moves.size() && followed < mostFollowed && !stopped(); ++i) {
        CutMove& move = node.moves[i];
        const int limit = node.best->pieces - 1;
        if (move.id < firstNew || move.estimate > limit + 1 + hopeless * limit)
            continue;
        ++followed;
        follow(node, move, departures, limit);
    }
    if (node.best->pieces >= before)
        return false;
    refresh(*m_root);
    return true;
}

void CutSearch::run(int fewerThan, int least, const std::function<bool(const PlaneTreePtr&)>& onBetter)
{
    m_told = fewerThan;
    m_least = std::max(least, m_root->least);
    m_onBetter = onBetter;
    m_enough = m_told <= m_least;
    if (m_root->fits) {
        tellIfBetter();
        return;
    }
    for (int departures = 0; departures <= mostDepartures && !stopped(); ++departures) {
        if (departures > 1 && m_told > mostPiecesDeep)
            break;
        // What is known sets the limit; the greedy tree is wanted for its parts even where it is worse.
        solve(*m_root, departures, departures == 0 && !m_root->best ? never : m_told - 1);
        tellIfBetter();
    }
    std::mt19937 random(m_ground->seed);
    for (int idle = 0, round = 0; idle < mostIdleRounds && !stopped() && m_root->best; ++round) {
        if (again(random, round)) {
            idle = 0;
            tellIfBetter();
        } else {
            ++idle;
        }
    }
}

} // namespace quoin::core
