// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_shape.h"

/// What a witness line is made of; everything follows from the plain data of a Witness.
namespace quoin::core {

/// The closed solid that is taken from both pieces: a V along the stations, its bottom depthMm below the skin, widthMm
/// wide there; it stands out of the skin and goes on widening so far that the groove's edges are clean.
mesh::Mesh witnessTool(const Witness& witness);

/// Cylinders, one a stretch, that hold all that the groove takes of the pieces.
std::vector<JointZone> witnessZones(const Witness& witness);

/// Along the seam on the skin: square to the line, unit.
mesh::Vec3 witnessAcross(const Witness& witness);

} // namespace quoin::core
