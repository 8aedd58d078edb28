// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/cell_grid.h"
#include "core/cut_tree.h"
#include "core/keep_clear.h"
#include "core/leaf_fit.h"
#include "core/solid_cloud.h"
#include "mesh/context.h"
#include "mesh/result.h"

#include <chrono>
#include <optional>

namespace quoin::core {

/// One way of cutting by a grid.
struct GridWay {
    GridFrame frame;
    CellCounts counts{1, 1, 1};        ///< for the whole; parts of it are divided anew
    std::array<int, 3> order{0, 1, 2}; ///< which axis is cut first
    bool choosePlaces = false;         ///< move planes within their slack to where the faces are better
    std::size_t cellsHeld = 0;         ///< estimate of the pieces
};

/// What everything is fitted to, and when to stop.
struct GridJob {
    const std::vector<Bed>& beds;
    FitOptions fit;
    bool islandsApart = true;
    const Context& context;
    std::optional<std::chrono::steady_clock::time_point> deadline; ///< none: until it is finished
    int mostPieces = 1'000'000;                                    ///< give up beyond these
    const KeepClear* keepClear = nullptr;                          ///< places that no cut may pass; may be null
    std::vector<HalfSpace> within{};                               ///< the cell that the mesh lies in
};

/// A plane across an axis of the frame that parts the bodies of a mesh without cutting any, the one nearest to the
/// middle; nullopt when there is none.
std::optional<mesh::Plane> partingPlane(const LeafBodies& bodies, const GridFrame& frame);

/// Cuts a mesh until every piece fits: what fits is left whole; what doesn't is divided evenly along the first axis of
/// the order that wants dividing, middle plane first, then each part by itself. Bodies that a plane can part without
/// cutting are parted. A part that should fit as a box but doesn't as it is (no flat face to stand on the right way) is
/// halved along its longest side. Planes keep clear of marked places: within their slack, else with more cells, else
/// along another axis.
/// @return Cancelled also when the deadline or the number of pieces is passed; DoesNotFit when halving comes to its
/// end,
///         or when marked places leave no way
Result<CutTree> cutByGrid(const mesh::Mesh& leaf, const SolidCloud& cloud, const GridWay& way, const GridJob& job);

/// The division of a box that holds material in the fewest cells; ties go to the fewest cells in all, then to the least
/// cut area. nullopt when nothing fits.
std::optional<CellCounts> fewestCells(const GridFrame& frame, mesh::Vec3 extentsMm, const SolidCloud& cloud,
                                      const std::vector<Bed>& beds, const FitOptions& fit);

} // namespace quoin::core
