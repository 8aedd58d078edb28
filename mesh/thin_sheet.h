// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/edge_collapse.h"

#include <utility>
#include <vector>

namespace quoin::mesh {

struct ThinSheetOptions {
    double thinMm = 0; ///< two faces no farther apart than this count as pressed together
    double openMm = 0; ///< and are moved this far apart; more than thinMm
};

/// Opens sheets without a thickness that a file could hold: where two flat faces of a solid that look opposite ways
/// lie on one plane and over each other, as when a cut runs through a face of the model but for the last digits. The
/// corners of one of them (the model's own skin, never what stands on z = 0) are moved off the plane: outwards when
/// material is between the faces, inwards when there is a gap. Rounding would fold such sheets; after this it can't.
/// Corners that both faces share stay, so a wedge opens like a book; an edge inside the other face with both ends
/// shared gets a new corner in its middle, which is moved instead.
/// @param suspects  pairs of triangles that meet, or triangles (paired with themselves) with short sides or little
///        height: a sheet without thickness has such on its rim
/// @return corners moved
std::size_t openThinSheets(EditMesh& mesh, Drift& drift, const std::vector<std::pair<Index, Index>>& suspects,
                           const ThinSheetOptions& options);

} // namespace quoin::mesh
