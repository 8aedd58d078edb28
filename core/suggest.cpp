// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/suggest.h"

#include "core/bed_room.h"
#include "core/branch_search.h"
#include "core/marks_in_the_way.h"
#include "mesh/plane_cut.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace quoin::core {

using Clock = std::chrono::steady_clock;
using mesh::Mesh;

namespace {

/// How much of the progress the first answers are taken to be.
constexpr double firstShare = 0.3;

Problem cancelled()
{
    return Problem{Reason::Cancelled, "cancelled while looking for cuts", {}, {}, {}};
}

/// A leaf of the user's plan: it fits, or bodies in it are parted by a plane, or a grid is looked for.
struct Branch {
    std::optional<CutTree> fits;
    mesh::Plane plane;
    std::unique_ptr<Branch> below, above;
    std::unique_ptr<BranchSearch> search;
};

/// One of the ways that are known of a branch without branches; the last when there aren't so many.
const CutTree& treeOf(const Branch& branch, std::size_t way)
{
    if (!branch.search)
        return *branch.fits;
    const auto& ways = branch.search->ways();
    return *ways[std::min(way, ways.size() - 1)].tree;
}

/// Adds what is known of a branch to a plan. @return the node, or -1 for a leaf
int appendTo(CutPlan& plan, const Branch& branch, std::size_t way)
{
    if (!branch.below)
        return appendTo(plan, treeOf(branch, way));
    const std::size_t node = plan.nodes.size();
    plan.nodes.push_back({branch.plane, -1, -1});
    const int below = appendTo(plan, *branch.below, way);
    plan.nodes[node].below = below;
    const int above = appendTo(plan, *branch.above, way);
    plan.nodes[node].above = above;
    return static_cast<int>(node);
}

/// Puts a branch in the place of a leaf of the plan.
void attach(CutPlan& plan, const Path& path, const Branch& branch, std::size_t way)
{
    const int node = appendTo(plan, branch, way);
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

void noteSums(const Branch& branch, std::size_t way, std::set<std::uint64_t>& sums)
{
    if (!branch.below) {
        noteSums(treeOf(branch, way), sums);
        return;
    }
    noteSums(*branch.below, way, sums);
    noteSums(*branch.above, way, sums);
}

std::vector<HalfSpace> cellOf(const CutPlan& plan, const Path& path)
{
    std::vector<HalfSpace> cell;
    for (const Step& step : path)
        cell.push_back({plan.nodes[static_cast<std::size_t>(step.node)].plane, step.above});
    return cell;
}

/// One call of suggestGrid.
class Job {
public:
    Job(const Mesh& part, const CutPlan& start, const std::vector<Bed>& beds, const SuggestOptions& options,
        const Context& context)
        : m_part(part),
          m_start(start),
          m_options(options),
          m_shared{beds, options, context, Clock::now() + allowed(options)},
          m_bound(lowerBound(part, beds, options.fit.marginMm, options.islandsApart))
    {
    }

    Result<Suggestion> run(std::vector<Leaf> leaves);

private:
    static Clock::duration allowed(const SuggestOptions& options)
    {
        const auto seconds = std::chrono::duration<double>(std::max(0.0, options.seconds));
        return std::chrono::duration_cast<Clock::duration>(seconds);
    }

    Result<Branch> branchFor(Mesh leaf, std::vector<HalfSpace> cell);
    Status searchAll();
    std::vector<mesh::Vec3> ownNormals() const;
    Status confirm();
    void tell(Suggestion found);
    void tellBetter();
    Result<Suggestion> proved(const Context& context, std::size_t way = 0) const;

    const Mesh& m_part;
    const CutPlan& m_start;
    const SuggestOptions& m_options;
    Clock::time_point m_begun = Clock::now();
    BranchSearch::Shared m_shared;
    LowerBound m_bound;
    std::vector<std::pair<Path, Branch>> m_branches;
    std::vector<BranchSearch*> m_searches;
    std::optional<Suggestion> m_told; ///< the best so far, if it was told
};

/// What a leaf of the user's plan asks for; bodies that a plane parts without cutting get grids of their own.
Result<Branch> Job::branchFor(Mesh leaf, std::vector<HalfSpace> cell)
{
    if (m_shared.context.cancelled())
        return cancelled();
    const LeafBodies bodies(leaf, m_options.islandsApart);
    const LeafFit fit = fitLeaf(bodies, m_shared.beds, m_options.fit);
    Branch branch;
    if (fit.fits()) {
        branch.fits = leafOf(leaf, fit);
        return branch;
    }
    const GridFrame own{{mesh::Vec3{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, {}};
    const auto plane = partingPlane(m_options.islandsApart ? bodies : LeafBodies(leaf, true), own);
    if (plane && !(m_options.keepClear && m_options.keepClear->crossedBy(*plane, cell))) {
        mesh::CutOptions cut;
        cut.withLabels = false;
        auto halves = mesh::cutByPlane(leaf, *plane, cut);
        if (!halves)
            return halves.problem();
        branch.plane = *plane;
        for (const bool above : {false, true}) {
            std::vector<HalfSpace> half = cell;
            half.push_back({*plane, above});
            auto child = branchFor(std::move(above ? halves->above : halves->below), std::move(half));
            if (!child)
                return child;
            (above ? branch.above : branch.below) = std::make_unique<Branch>(std::move(*child));
        }
        return branch;
    }
    const bool isWhole = leaf.triangles.size() == m_part.triangles.size();
    const LowerBound bound =
        isWhole ? m_bound : lowerBound(leaf, m_shared.beds, m_options.fit.marginMm, m_options.islandsApart);
    branch.search =
        std::make_unique<BranchSearch>(std::move(leaf), std::move(cell), bound.pieces, m_shared, ownNormals());
    m_searches.push_back(branch.search.get());
    return branch;
}

/// What the user's own cuts stand across: others like to be parallel to them.
std::vector<mesh::Vec3> Job::ownNormals() const
{
    std::vector<mesh::Vec3> out;
    for (const CutPlan::Node& node : m_start.nodes)
        out.push_back(node.plane.normal);
    return out;
}

/// First answers for all, then better ones.
Status Job::searchAll()
{
    const double count = static_cast<double>(m_searches.size());
    const auto listen = [&](std::size_t i, double from, double share) {
        m_searches[i]->onProgress = [this, i, from, share, count](double fraction) {
            m_shared.context.report(from + share * (static_cast<double>(i) + fraction) / count, "looking for cuts");
        };
    };
    for (std::size_t i = 0; i < m_searches.size(); ++i) {
        listen(i, 0, firstShare);
        if (const Status found = m_searches[i]->first(); !found)
            return found;
    }
    if (const Status confirmed = confirm(); !confirmed)
        return confirmed;
    for (std::size_t i = 0; i < m_searches.size(); ++i) {
        listen(i, firstShare, 1 - firstShare);
        // Each gets its share of the time that is left.
        const auto now = Clock::now();
        const auto left = static_cast<Clock::rep>(m_searches.size() - i);
        m_searches[i]->improve(now + (m_shared.deadline - now) / left, [this] { tellBetter(); });
    }
    return m_shared.context.cancelled() ? Status(cancelled()) : Done{};
}

/// First answers that have only been tried on stand-ins are carried out; what then doesn't fit is looked for anew.
Status Job::confirm()
{
    const auto provisional = [](const BranchSearch* s) { return s->provisional(); };
    if (std::none_of(m_searches.begin(), m_searches.end(), provisional)) {
        tellBetter();
        return Done{};
    }
    if (auto found = proved(Context{})) {
        tell(std::move(*found));
        return Done{};
    }
    for (BranchSearch* search : m_searches)
        if (search->provisional())
            if (const Status found = search->firstOnMesh(); !found)
                return found;
    tellBetter();
    return Done{};
}

void Job::tell(Suggestion found)
{
    m_told = std::move(found);
    if (m_options.onBetter)
        m_options.onBetter(*m_told);
}

void Job::tellBetter()
{
    m_told.reset();
    if (!m_options.onBetter)
        return;
    // Not to be lost by cancelling in this moment.
    if (auto found = proved(Context{}))
        tell(std::move(*found));
}

/// The plan as the job will carry it out: every piece must fit, no cut may pass a marked place. A leaf that is the very
/// mesh that was fitted before isn't fitted again.
Result<Suggestion> Job::proved(const Context& context, std::size_t way) const
{
    Suggestion out;
    out.bound = m_bound;
    out.plan = m_start;
    out.seed = m_options.seed;
    out.seconds = std::chrono::duration<double>(Clock::now() - m_begun).count();
    std::set<std::uint64_t> fitted;
    for (const auto& [path, branch] : m_branches) {
        attach(out.plan, path, branch, way);
        noteSums(branch, way, fitted);
    }
    if (m_options.keepClear)
        if (const auto place = passesMarked(out.plan, *m_options.keepClear))
            return Problem{Reason::CutFailed,
                           "a cut would pass a marked place",
                           {},
                           placeWords(*place),
                           "Unmark a little more around this place."};
    std::vector<std::string> ways;
    for (const BranchSearch* search : m_searches) {
        out.gridsTried += search->gridsTried();
        const auto& all = search->ways();
        ways.push_back(all[std::min(way, all.size() - 1)].words);
    }
    out.words = wordsOf(ways, m_start);
    auto leaves = cutByPlan(m_part, out.plan, context);
    if (!leaves)
        return leaves.problem();
    for (const Leaf& leaf : *leaves) {
        const LeafBodies bodies(leaf.mesh, m_options.islandsApart);
        out.pieces += static_cast<int>(bodies.size());
        if (fitted.contains(checksum(leaf.mesh)))
            continue;
        const LeafFit fit = fitLeaf(bodies, m_shared.beds, m_options.fit, true);
        if (!fit.fits())
            return doesNotFit(fit.misfits.front(), m_options.fit);
    }
    return out;
}

Result<Suggestion> Job::run(std::vector<Leaf> leaves)
{
    for (Leaf& leaf : leaves) {
        auto branch = branchFor(std::move(leaf.mesh), cellOf(m_start, leaf.path));
        if (!branch)
            return branch.problem();
        m_branches.emplace_back(leaf.path, std::move(*branch));
    }
    if (const Status found = searchAll(); !found)
        return m_options.keepClear && found.problem().reason == Reason::DoesNotFit ? marksBlock(found.problem())
                                                                                   : found.problem();
    auto best = m_told ? Result<Suggestion>(std::move(*m_told)) : proved(m_shared.context);
    if (!best)
        return best;
    best->gridsTried = 0;
    std::size_t ways = 1;
    for (const BranchSearch* search : m_searches) {
        best->gridsTried += search->gridsTried();
        ways = std::max(ways, search->ways().size());
    }
    for (std::size_t way = 1; way < ways && !m_shared.context.cancelled(); ++way)
        if (auto other = proved(m_shared.context, way))
            best->others.push_back(std::move(*other));
    return best;
}

Problem nothingToCut(const char* what)
{
    return Problem{Reason::BadArgument, what, {}, {}, {}};
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
    if (options.keepClear)
        if (const Status possible = marksAllow(*options.keepClear, start, beds, options.fit.marginMm); !possible)
            return possible.problem();
    auto found = Job(part, start, beds, options, context).run(std::move(*leaves));
    if (found)
        context.report(1, "looking for cuts");
    return found;
}

} // namespace quoin::core
