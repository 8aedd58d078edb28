// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"
#include "mesh/plane.h"
#include "mesh/result.h"

#include <functional>

namespace quoin::core {

/// A measure over a plane that changes by no more than the place moves (mm for mm), such as a distance.
using Measure = std::function<double(mesh::Vec2)>;

/// The region of a box in which a measure is not negative, outlined to about a hundredth of a mm: its corners lie on
/// the inner side, outer loops counter-clockwise, holes clockwise.
/// @param low, high  corners of the box; the measure must be negative on its border and beyond
/// @param stepMm     grid; parts and holes smaller than a square of it may be missed
/// @return Cancelled
Result<mesh::Region> levelOutline(const Measure& measure, mesh::Vec2 low, mesh::Vec2 high, double stepMm,
                                  const Context& context = {});

} // namespace quoin::core
