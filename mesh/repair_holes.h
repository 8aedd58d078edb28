// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/result.h"

namespace quoin::mesh {

struct HoleFilling {
    std::size_t holes = 0;
    std::size_t triangles = 0;
    double areaMm2 = 0;
    double longestRimMm = 0;
};

/// Closes every rim of open edges of an oriented mesh. A rim in one plane is closed flat; a short one gets the best
/// triangulation of its corners (dihedral angle, then area); a longer one is refined to the density of its
/// surroundings and faired, so that it goes on smoothly (Liepa 2003), unless that runs into the surface, when it stays
/// plain. New triangles may still cut the surface: look afterwards. They carry the skin label.
/// @param longestRimMm  longer rims that don't lie in one plane are refused (NotRepairable, with length and place)
Result<HoleFilling> fillHoles(Mesh& mesh, double longestRimMm);

} // namespace quoin::mesh
