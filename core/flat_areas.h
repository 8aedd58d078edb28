// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/plane.h"

#include <vector>

namespace quoin::core {

/// A flat face of a model: all triangles in one plane together.
struct FlatArea {
    mesh::Plane plane; ///< normal outward
    double areaMm2 = 0;
};

/// The flat faces of a model, largest first: triangles whose planes agree within 0.05 degrees and a ten-thousandth of
/// the model's size. Only those of at least `leastShare` of the whole surface. What a cut likes to be parallel to.
std::vector<FlatArea> flatAreas(const mesh::Mesh& mesh, double leastShare = 0.002, std::size_t most = 200);

} // namespace quoin::core
