// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

/// Sizes of the small heron, mm (angles in degrees). In the sculpture x is forward, y to the heron's left, z up; the
/// ground is z = 0 and the column's axis x = y = 0.
namespace quoin::samples::size {

// Fits, on the radius (common practice for printed parts, no source).
inline constexpr double runningFit = 0.2; ///< a pin that turns in its hole
inline constexpr double fixedFit = 0.1;   ///< a peg or a spigot that is glued in
inline constexpr double seatGap = 0.1;    ///< a glued shoulder over its seat
inline constexpr double sideGap = 0.4;    ///< between faces that slide past one another

// Stand.
inline constexpr double plinthLength = 104, plinthWidth = 84, plinthHeight = 15;
inline constexpr double columnFootZ = plinthHeight - 1.6; ///< the socket's rim lies in the middle of the ripples
inline constexpr double columnTopZ = 113.5;
inline constexpr double footPegRadius = 6.5, footPegFlat = 4.8, footPegLength = 9;
inline constexpr double topPegRadius = 4.2, topPegFlat = 3.0, topPegLength = 9;
inline constexpr double socketSpare = 0.6; ///< a socket is deeper than its peg by this

// Crank.
inline constexpr double crankZ = 100;
inline constexpr double columnFaceX = 7.2; ///< flats of the column on both sides of the bore
inline constexpr double throwRadius = 6;
inline constexpr double wheelRadius = 14.5, wheelThickness = 4;
inline constexpr double axleRadius = 3, axleFlat = 2.0;
inline constexpr double wheelBackX = columnFaceX + sideGap;
inline constexpr double wheelFrontX = wheelBackX + wheelThickness;
inline constexpr double handleThrow = 11;

// Rods.
inline constexpr double rodLength = 42; ///< between the hole centres
inline constexpr double rodThickness = 3, rodEye = 3.6, rodWaist = 2.2;
inline constexpr double leftRodX = wheelFrontX + sideGap + rodThickness / 2; ///< middle plane
inline constexpr double rightRodX = leftRodX + rodThickness + sideGap;

// Pins.
inline constexpr double crankPinRadius = 1.8, rodPinRadius = 1.6, wingPinRadius = 2.0, spigotRadius = 1.3;
inline constexpr double spigotLength = 2.3, collarThickness = 2.4, collarRadius = 3.0;
inline constexpr double headLength = 1.8, pinChamfer = 0.3;

// Wings. The hinge axis runs along x; the wing's own frame has its origin on the axis, in the middle of the hub, and
// +y towards the tip of the left wing.
inline constexpr double hingeX = 4, hingeY = 13, hingeZ = 139;
inline constexpr double hubRadius = 4.6, hubHalf = 9;
inline constexpr double knuckleLength = 6;
inline constexpr double hingeRelief = 0.3;        ///< rubbing faces of the hinge stand out by this
inline constexpr double leverY = 12, leverZ = -7; ///< rod pin in the wing's frame
inline constexpr double leverEye = 3.4, lugThickness = 2.4;
inline constexpr double wingSpan = 82;

// Neck: where the body ends and the neck begins, and the direction there.
inline constexpr double neckX = 28.5, neckZ = 147, neckRise = 58;
inline constexpr double neckRadius = 6.2;
inline constexpr double neckPegRadius = 3.8, neckPegFlat = 2.8, neckPegLength = 9;

} // namespace quoin::samples::size
