// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/design.h"
#include "mesh/mesh.h"
#include "mesh/plane.h"
#include "mesh/result.h"

#include <utility>
#include <vector>

namespace quoin::core {

/// The face that a cut makes.
struct CutSection {
    mesh::Plane plane;
    mesh::Region outline; ///< in frameOf(plane)
    double areaMm2 = 0;
};

/// The face that a plane makes in a part, limited to the sides of other planes (true: above).
/// @param scaled  the scaled part, closed
Result<CutSection> sectionOf(const mesh::Mesh& scaled, const mesh::Plane& plane,
                             const std::vector<std::pair<mesh::Plane, bool>>& sides = {});

/// The limits of a cut as planes; limits by cuts that are switched off are left out.
std::vector<std::pair<mesh::Plane, bool>> limitsOf(const PartDesign& part, const std::vector<CutSide>& within);

} // namespace quoin::core
