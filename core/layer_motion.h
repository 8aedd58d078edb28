// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/recipe.h"
#include "mesh/plane.h"

/// How long a head takes along lines: constant acceleration up to a speed, and slower round corners. mm, mm/s, mm/s2,
/// s.
namespace quoin::core {

/// What moves the head.
struct Motion {
    double mmS = 0; ///< wanted speed
    double accelerationMmS2 = 0;
    double cornerMmS = 0; ///< change of speed that a corner may ask for at once
};

/// Along a straight run of a length, from one speed to another, with a speed between that is not exceeded: the
/// trapezoid of constant acceleration, or the triangle when the run is too short to get there. Speeds at the ends are
/// taken as reachable (|to^2 - from^2| <= 2 a l).
double runSeconds(double lengthMm, double fromMmS, double toMmS, const Motion& motion);

/// The speed at which a corner is passed: the change of the velocity, 2 v sin(angle / 2), is what may happen at once.
/// @param turn  radians between the directions before and after; 0 is straight on
double cornerSpeed(double turn, const Motion& motion);

/// Once around a closed loop, beginning and ending at rest but for the corner's step; every corner is slowed down for
/// in time, and left as soon as the acceleration allows.
double loopSeconds(const mesh::Loop& loop, const Motion& motion);

/// Lines laid side by side over an area.
struct FillFigures {
    double lengthMm = 0;
    double runMm = 0; ///< mean straight run
    double seconds = 0;
};

/// An area filled to a share with lines of a pitch. Length: share times area over pitch, times what the pattern lays
/// more. Runs: as long as the mean chord of the area, pi A / P (Cauchy 1850; Santalo, Integral Geometry, 1976), or as
/// the pattern's own straight sides where these are shorter. Between runs the head turns twice by a right angle.
/// @param areaMm2, outlineMm  of the area, and the length of all its outlines
FillFigures fillFigures(double areaMm2, double outlineMm, double share, double pitchMm, InfillPattern pattern,
                        const Motion& motion);

/// Straight side of a pattern at a share; infinity where lines run from wall to wall. Honeycomb: a hexagonal net of
/// side s has 2 / (sqrt(3) s) of wall a mm2. Gyroid: the surface has 3.0915 / cell of area a mm3 (Schoen 1970; the
/// number from memory), of which a level section shows pi / 4 on average; it turns every half cell.
double patternRunMm(InfillPattern pattern, double share, double pitchMm);
/// Length laid over the nominal one. Honeycomb: every third side is laid twice, 4/3; others 1.
double patternLength(InfillPattern pattern);

} // namespace quoin::core
