// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/thread_strength.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::core {

using std::numbers::pi;

namespace {

constexpr const char* shearSource = "FED-STD-H28/2, ASME B1.1 appendix B, Machinery's Handbook: thread shear areas, "
                                    "with the profile's own half angle";

double leadAngle(const ThreadPair& t)
{
    return std::atan(t.leadMm / (pi * t.pitchDiameterMm));
}

double frictionAngle(const ThreadPair& t, double friction)
{
    return std::atan(friction / std::cos(t.flankHalfAngle));
}

/// Surface at a diameter where the teeth are as thick as given, mm2. Teeth can't be thicker than the pitch.
double shearArea(const ThreadPair& t, double diameterMm, double thickMm, double engagementMm)
{
    return pi * diameterMm * engagementMm * std::clamp(thickMm / t.pitchMm, 0.0, 1.0);
}

double coreAreaMm2(const ThreadPair& t)
{
    return pi / 4 * t.coreMm * t.coreMm;
}

/// Stress on an area; all that can be asked when there is none.
double over(double forceN, double areaMm2)
{
    return areaMm2 > 0 ? forceN / areaMm2 : forceN > 0 ? 1e300 : 0;
}

} // namespace

bool ThreadPair::valid() const
{
    return pitchMm > 0 && leadMm > 0 && coreMm > 0 && pitchDiameterMm > coreMm && majorMm > pitchDiameterMm &&
           nutBoreMm > 0 && nutPitchDiameterMm > nutBoreMm && flankHalfAngle >= 0 && flankHalfAngle < pi / 2;
}

double screwShearAreaMm2(const ThreadPair& t, double engagementMm)
{
    const double thick = t.pitchMm / 2 + (t.pitchDiameterMm - t.nutBoreMm) * std::tan(t.flankHalfAngle);
    return t.majorMm > t.nutBoreMm ? shearArea(t, t.nutBoreMm, thick, engagementMm) : 0;
}

double nutShearAreaMm2(const ThreadPair& t, double engagementMm)
{
    const double thick = t.pitchMm / 2 + (t.majorMm - t.nutPitchDiameterMm) * std::tan(t.flankHalfAngle);
    return t.majorMm > t.nutBoreMm ? shearArea(t, t.majorMm, thick, engagementMm) : 0;
}

StrengthCheck screwStripped(const ThreadPair& t, double engagementMm, double pullN, double shearMpa)
{
    const double area = screwShearAreaMm2(t, engagementMm);
    return checked(
        "screw's thread stripped", over(pullN, area), shearMpa, "MPa",
        fmt::format("F / (pi D1 LE/P (P/2 + (d2 - D1) tan a)) with F = {:.1f} N, D1 = {:.3f} mm, d2 = {:.3f} "
                    "mm, P = {:g} mm, LE = {:.2f} mm, a = {:.1f} degrees: {:.1f} mm2",
                    pullN, t.nutBoreMm, t.pitchDiameterMm, t.pitchMm, engagementMm, t.flankHalfAngle * 180 / pi, area),
        shearSource);
}

StrengthCheck nutStripped(const ThreadPair& t, double engagementMm, double pullN, double shearMpa)
{
    const double area = nutShearAreaMm2(t, engagementMm);
    return checked("nut's thread stripped", over(pullN, area), shearMpa, "MPa",
                   fmt::format("F / (pi d LE/P (P/2 + (d - D2) tan a)) with F = {:.1f} N, d = {:.3f} mm, D2 = {:.3f} "
                               "mm, P = {:g} mm, LE = {:.2f} mm, a = {:.1f} degrees: {:.1f} mm2",
                               pullN, t.majorMm, t.nutPitchDiameterMm, t.pitchMm, engagementMm,
                               t.flankHalfAngle * 180 / pi, area),
                   shearSource);
}

StrengthCheck corePulled(const ThreadPair& t, double pullN, double tensileMpa)
{
    return checked("screw pulled apart at its core", over(pullN, coreAreaMm2(t)), tensileMpa, "MPa",
                   fmt::format("F / (pi/4 d3^2) with F = {:.1f} N, d3 = {:.3f} mm", pullN, t.coreMm),
                   "tension on the core area (Shigley, ch. 8)");
}

StrengthCheck coreTightened(const ThreadPair& t, double pullN, double friction, double tensileMpa)
{
    const double torque = tighteningTorqueNmm(t, pullN, friction);
    const double pull = over(pullN, coreAreaMm2(t)), twist = 16 * torque / (pi * std::pow(t.coreMm, 3));
    return checked("screw's core while it is tightened", std::sqrt(pull * pull + 3 * twist * twist), tensileMpa, "MPa",
                   fmt::format("sqrt(s^2 + 3 t^2), s = F / (pi/4 d3^2) = {:.3f} MPa, t = 16 T / (pi d3^3) = {:.3f} MPa "
                               "with F = {:.1f} N, T = {:.0f} N mm (friction {:g}), d3 = {:.3f} mm",
                               pull, twist, pullN, torque, friction, t.coreMm),
                   "pull and torsion together (von Mises 1913; Shigley, ch. 8)");
}

double tighteningTorqueNmm(const ThreadPair& t, double pullN, double friction)
{
    return pullN * t.pitchDiameterMm / 2 * std::tan(frictionAngle(t, friction) + leadAngle(t));
}

double looseningTorqueNmm(const ThreadPair& t, double pullN, double friction)
{
    return pullN * t.pitchDiameterMm / 2 * std::tan(frictionAngle(t, friction) - leadAngle(t));
}

double threadEfficiency(const ThreadPair& t, double friction)
{
    return std::tan(leadAngle(t)) / std::tan(leadAngle(t) + frictionAngle(t, friction));
}

double selfLockingFriction(const ThreadPair& t)
{
    return std::tan(leadAngle(t)) * std::cos(t.flankHalfAngle);
}

double stressAreaMm2(double pitchDiameterMm, double coreMm)
{
    const double mean = (pitchDiameterMm + coreMm) / 2;
    return pi / 4 * mean * mean;
}

} // namespace quoin::core
