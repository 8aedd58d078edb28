// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "mesh/tolerance.h"

namespace quoin::core {

/// Rounding: a piece may be larger than the room by this share and still counts as fitting. Files hold 32-bit floats:
/// half a step at each end of an extent, at most, and as much again in the model that was read. A cube of 200 mm fits
/// a bed of 200 mm; scaled by 1.000001 it doesn't.
inline constexpr double fitRelative = 4 * mesh::tolerance::floatRelative;

/// What a bed leaves for a piece, its margin taken off: a box, or a cylinder of diameter widthMm. mm; may be negative.
struct BedRoom {
    bool round = false;
    double widthMm = 0, depthMm = 0, heightMm = 0;
};

inline BedRoom roomOf(const Bed& bed, double marginMm)
{
    return {bed.shape == Bed::Shape::Round, bed.widthMm - 2 * marginMm, bed.depthMm - 2 * marginMm,
            bed.heightMm - marginMm};
}

/// The same with what rounding may add.
inline BedRoom withRounding(const BedRoom& room)
{
    constexpr double grown = 1 + fitRelative;
    return {room.round, grown * room.widthMm, grown * room.depthMm, grown * room.heightMm};
}

} // namespace quoin::core
