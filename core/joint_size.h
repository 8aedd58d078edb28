// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint.h"

#include <string>
#include <vector>

/// What sizes a joint can have: at all, and in the series that is chosen from.
namespace quoin::core {

/// Why a joint of this size can't be made anywhere, whatever its kind: not a number, too small, too large, no such
/// thread, no such bolt. Empty when it can.
std::string sizeFault(const Joint& joint);

/// The sizes of a joint's kind that are chosen from, mm, ascending: dowels and keys dowelSeriesMm, bought rods as
/// they are sold, printed threads
/// printableSizes, trapezoidal ones the preferred diameters of ISO 2902, draw bolts ISO 4762.
std::vector<double> sizeSeries(const JointForm& form);

/// The same joint in another size of its series; threads get the pitch that belongs to it.
Joint resized(Joint joint, double diameterMm);

/// The least depth that such a joint can have, mm; its own depth when that can't be changed alone (draw bolts).
double leastDepthMm(const Joint& joint);

} // namespace quoin::core
