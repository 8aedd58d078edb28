// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/strength_check.h"

/// Screws and nuts under load, for any profile with straight flanks: trapezoidal, metric, the printable 45 degree one.
/// Millimetres, newtons, megapascals; angles in radians.
namespace quoin::core {

/// A screw in its nut as made: clearances taken off or put on, least material where strength counts.
struct ThreadPair {
    double majorMm = 0;            ///< d, outside of the screw
    double pitchDiameterMm = 0;    ///< d2 of the screw
    double coreMm = 0;             ///< d3, root of the screw
    double nutBoreMm = 0;          ///< D1, inside of the nut
    double nutPitchDiameterMm = 0; ///< D2 of the nut
    double pitchMm = 0;            ///< crest to crest
    double leadMm = 0;             ///< advance in one turn: starts times pitch
    double flankHalfAngle = 0;     ///< between a flank and the normal of the axis: 15 degrees trapezoidal, 30 metric
    bool valid() const;            ///< sizes positive, d > d2 > d3, D2 > D1, half angle from 0 to below a quarter turn
};

/// Surface along which the screw's threads shear off, at the inside of the nut:
/// pi D1 LE / P (P/2 + (d2 - D1) tan a). FED-STD-H28/2, ASME B1.1 appendix B, Machinery's Handbook ("Fasteners"), with
/// the half angle of the profile in place of 30 degrees. Nothing is left (0) when the threads hardly meet.
double screwShearAreaMm2(const ThreadPair& thread, double engagementMm);
/// The same for the nut's threads at the outside of the screw: pi d LE / P (P/2 + (d - D2) tan a).
double nutShearAreaMm2(const ThreadPair& thread, double engagementMm);

/// Threads stripped by a pull along the axis. @param shearMpa  what the material of that side bears in shear
StrengthCheck screwStripped(const ThreadPair& thread, double engagementMm, double pullN, double shearMpa);
StrengthCheck nutStripped(const ThreadPair& thread, double engagementMm, double pullN, double shearMpa);

/// Screw pulled apart at its core, pi/4 d3^2: printed screws have no stress area of a standard, so the core counts.
StrengthCheck corePulled(const ThreadPair& thread, double pullN, double tensileMpa);
/// Core while it is tightened: pull and torque together, sqrt(s^2 + 3 t^2) (von Mises), t = 16 T / (pi d3^3).
StrengthCheck coreTightened(const ThreadPair& thread, double pullN, double friction, double tensileMpa);

/// Torque on the thread alone (not the face under a head) for a pull along the axis, N mm: F d2/2 tan(r + l) to
/// tighten, with tan l = lead / (pi d2), tan r = friction / cos a (Shigley, ch. 8, power screws).
double tighteningTorqueNmm(const ThreadPair& thread, double pullN, double friction);
/// F d2/2 tan(r - l); negative when the screw backs out by itself.
double looseningTorqueNmm(const ThreadPair& thread, double pullN, double friction);
/// Work out over work in while tightening: tan l / tan(l + r).
double threadEfficiency(const ThreadPair& thread, double friction);
/// The least friction at which a screw stays where it is.
double selfLockingFriction(const ThreadPair& thread);

/// Tensile stress area, pi/4 ((d2 + d3) / 2)^2, mm2 (ISO 898-1, 9.1.6.1).
double stressAreaMm2(double pitchDiameterMm, double coreMm);

/// Friction of printed threads, dry: common practice, no source.
inline constexpr double printedThreadFriction = 0.3;

} // namespace quoin::core
