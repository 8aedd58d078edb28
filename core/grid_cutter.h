// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/cell_grid.h"
#include "core/cut_plan.h"
#include "core/leaf_fit.h"
#include "core/solid_cloud.h"
#include "mesh/context.h"
#include "mesh/result.h"

#include <chrono>
#include <cstdint>
#include <memory>
#include <optional>

namespace quoin::core {

/// Cuts being worked out: a leaf (no children), or a plane and what lies on its two sides.
struct CutTree {
    mesh::Plane plane;
    std::unique_ptr<CutTree> below, above;
    int pieces = 0;        ///< of everything under this node
    int withoutRoom = 0;   ///< islands of its cuts that don't take two dowels (core/section_score.h)
    double areaMm2 = 0;    ///< of its cuts
    std::uint64_t sum = 0; ///< of a leaf: checksum of the mesh that was fitted
};

/// A checksum of points and triangles: the same for the same mesh only, for all that matters here (FNV-1a).
std::uint64_t checksum(const mesh::Mesh& mesh);

/// A mesh that fits as it is.
CutTree leafOf(const mesh::Mesh& mesh, const LeafFit& fit);

/// Adds a tree's cuts to a plan. @return the node, or -1 for a leaf
int appendTo(CutPlan& plan, const CutTree& tree);

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
};

/// A plane across an axis of the frame that parts the bodies of a mesh without cutting any, the one nearest to the
/// middle; nullopt when there is none.
std::optional<mesh::Plane> partingPlane(const LeafBodies& bodies, const GridFrame& frame);

/// Cuts a mesh until every piece fits: what fits is left whole; what doesn't is divided evenly along the first axis of
/// the order that wants dividing, middle plane first, then each part by itself. Bodies that a plane can part without
/// cutting are parted. A part that should fit as a box but doesn't as it is (no flat face to stand on the right way) is
/// halved along its longest side.
/// @return Cancelled also when the deadline or the number of pieces is passed; DoesNotFit when halving comes to its end
Result<CutTree> cutByGrid(const mesh::Mesh& leaf, const SolidCloud& cloud, const GridWay& way, const GridJob& job);

/// The division of a box that holds material in the fewest cells; ties go to the fewest cells in all, then to the least
/// cut area. nullopt when nothing fits.
std::optional<CellCounts> fewestCells(const GridFrame& frame, mesh::Vec3 extentsMm, const SolidCloud& cloud,
                                      const std::vector<Bed>& beds, const FitOptions& fit);

} // namespace quoin::core
