// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_shape.h"
#include "mesh/context.h"
#include "mesh/result.h"

namespace quoin::core {

/// Faces of the features on the face of node n carry this plus n + 1 as their label.
inline constexpr mesh::Label featureLabelBase = 1000000;

/// The pieces with joints and marks made, in the assembled frame; same order as `pieces`. JointFailed, by name, when a
/// joint leaves its face, meets another, or can't be made.
Result<std::vector<mesh::Mesh>> jointedPieces(const std::vector<Piece>& pieces, const std::vector<Seam>& seams,
                                              const CutPlan& plan, const JointLayout& layout,
                                              const Context& context = {});

/// One of them (its number).
Result<mesh::Mesh> jointedPiece(const Piece& piece, const std::vector<Seam>& seams, const CutPlan& plan,
                                const JointLayout& layout);

/// Volume that the joints and marks of a layout take out of all pieces through their cut faces, mm3, from their own
/// geometry; what they add to pieces is taken off it. What they take through other surfaces is not in it (takenVolume).
Result<double> sunkVolumeMm3(const std::vector<Seam>& seams, const CutPlan& plan, const JointLayout& layout);

/// Volume that they and witness lines take out of a part through its other surfaces, mm3: measured on the part, each
/// opening clipped to its own side of its cut. `part` is the whole, uncut.
Result<double> takenVolumeMm3(const mesh::Mesh& part, const std::vector<Seam>& seams, const CutPlan& plan,
                              const JointLayout& layout);

} // namespace quoin::core
