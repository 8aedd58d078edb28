// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/thread_mesh.h"
#include "mesh/mesh.h"
#include "mesh/recess.h"

#include <string>

namespace quoin::test {

/// Face label of a piece's side at z = 0 in screwedBoxes and boxWithFeatures.
inline constexpr mesh::Label facedLabel = 1;

/// A box from z = low to z = high, one of them 0: that side carries facedLabel and the features.
Result<mesh::Mesh> boxWithFeatures(mesh::Vec3 min, mesh::Vec3 max, const std::vector<mesh::FacePatch>& patches);

/// Two boxes that touch in z = 0, the upper one with a stud that is screwed into the lower one.
struct ScrewedBoxes {
    mesh::Mesh below, above;
    core::ThreadedShape shape;
    mesh::Vec3 at; ///< point of the axis, in z = 0
};
ScrewedBoxes screwedBoxes(const std::string& designation, double lengthMm, double clearanceMm, double chordMm);

} // namespace quoin::test
