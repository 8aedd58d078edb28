// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

namespace quoin::ui {

/// Height of the figure that stands beside large things, mm.
inline constexpr double personHeightMm = 1750;

/// A standing person as a flat outline (no thickness) in a plane through the foot point, `right` (unit, horizontal)
/// across and z up. Middle of the feet at `foot`. Parts overlap: for drawing in one plain colour.
mesh::Mesh personOutline(mesh::Vec3 foot, mesh::Vec3 right);

/// The largest of 1, 2, 5, 10, 20, 50, ... that is at most `mostMm`; 0.001 at least.
double roundLengthMm(double mostMm);

/// One of the two colours of a ranging rod of five equal fields, lying from `start` along `right` on the floor:
/// fields 0, 2, 4 or fields 1, 3. Square section with the given side.
mesh::Mesh rodFields(mesh::Vec3 start, mesh::Vec3 right, double lengthMm, double sideMm, bool odd);

} // namespace quoin::ui
