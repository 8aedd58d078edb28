// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/cut_search.h"
#include "core/grid_search.h"
#include "core/search_proxy.h"

#include <optional>

namespace quoin::core {

/// Looks for cuts of one mesh: first a grid, then trees of planes at any orientation. Everything is looked for in a
/// stand-in with few triangles and on beds made smaller by what that may be off; only what then fits on the mesh itself
/// counts.
class BranchSearch {
public:
    /// What the search for several meshes has in common.
    using Shared = GridSearch::Shared;

    /// @param within      the cell that the mesh lies in, for the marked places
    /// @param directions  normals worth looking along, besides the mesh's own
    BranchSearch(mesh::Mesh leaf, std::vector<HalfSpace> within, int leastPieces, const Shared& shared,
                 std::vector<mesh::Vec3> directions = {});
    BranchSearch(const BranchSearch&) = delete;
    BranchSearch& operator=(const BranchSearch&) = delete;

    /// Finds cuts, however long it takes. @return Cancelled, or DoesNotFit with the first reason met
    Status first();
    /// Whether what first() found has only been fitted on the stand-in: the caller must carry it out, and call
    /// firstOnMesh() when a piece doesn't fit.
    bool provisional() const { return m_provisional; }
    /// As first(), in the mesh itself, which takes longer.
    Status firstOnMesh();
    /// Looks for better ones until a time, the end of the work allowed, the least number of pieces or the end of
    /// what can be tried. Calls onBetter each time that best() has become better.
    void improve(std::chrono::steady_clock::time_point until, const std::function<void()>& onBetter);

    const CutTree& best() const { return *m_ways.front().tree; }
    /// How it was cut.
    const std::string& words() const { return m_ways.front().words; }
    /// The best way and others that clearly differ from it, the better first. Empty before first().
    struct Way {
        std::shared_ptr<const CutTree> tree;
        std::string words;
        double cost = 0; ///< weighed terms, in the stand-in; only to compare ways that were polished
        bool polished = false;
    };
    const std::vector<Way>& ways() const { return m_ways; }
    int gridsTried() const { return m_gridsTried; }
    std::uint64_t work() const { return m_work; }
    /// Hears of progress from 0 to 1.
    std::function<void(double)> onProgress;

private:
    bool takeGrid(const GridSearch& grid);
    bool take(CutTree tree, std::string words);
    void gridOnMesh(const std::function<void()>& onBetter);
    void searchTrees(const std::function<void()>& onBetter);
    void polish(const CutSearch& search, const std::function<void()>& onBetter);
    void prepare(std::size_t mostTriangles);
    Status firstGrid(const mesh::Mesh& mesh, bool exact, const Shared& shared);
    bool late() const;
    std::function<void(double)> progressOver(double from, double share) const;
    bool done() const { return late() || best().pieces <= m_leastPieces; }
    std::chrono::steady_clock::time_point after(double shareOfRest) const;

    mesh::Mesh m_leaf;
    std::vector<HalfSpace> m_within;
    int m_leastPieces;
    const Shared& m_shared;
    std::vector<mesh::Vec3> m_directions;
    std::chrono::steady_clock::time_point m_until;

    SearchProxy m_proxy;
    std::vector<Bed> m_shrunk;
    std::optional<Shared> m_onProxy, m_onMesh;
    std::unique_ptr<GridSearch> m_grid;
    bool m_gridIsExact = true; ///< the stand-in is the mesh itself, or the grid was looked for in that

    std::vector<Way> m_ways;
    bool m_provisional = false;
    int m_gridsTried = 0;
    std::uint64_t m_work = 0;
};

/// Cuts a mesh as a plan would and fits every piece. Cancelled, CutFailed, or DoesNotFit at the first that doesn't fit.
Result<CutTree> carriedOut(const mesh::Mesh& leaf, const PlaneTree& planes, const BranchSearch::Shared& shared);

} // namespace quoin::core
