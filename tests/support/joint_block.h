// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_shape.h"
#include "mesh/mesh.h"
#include "mesh/plane.h"

namespace quoin::test {

/// A block about a joint's place, cut in two by a tilted plane.
struct JointBlock {
    mesh::Plane cut;
    mesh::Mesh below, above;
    const mesh::Mesh& half(bool isAbove) const { return isAbove ? above : below; }
};

/// @param halfMm  half the length of the block's edges; the place is in its middle
JointBlock jointBlock(const core::Joint& joint, double halfMm, unsigned seed);

/// One half with what the joint changes on it, in the way in which pieces are made. Problems are passed on.
Result<mesh::Mesh> withSide(const JointBlock& block, const core::SideShape& side, bool above);

/// Only the triangles that the joint made.
mesh::Mesh featureOf(const mesh::Mesh& piece);

/// Whether all points of what a joint made lie in one or another of the zones that its side names.
bool inZones(const mesh::Mesh& m, const core::SideShape& side);

} // namespace quoin::test
