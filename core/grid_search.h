// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/grid_cutter.h"
#include "core/suggest.h"

#include <chrono>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace quoin::core {

/// Looks for the best grid for one mesh: first for any that works, then, as long as asked, for a better one.
class GridSearch {
public:
    /// What the search for several meshes has in common.
    struct Shared {
        const std::vector<Bed>& beds;
        const SuggestOptions& options;
        const Context& context;
        std::chrono::steady_clock::time_point deadline;
    };

    /// @param within  the cell that the mesh lies in, for the marked places
    GridSearch(mesh::Mesh leaf, std::vector<HalfSpace> within, int leastPieces, const Shared& shared);
    GridSearch(const GridSearch&) = delete;
    GridSearch& operator=(const GridSearch&) = delete;

    /// Finds cuts, however long it takes. @return Cancelled, or DoesNotFit with the first reason met
    Status first();
    /// Looks for better ones until the deadline, the least number of pieces, or the end of what can be tried; may be
    /// called after first(). Calls onBetter each time that best() has become better.
    void improve(const std::function<void()>& onBetter);

    const CutTree& best() const { return *m_best; }
    /// How it was cut.
    std::string words() const;
    int tried() const { return m_tried; }
    /// Hears of progress from 0 to 1.
    std::function<void(double)> onProgress;

private:
    std::vector<GridWay> waysIn(const std::vector<GridFrame>& frames) const;
    std::vector<GridWay> ways() const;
    bool attempt(const GridWay& way);
    void tryHarder();
    void progress(std::size_t step) const;
    bool done() const;

    mesh::Mesh m_leaf;
    std::vector<HalfSpace> m_within;
    int m_leastPieces;
    const Shared& m_shared;
    PieceShape m_shape;
    SolidCloud m_cloud;
    std::vector<GridWay> m_ways;
    std::size_t m_next = 0; ///< of m_ways
    int m_tried = 0;
    std::optional<CutTree> m_best;
    GridWay m_bestWay;
    std::optional<Problem> m_problem;
};

} // namespace quoin::core
