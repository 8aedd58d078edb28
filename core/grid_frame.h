// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/piece_shape.h"
#include "mesh/mass.h"

#include <array>
#include <string>
#include <vector>

namespace quoin::core {

/// The three directions of a cutting grid: unit vectors at right angles, right-handed.
struct GridFrame {
    std::array<mesh::Vec3, 3> axes;
    std::string words; ///< "along the part's own axes"
};

/// Directions worth cutting along: the part's own axes; those turned about each of them to the least rectangle; the
/// hull's boxes of least volume and of least longest side, found over its faces; the principal axes of the mass.
/// Frames that differ only by the order or the sign of their axes come once, the first of them.
std::vector<GridFrame> gridFrames(const PieceShape& part, const mesh::MassProperties& mass);

/// The axes of inertia, unit vectors at right angles.
std::array<mesh::Vec3, 3> principalAxes(const mesh::MassProperties& mass);

/// Bounds of points in a frame.
mesh::Box3 boundsIn(const GridFrame& frame, const mesh::Buffer<mesh::Vec3>& points);

} // namespace quoin::core
