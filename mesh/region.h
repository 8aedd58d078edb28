// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/plane.h"

#include <vector>

namespace quoin::mesh {

/// Coordinates are rounded to this step (mm) inside the polygon library, which works on integers. It is a rounding
/// step for laying out features, never a print clearance, and no mesh vertex goes through it.
inline constexpr double regionStepMm = 1e-5;

Region intersection(const Region& a, const Region& b);
Region unionOf(const Region& a, const Region& b);
Region difference(const Region& a, const Region& b);
/// Grown (positive) or shrunk (negative) by a distance in mm, round corners with chord error arcErrorMm.
Region offset(const Region& region, double distanceMm, double arcErrorMm = 0.01);
/// Area swept by a pen of the given width along open paths, round ends: for stroke letters.
Region strokes(const std::vector<std::vector<Vec2>>& paths, double widthMm, double arcErrorMm = 0.01);
/// Connected parts: each an outer loop with its holes.
std::vector<Region> islands(const Region& region);

} // namespace quoin::mesh
