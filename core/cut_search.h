// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/cut_node.h"
#include "core/cut_tree.h"
#include "mesh/context.h"

#include <chrono>
#include <functional>
#include <random>

namespace quoin::core {

/// When a search stops: by time, by work, or because nobody wants it any more.
struct SearchLimits {
    const Context& context;
    std::chrono::steady_clock::time_point deadline;
    std::uint64_t work = 0; ///< nodes whose ways are looked for, at most; 0: as many as there is time for
};

/// What is searched: a closed mesh with few triangles, and what its pieces have to fit.
struct SearchTask {
    mesh::Mesh mesh;
    std::vector<HalfSpace> within; ///< the cell that it lies in, for marked places
    std::vector<Bed> beds;
    FitOptions fit;
    bool islandsApart = true;
    std::shared_ptr<const KeepClear> keepClear;
    unsigned seed = 1;
    std::vector<mesh::Vec3> directions; ///< further normals to look along: those of the user's own planes
};

/// Looks for the tree of planes, at any orientation, that makes the fewest pieces.
///
/// What lies on the two sides of a plane are two tasks of their own, so the tree is searched as one of alternatives
/// (which plane) and of duties (both sides): each node is expanded into its most promising planes (core/cut_node.h),
/// taken in the order of a grid's estimate of the pieces to come. First the most promising one everywhere, then as many
/// departures from that as a budget allows (limited discrepancy search: Harvey and Ginsberg 1995), with branches left
/// out that a lower bound shows to be hopeless; then parts of the best tree are taken out and solved again, with other
/// directions and with the planes of that part in another order (large neighbourhood search: Shaw 1998). Everything but
/// the end by time is decided by the seed.
class CutSearch {
public:
    CutSearch(SearchTask task, const SearchLimits& limits);
    ~CutSearch();
    CutSearch(const CutSearch&) = delete;
    CutSearch& operator=(const CutSearch&) = delete;

    /// Takes in a tree known from elsewhere, to be bettered in parts. Nothing when it doesn't fit here.
    void adopt(const CutTree& known);
    /// Searches to the end of the limits, or until fewer than `least` pieces would be needed to be better.
    /// @param onBetter  hears of each tree with fewer pieces than `fewerThan` and all before; false: go no further
    void run(int fewerThan, int least, const std::function<bool(const PlaneTreePtr&)>& onBetter);

    const PlaneTreePtr& best() const { return m_root->best; }
    /// The best tree, and those that begin with another plane: fewest pieces first, then the least area.
    std::vector<PlaneTreePtr> ways() const;
    const mesh::Mesh& mesh() const { return m_whole; }
    std::uint64_t work() const { return m_work; }
    const CutGround& ground() const { return *m_ground; }
    /// Hears of progress from 0 to 1 (by time).
    std::function<void(double)> onProgress;

private:
    int solve(CutNode& node, int departures, int limit);
    bool follow(CutNode& node, CutMove& move, int departures, int limit);
    bool tellIfBetter();
    bool again(std::mt19937& random, int round);
    void adopt(CutNode& node, const CutTree& known);
    void grow(CutNode& node, const Breadth& breadth);
    bool late() const;
    bool stopped() const;

    SearchLimits m_limits;
    std::unique_ptr<CutGround> m_ground;
    std::unique_ptr<LimbCuts> m_limbCuts;
    mesh::Mesh m_whole;
    std::unique_ptr<CutNode> m_root;
    std::uint64_t m_work = 0;
    std::chrono::steady_clock::time_point m_begun;
    int m_told = 0, m_least = 0;
    bool m_enough = false;
    std::function<bool(const PlaneTreePtr&)> m_onBetter;
};

} // namespace quoin::core
