// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed_room.h"
#include "mesh/mesh.h"

#include <array>

namespace quoin::core {

/// The directions in the piece's frame that become x, y, z of the bed: the rows of a rotation.
using BedAxes = std::array<mesh::Vec3, 3>;

/// A turned piece and the least room that it leaves: over x, y, z for a box, radius and height for a round bed, mm.
struct Standing {
    BedAxes axes;
    double slackMm;
};

/// Stands points on a plate with `down` (unit) pointing to it, in the best turn about it.
/// @param giveUpBelowMm  when the height alone leaves less than this, the turn is not looked for, and the slack is
///                       that of the height
Standing standOn(const mesh::Buffer<mesh::Vec3>& points, mesh::Vec3 down, const BedRoom& room,
                 double giveUpBelowMm = -1e300);

/// Least room left for points turned by `axes`.
double slackOf(const mesh::Buffer<mesh::Vec3>& points, const BedAxes& axes, const BedRoom& room);

} // namespace quoin::core
