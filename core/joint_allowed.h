// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_probe.h"
#include "mesh/context.h"
#include "mesh/result.h"

namespace quoin::core {

/// Every place of the region lies inside the true one by about this much, so that rounding never allows what isn't.
inline constexpr double allowedMarginMm = 0.02;

/// Where the axis of a joint may stand on its seam: wherever radius, clearance and wall hold in 3D on both sides down
/// to the full depth, and the walls to the other joints. In the frame of the cut's plane; empty when there is no such
/// place. What is narrower than the grid (a sixtieth of the face's width, 0.15 to 1 mm) may be missed.
///
/// Marching squares (Lorensen and Cline 1987, in two dimensions) over a grid of which only the squares near the border
/// are looked at: the room at a place can't differ by more than the way to it. The border is then found on the grid's
/// edges and between them by its own measure, not by interpolation alone.
/// @param joints  all that count; the place of `which` itself doesn't
/// @return Cancelled
Result<mesh::Region> allowedRegion(const JointProbe& probe, const std::vector<Joint>& joints, std::size_t which,
                                   const Context& context = {});

} // namespace quoin::core
