// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/cut_plan.h"
#include "core/leaf_fit.h"

#include <cstdint>
#include <memory>

namespace quoin::core {

/// Cuts being worked out: a leaf (no children), or a plane and what lies on its two sides.
struct CutTree {
    mesh::Plane plane;
    std::unique_ptr<CutTree> below, above;
    int pieces = 0;        ///< of everything under this node
    int withoutRoom = 0;   ///< islands of its cuts that don't take two dowels (core/section_score.h)
    double areaMm2 = 0;    ///< of its cuts
    std::uint64_t sum = 0; ///< of a leaf: checksum of the mesh that was fitted

    CutTree copy() const;
    int cuts() const { return below ? 1 + below->cuts() + above->cuts() : 0; }
};

/// A checksum of points and triangles: the same for the same mesh only, for all that matters here (FNV-1a).
std::uint64_t checksum(const mesh::Mesh& mesh);

/// A mesh that fits as it is.
CutTree leafOf(const mesh::Mesh& mesh, const LeafFit& fit);

/// Adds a tree's cuts to a plan. @return the node, or -1 for a leaf
int appendTo(CutPlan& plan, const CutTree& tree);

} // namespace quoin::core
