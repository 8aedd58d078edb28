// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/cut_normals.h"
#include "core/cut_sweep.h"
#include "core/keep_clear.h"
#include "core/limb_cuts.h"
#include "core/piece_estimate.h"
#include "core/quick_fit.h"

#include <functional>
#include <memory>
#include <vector>

namespace quoin::core {

/// Planes found: a leaf (no children), or a plane and what follows on its two sides. Never changed once made.
struct PlaneTree {
    mesh::Plane plane;
    std::shared_ptr<const PlaneTree> below, above;
    int pieces = 1;
    double areaMm2 = 0; ///< of all its sections
};
using PlaneTreePtr = std::shared_ptr<const PlaneTree>;

struct CutNode;

/// One way of going on from a node.
struct CutMove {
    mesh::Plane plane;
    double areaMm2 = 0;
    std::unique_ptr<CutNode> below, above;
    double value = 0; ///< the less the sooner it is tried: estimated pieces first
    int estimate = 0; ///< pieces
    int least = 0;    ///< pieces, proved
    double dislike = 0;
    int id = 0; ///< its own among the ways of its node
};

/// A body of a cell, and what is known of its cutting.
struct CutBody {
    bool fits = false;
    int estimate = 1, least = 1;
    double hullMm3 = 0;
    mesh::Buffer<mesh::Vec3> outline; ///< corners of its hull
};

/// What lies in one cell of a tree of planes, with the ways of cutting it that were looked at.
struct CutNode {
    mesh::Mesh mesh; ///< empty when all fits
    std::vector<HalfSpace> within;
    std::vector<CutBody> bodies;
    std::vector<mesh::Vec3> downs; ///< flat faces to stand on
    int pieces = 0;                ///< bodies
    bool fits = true;              ///< each of them
    int estimate = 0, least = 0;   ///< sums over the bodies
    bool expanded = false;
    int tries = 0; ///< how often it was taken up again with other directions
    int triedWith = -1, triedLimit = 0;
    std::vector<CutMove> moves;
    PlaneTreePtr best;
    int bestMove = -1; ///< id of the way that `best` takes
    int moveIds = 0;   ///< how many were given away
};

/// What a search has in common for all its nodes.
struct CutGround {
    std::vector<Bed> beds;
    FitOptions fit;
    bool islandsApart = true;
    std::shared_ptr<const KeepClear> keepClear;
    unsigned seed = 1;
    QuickFit quick;
    PieceEstimator estimator;
    std::vector<GridFrame> frames;  ///< of the whole
    std::vector<mesh::Vec3> downs;  ///< its flat faces to stand on
    std::vector<CutNormal> normals; ///< of the whole
    std::vector<LimbCut> limbs;
    const LimbCuts* limbCuts = nullptr;
    std::function<bool()> stopped; ///< whether nobody waits for the outcome any more
};

/// Looks at what a mesh is: its bodies, whether they fit, how many pieces each may take.
std::unique_ptr<CutNode> nodeOf(mesh::Mesh mesh, std::vector<HalfSpace> within, const CutGround& ground);

/// How widely a node's ways are looked for.
struct Breadth {
    std::size_t cuts = 12;           ///< planes that are really cut
    std::size_t kept = 8;            ///< ways that are kept
    std::vector<mesh::Vec3> more;    ///< further directions
    std::vector<mesh::Plane> planes; ///< planes to try in any case
    bool onlyThese = false;          ///< leave out the usual directions
};

/// Ways of going on from a node, the best first; those that it had stay. Bodies that a plane parts without cutting are
/// parted and nothing else is tried.
void expand(CutNode& node, const CutGround& ground, const Breadth& breadth);

} // namespace quoin::core
