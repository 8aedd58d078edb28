// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed_fit.h"
#include "core/cut_plan.h"
#include "mesh/mesh.h"
#include "mesh/plane.h"

#include <string>
#include <vector>

namespace quoin::core {

/// A leaf's body: what is printed as one.
struct Piece {
    int number = 0; ///< from 1, in the order of the plan's leaves
    Path path;
    mesh::Mesh mesh; ///< assembled frame, labelled by cut, joints not yet sunk
    Pose pose;
};

/// Where two pieces meet: one island of the overlap of their faces on one cut.
struct Seam {
    int cut = 0;        ///< node of the plan
    int pieceBelow = 0; ///< piece numbers
    int pieceAbove = 0;
    std::string mark;    ///< mating mark, the same on both sides: A, B, ... Z, AA, ...
    mesh::Region region; ///< in frameOf(plane of the cut), seen from above
    double areaMm2 = 0;
};

/// Pieces of a part: the bodies of the plan's leaves, numbered. With islandsApart false, a leaf is one piece however
/// many bodies it has. Poses are not set. Crumbs, bodies of less than a hundredth of a mm3 or thinner than two
/// thousandths of a mm, such as a plane leaves when it all but touches the surface, are left out.
/// @param crumbs  if not null, is set to how many were left out
std::vector<Piece> piecesOf(const std::vector<Leaf>& leaves, bool islandsApart = true, int* crumbs = nullptr);

/// Whether a body is too small to print or to find again on the floor: a crumb as above.
bool isCrumb(const mesh::Mesh& body);

/// All seams between pieces, marks given in order. Overlaps of less than 1 mm2 are not seams.
std::vector<Seam> seamsOf(const std::vector<Piece>& pieces, const CutPlan& plan);

} // namespace quoin::core
