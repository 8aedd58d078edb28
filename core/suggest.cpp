// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/suggest.h"

#include "core/bed_room.h"
#include "core/grid_cutter.h"
#include "mesh/plane_cut.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <tuple>

namespace quoin::core {

using Clock = std::chrono::steady_clock;
using mesh::Mesh;

namespace {

/// Grids that are really cut, at most, and those of them that are cut again with moved planes.
constexpr std::size_t mostWays = 12;
constexpr std::size_t movedWays = 2;

/// A grid whose estimate is this much above the best result so far is not cut.
constexpr double hopeless = 1.5;

Problem cancelled()
{
    return Problem{Reason::Cancelled, "cancelled while looking for cuts", {}, {}, {}};
}

bool better(const CutTree& a, const CutTree& b)
{
    return std::tie(a.pieces, a.withoutRoom, a.areaMm2) < std::tie(b.pieces, b.withoutRoom, b.areaMm2);
}

std::string wordsFor(const GridWay& way)
{
    return fmt::format("a grid of {} x {} x {} cells {}", way.counts[0], way.counts[1], way.counts[2], way.frame.words);
}

/// The axes by the number of cells along them, the most first: fewer and larger faces are cut again.
std::array<int, 3> mostFirst(const CellCounts& counts)
{
    std::array<int, 3> order{0, 1, 2};
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
        return counts[static_cast<std::size_t>(a)] > counts[static_cast<std::size_t>(b)];
    });
    return order;
}

/// Cuts of one leaf of the user's plan, and in which way they were found.
struct Found {
    CutTree tree;
    std::string words;
};

/// Looks for the best grid for one leaf.
class GridSearch {
public:
    GridSearch(const Mesh& leaf, const std::vector<Bed>& beds, const SuggestOptions& options, const Context& context,
               Clock::time_point deadline)
        : m_leaf(leaf),
          m_beds(beds),
          m_options(options),
          m_context(context),
          m_deadline(deadline),
          m_shape(leaf),
          m_cloud(leaf, m_shape.outline(), options.seed)
    {
    }

    Result<Found> best(int leastPieces);
    int tried() const { return m_tried; }

private:
    std::vector<GridWay> ways() const;
    void attempt(const GridWay& way);
    bool done() const { return m_context.cancelled() || Clock::now() > m_deadline; }

    const Mesh& m_leaf;
    const std::vector<Bed>& m_beds;
    const SuggestOptions& m_options;
    const Context& m_context;
    Clock::time_point m_deadline;
    PieceShape m_shape;
    SolidCloud m_cloud;
    int m_tried = 0;
    std::optional<CutTree> m_best;
    GridWay m_bestWay;
    std::optional<Problem> m_problem;
};

/// All grids, by estimate; the best along the part's own axes is among the first two, so that the plain grid is always
/// tried.
std::vector<GridWay> GridSearch::ways() const
{
    std::vector<GridWay> all;
    const std::vector<GridFrame> frames = gridFrames(m_shape, mesh::massProperties(m_leaf));
    for (const GridFrame& frame : frames) {
        const mesh::Vec3 extents = boundsIn(frame, m_shape.outline()).extents();
        for (const CellCounts& n : leastCellCounts(extents, m_beds, m_options.fit))
            all.push_back({frame, n, mostFirst(n), false, m_cloud.cellsHeld(frame, n)});
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const GridWay& a, const GridWay& b) { return a.cellsHeld < b.cellsHeld; });
    const auto plain =
        std::find_if(all.begin(), all.end(), [&](const GridWay& w) { return w.frame.words == frames.front().words; });
    if (plain != all.end() && plain - all.begin() > 1)
        std::rotate(all.begin() + 1, plain, plain + 1);
    all.resize(std::min(all.size(), mostWays));
    return all;
}

void GridSearch::attempt(const GridWay& way)
{
    GridJob job{m_beds, m_options.fit, m_options.islandsApart, m_context, std::nullopt};
    if (m_best) {
        job.deadline = m_deadline;
        job.mostPieces = m_best->pieces;
    }
    ++m_tried;
    auto tree = cutByGrid(m_leaf, m_cloud, way, job);
    if (!tree) {
        if (!m_problem && tree.problem().reason != Reason::Cancelled)
            m_problem = tree.problem();
        return;
    }
    if (!m_best || better(*tree, *m_best)) {
        m_best = std::move(*tree);
        m_bestWay = way;
    }
}

Result<Found> GridSearch::best(int leastPieces)
{
    const std::vector<GridWay> all = ways();
    for (std::size_t i = 0; i < all.size() && !m_context.cancelled(); ++i) {
        if (m_best && (done() || m_best->pieces <= leastPieces))
            break;
        m_context.report(static_cast<double>(i) / static_cast<double>(all.size() + movedWays), "looking for cuts");
        if (!m_best || static_cast<double>(all[i].cellsHeld) <= hopeless * m_best->pieces)
            attempt(all[i]);
    }
    if (m_best) {
        GridWay way = m_bestWay;
        std::sort(way.order.begin(), way.order.end());
        do {
            if (!done() && way.order != m_bestWay.order && m_best->pieces > leastPieces)
                attempt(way);
        } while (std::next_permutation(way.order.begin(), way.order.end()));
        way = m_bestWay;
        way.choosePlaces = true;
        if (!done())
            attempt(way);
    }
    if (m_context.cancelled())
        return cancelled();
    if (!m_best)
        return m_problem ? *m_problem
                         : Problem{Reason::DoesNotFit,
                                   fmt::format("the part would take more than {:g} cells of a grid", mostCells),
                                   {},
                                   {},
                                   "Give a larger bed or a smaller scale."};
    return Found{std::move(*m_best), wordsFor(m_bestWay)};
}

/// What one call of suggestGrid carries along.
struct Job {
    const Mesh& part;
    const std::vector<Bed>& beds;
    const SuggestOptions& options;
    const Context& context;
    Clock::time_point deadline;
    Suggestion out;
    std::vector<std::string> ways;
    std::set<std::uint64_t> fitted; ///< checksums of the leaves that are known to fit

    bool isWhole(const Mesh& leaf) const { return leaf.triangles.size() == part.triangles.size(); }
};

Problem nothingToCut(const char* what)
{
    return Problem{Reason::BadArgument, what, {}, {}, {}};
}

/// Cuts what a leaf of the user's plan holds; bodies that a plane parts without cutting get grids of their own.
Result<CutTree> completed(const Mesh& leaf, Job& job)
{
    if (job.context.cancelled())
        return cancelled();
    const LeafBodies bodies(leaf, job.options.islandsApart);
    const LeafFit fit = fitLeaf(bodies, job.beds, job.options.fit);
    if (fit.fits())
        return leafOf(leaf, fit);
    const GridFrame own{{mesh::Vec3{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, {}};
    if (const auto plane = partingPlane(job.options.islandsApart ? bodies : LeafBodies(leaf, true), own)) {
        mesh::CutOptions cut;
        cut.withLabels = false;
        auto halves = mesh::cutByPlane(leaf, *plane, cut);
        if (!halves)
            return halves.problem();
        CutTree tree;
        tree.plane = *plane;
        for (const bool above : {false, true}) {
            auto child = completed(above ? halves->above : halves->below, job);
            if (!child)
                return child;
            tree.pieces += child->pieces;
            (above ? tree.above : tree.below) = std::make_unique<CutTree>(std::move(*child));
        }
        return tree;
    }
    GridSearch search(leaf, job.beds, job.options, job.context, job.deadline);
    const LowerBound bound = job.isWhole(leaf)
                                 ? job.out.bound
                                 : lowerBound(leaf, job.beds, job.options.fit.marginMm, job.options.islandsApart);
    auto found = search.best(bound.pieces);
    job.out.gridsTried += search.tried();
    if (!found)
        return found.problem();
    job.ways.push_back(std::move(found->words));
    return std::move(found->tree);
}

/// Puts a tree in the place of a leaf of the plan.
void attach(CutPlan& plan, const Path& path, const CutTree& tree)
{
    const int node = appendTo(plan, tree);
    if (path.empty() || node < 0)
        return;
    CutPlan::Node& parent = plan.nodes[static_cast<std::size_t>(path.back().node)];
    (path.back().above ? parent.above : parent.below) = node;
}

std::string wordsOf(const std::vector<std::string>& ways, const CutPlan& start)
{
    const std::string after = start.empty() ? "" : fmt::format("your own {} cuts, then ", start.nodes.size());
    if (ways.empty())
        return start.empty() ? "everything fits as it is" : "your own cuts are enough";
    if (std::all_of(ways.begin(), ways.end(), [&](const std::string& w) { return w == ways.front(); }))
        return after + ways.front();
    return fmt::format("{}{} grids, each for a part of its own; the first is {}", after, ways.size(), ways.front());
}

void noteSums(const CutTree& tree, std::set<std::uint64_t>& sums)
{
    if (!tree.below) {
        sums.insert(tree.sum);
        return;
    }
    noteSums(*tree.below, sums);
    noteSums(*tree.above, sums);
}

/// The plan as the job will carry it out: every piece must fit. A leaf that is the very mesh that was fitted before
/// isn't fitted again. Sets the number of pieces.
Status proved(Job& job)
{
    auto leaves = cutByPlan(job.part, job.out.plan, job.context);
    if (!leaves)
        return leaves.problem();
    for (const Leaf& leaf : *leaves) {
        const LeafBodies bodies(leaf.mesh, job.options.islandsApart);
        job.out.pieces += static_cast<int>(bodies.size());
        if (job.fitted.contains(checksum(leaf.mesh)))
            continue;
        const LeafFit fit = fitLeaf(bodies, job.beds, job.options.fit, true);
        if (!fit.fits())
            return doesNotFit(fit.misfits.front(), job.options.fit);
    }
    return Done{};
}

} // namespace

Result<Suggestion> suggestGrid(const Mesh& part, const CutPlan& start, const std::vector<Bed>& beds,
                               const SuggestOptions& options, const Context& context)
{
    if (part.empty())
        return nothingToCut("there is no part to cut");
    if (beds.empty())
        return nothingToCut("cuts can't be suggested without a bed");
    const auto hasRoom = [&](const Bed& bed) {
        const BedRoom room = roomOf(bed, options.fit.marginMm);
        return room.widthMm > 0 && room.depthMm > 0 && room.heightMm > 0;
    };
    if (std::none_of(beds.begin(), beds.end(), hasRoom))
        return Problem{Reason::DoesNotFit,
                       fmt::format("no bed has room left within a margin of {:g} mm", options.fit.marginMm),
                       {},
                       {},
                       "Give a larger bed or a smaller margin."};
    context.report(0, "looking for cuts");
    auto leaves = cutByPlan(part, start, context);
    if (!leaves)
        return leaves.problem();
    const auto allowed = std::chrono::duration<double>(std::max(0.0, options.seconds));
    Job job{part, beds, options, context, Clock::now() + std::chrono::duration_cast<Clock::duration>(allowed),
            {},   {},   {}};
    job.out.bound = lowerBound(part, beds, options.fit.marginMm, options.islandsApart);
    job.out.plan = start;
    for (const Leaf& leaf : *leaves) {
        auto tree = completed(leaf.mesh, job);
        if (!tree)
            return tree.problem();
        attach(job.out.plan, leaf.path, *tree);
        noteSums(*tree, job.fitted);
    }
    job.out.words = wordsOf(job.ways, start);
    if (const Status good = proved(job); !good)
        return good.problem();
    context.report(1, "looking for cuts");
    return std::move(job.out);
}

} // namespace quoin::core
