// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/cut_search.h"

#include <functional>

namespace quoin::core {

/// What is held against one cut: the cell that it cuts, the plane, and the section in the plane's frame. Less is
/// better.
using CutCost = std::function<double(const mesh::Mesh& cell, const mesh::Plane& plane, const mesh::Region& section)>;

/// A tree of planes with what it costs.
struct PricedTree {
    PlaneTreePtr tree;
    double cost = 0;
};

/// Cuts a mesh by a tree of planes and adds up the cost; planes that meet nothing are left out. nullopt when a piece
/// doesn't fit, a cut fails or passes a marked place, or there are more pieces than `mostPieces`.
std::optional<PricedTree> priced(const mesh::Mesh& mesh, const std::vector<HalfSpace>& within, const PlaneTree& tree,
                                 const CutGround& ground, const CutCost& cost, int mostPieces);

/// Moves and turns the planes of a tree, one after another, to where they cost less: along their normal to necks of the
/// section and by smaller and smaller steps, to directions that the part has of its own, and by small tilts. What lies
/// under a plane is cut anew each time, and every piece must still fit; their number never grows. When a plane is no
/// longer needed it is dropped.
/// @param rounds  over the whole tree, at most; it ends when one brings nothing
PricedTree polished(const mesh::Mesh& mesh, const std::vector<HalfSpace>& within, PricedTree tree,
                    const CutGround& ground, const CutCost& cost, int rounds, unsigned seed,
                    const SearchLimits& limits);

} // namespace quoin::core
