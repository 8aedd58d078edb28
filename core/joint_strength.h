// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/material_strength.h"
#include "core/section_forces.h"
#include "core/strength_check.h"

/// Checks of dowels, keys, bolts and of the material beside a cut, as functions of numbers. Forces in N, moments in
/// N mm, lengths in mm, strengths in MPa; forces by their size, never negative. Threads: core/thread_strength.h.
namespace quoin::core {

// --- Dowels

/// Sheared off at the face (single shear): 4/3 F / (pi/4 d^2), the peak in the middle of a round bar (Shigley, ch. 3).
StrengthCheck dowelSheared(double forceN, double diameterMm, double shearMpa);
/// Mean pressure on the wall of its bore: F / (d t).
StrengthCheck dowelBearing(double forceN, double diameterMm, double depthMm, double bearingMpa);
/// Pressure at the mouth of the bore, where it is highest: 4 F / (d t), a stiff pin in an even bed that is pushed at
/// the face and free to tilt (derived: pressure p0 (1 - 3x/(2t)), no moment at the face).
StrengthCheck dowelMouthBearing(double forceN, double diameterMm, double depthMm, double bearingMpa);

// --- Screws

/// Name of the check of a lone screw against the torsion on its face.
inline constexpr const char* turnedByTorsion = "screw turned by the torsion";

// --- Keys

/// Sheared off at the face: F / A.
StrengthCheck keySheared(double forceN, double sectionMm2, double shearMpa);
/// Pressure on its side: F / (h t), h the height of the side that bears, t its length.
StrengthCheck keyBearing(double forceN, double heightMm, double lengthMm, double bearingMpa);
/// Torsion modulus of a rectangle, mm3 (Saint-Venant; Roark, table 10.1: square 0.208 a^3).
double rectangleTorsionModulusMm3(double widthMm, double heightMm);
/// Twisted off at the face: T / Wt.
StrengthCheck keyTwisted(double torqueNmm, double torsionModulusMm3, double shearMpa);
/// Pressure of a square key that turns in its socket: 3 T / (a^2 t) at the corners: each of the four sides bears on the
/// half that turns towards the wall, rising evenly from its middle (derived).
StrengthCheck squareKeyTurned(double torqueNmm, double sideMm, double depthMm, double bearingMpa);

// --- Bolts of metal

/// F / As against the proof stress of its class (ISO 898-1).
StrengthCheck boltPulled(double forceN, double stressAreaMm2, const BoltClass& boltClass);
/// F / As against 0.577 of the yield stress: thread in the shear plane.
StrengthCheck boltSheared(double forceN, double stressAreaMm2, const BoltClass& boltClass);
/// Pressure under a head, nut or washer: F / (pi/4 (dw^2 - dh^2)).
StrengthCheck seatPressed(double forceN, double seatMm, double holeMm, double bearingMpa);
/// Head or nut punched through the material that it sits on: F / (pi dw t).
StrengthCheck seatPunched(double forceN, double seatMm, double thicknessMm, double shearMpa);
/// Insert torn out with the cylinder of material around it: F / (pi D L) (common practice, no source).
StrengthCheck insertPulled(double forceN, double insertMm, double lengthMm, double shearMpa);

// --- The material beside the cut

/// Tension square to a cut against the strength in that direction (tensileAt).
/// @param layerAngle  radians between the cut's normal and the layers' normal of the piece
StrengthCheck sectionPulled(double tensionMpa, const MaterialStrength& strength, double layerAngle);
/// Pressure square to a cut against what the material bears as a wall. Slender parts may buckle before: not reckoned.
StrengthCheck sectionPressed(double pressureMpa, double bearingMpa);
/// Shear over a section: 1.5 V/A (rectangle; a round one has 4/3) and torsion T/Wt added up.
StrengthCheck sectionSheared(double shearN, double torqueNmm, double areaMm2, double torsionModulusMm3,
                             double shearMpa);

// --- Glue

StrengthCheck gluePulled(double tensionMpa, double glueMpa);
StrengthCheck glueSheared(double shearN, double torqueNmm, double areaMm2, double torsionModulusMm3, double glueMpa);

} // namespace quoin::core
