// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_shape.h"

#include <span>

/// Dowels cut from bought rod.
namespace quoin::core {

/// Diameters that the trade sells, mm, ascending (common practice, no source): wood dowel rod, drawn steel bar. Empty
/// for a printed dowel.
std::span<const double> rodDiametersMm(JointForm::Rod rod);

/// Whether a dowel can be made of its rod; always, for a printed one.
/// @return BadArgument in words: keyed (a bought rod is round), or a diameter that isn't sold; the remedy names the
///         next ones
Status rodCheck(const Joint& joint);

/// The rod, cut to length: "wood dowel rod 12 x 48 mm"; none for a printed dowel. Errors as above.
Result<std::vector<BoughtPart>> rodParts(const Joint& joint);

} // namespace quoin::core
