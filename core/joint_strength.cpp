// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_strength.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::core {

using std::numbers::pi;

namespace {

/// Stress on an area; all that can be asked when there is none.
double over(double force, double area)
{
    return area > 0 ? force / area : force > 0 ? 1e300 : 0;
}

double shearMpaOf(double shearN, double torqueNmm, double areaMm2, double torsionModulusMm3)
{
    return over(1.5 * shearN, areaMm2) + over(torqueNmm, torsionModulusMm3);
}

std::string shearWords(double shearN, double torqueNmm, double areaMm2, double torsionModulusMm3)
{
    return fmt::format("1.5 V/A + T/Wt with V = {:.1f} N, A = {:.1f} mm2, T = {:.0f} N mm, Wt = {:.0f} mm3", shearN,
                       areaMm2, torqueNmm, torsionModulusMm3);
}

constexpr const char* shearSource = "rectangle in shear (Shigley, ch. 3); torsion modulus from below by A^4/(40 Ip) "
                                    "(Saint-Venant 1855)";

} // namespace

StrengthCheck dowelSheared(double forceN, double d, double shearMpa)
{
    return checked("dowel sheared off", 4.0 / 3 * over(forceN, pi / 4 * d * d), shearMpa, "MPa",
                   fmt::format("4/3 F / (pi/4 d^2) with F = {:.1f} N, d = {:g} mm", forceN, d),
                   "round bar in single shear, peak (Shigley, ch. 3)");
}

StrengthCheck dowelBearing(double forceN, double d, double depthMm, double bearingMpa)
{
    return checked("dowel's bore pressed, mean", over(forceN, d * depthMm), bearingMpa, "MPa",
                   fmt::format("F / (d t) with F = {:.1f} N, d = {:g} mm, t = {:g} mm", forceN, d, depthMm),
                   "pin in bearing (Shigley, ch. 8)");
}

StrengthCheck dowelMouthBearing(double forceN, double d, double depthMm, double bearingMpa)
{
    return checked("dowel's bore pressed at its mouth", 4 * over(forceN, d * depthMm), bearingMpa, "MPa",
                   fmt::format("4 F / (d t) with F = {:.1f} N, d = {:g} mm, t = {:g} mm", forceN, d, depthMm),
                   "stiff pin in an even bed, pushed at the face (derived)");
}

StrengthCheck keySheared(double forceN, double sectionMm2, double shearMpa)
{
    return checked("key sheared off", over(forceN, sectionMm2), shearMpa, "MPa",
                   fmt::format("F / A with F = {:.1f} N, A = {:.1f} mm2", forceN, sectionMm2),
                   "key in shear (Shigley, ch. 7)");
}

StrengthCheck keyBearing(double forceN, double heightMm, double lengthMm, double bearingMpa)
{
    return checked("key's side pressed", over(forceN, heightMm * lengthMm), bearingMpa, "MPa",
                   fmt::format("F / (h t) with F = {:.1f} N, h = {:g} mm, t = {:g} mm", forceN, heightMm, lengthMm),
                   "key in bearing (Shigley, ch. 7)");
}

double rectangleTorsionModulusMm3(double widthMm, double heightMm)
{
    const double a = std::max(widthMm, heightMm) / 2, b = std::min(widthMm, heightMm) / 2;
    if (!(b > 0))
        return 0;
    const double r = b / a;
    const double k = 1 + 0.6095 * r + 0.8865 * r * r - 1.8023 * r * r * r + 0.9100 * r * r * r * r;
    return 8 * a * b * b / (3 * k);
}

StrengthCheck keyTwisted(double torqueNmm, double torsionModulus, double shearMpa)
{
    return checked("key twisted off", over(torqueNmm, torsionModulus), shearMpa, "MPa",
                   fmt::format("T / Wt with T = {:.0f} N mm, Wt = {:.1f} mm3", torqueNmm, torsionModulus),
                   "bar in torsion (Saint-Venant; Roark, table 10.1)");
}

StrengthCheck squareKeyTurned(double torqueNmm, double sideMm, double depthMm, double bearingMpa)
{
    return checked(
        "key's corners pressed", 3 * over(torqueNmm, sideMm * sideMm * depthMm), bearingMpa, "MPa",
        fmt::format("3 T / (a^2 t) with T = {:.0f} N mm, a = {:g} mm, t = {:g} mm", torqueNmm, sideMm, depthMm),
        "pressure rising evenly to the corners on half of each side (derived)");
}

StrengthCheck boltPulled(double forceN, double stressArea, const BoltClass& c)
{
    return checked("bolt pulled", over(forceN, stressArea), c.proofMpa, "MPa",
                   fmt::format("F / As with F = {:.1f} N, As = {:.2f} mm2, class {}", forceN, stressArea, c.name),
                   "proof stress: " + c.source);
}

StrengthCheck boltSheared(double forceN, double stressArea, const BoltClass& c)
{
    return checked(
        "bolt sheared", over(forceN, stressArea), shearOfTensile * c.yieldMpa, "MPa",
        fmt::format("F / As with F = {:.1f} N, As = {:.2f} mm2, class {}: 0.577 of yield", forceN, stressArea, c.name),
        "thread in the shear plane (Shigley, ch. 8); yield: " + c.source);
}

StrengthCheck seatPressed(double forceN, double seatMm, double holeMm, double bearingMpa)
{
    return checked(
        "seat of head or nut pressed", over(forceN, pi / 4 * (seatMm * seatMm - holeMm * holeMm)), bearingMpa, "MPa",
        fmt::format("F / (pi/4 (dw^2 - dh^2)) with F = {:.1f} N, dw = {:g} mm, dh = {:g} mm", forceN, seatMm, holeMm),
        "pressure under the head (Shigley, ch. 8)");
}

StrengthCheck seatPunched(double forceN, double seatMm, double thicknessMm, double shearMpa)
{
    return checked(
        "head or nut punched through", over(forceN, pi * seatMm * thicknessMm), shearMpa, "MPa",
        fmt::format("F / (pi dw t) with F = {:.1f} N, dw = {:g} mm, t = {:g} mm", forceN, seatMm, thicknessMm),
        "punching shear around the seat (common practice, no source)");
}

StrengthCheck insertPulled(double forceN, double insertMm, double lengthMm, double shearMpa)
{
    return checked("insert torn out", over(forceN, pi * insertMm * lengthMm), shearMpa, "MPa",
                   fmt::format("F / (pi D L) with F = {:.1f} N, D = {:g} mm, L = {:g} mm", forceN, insertMm, lengthMm),
                   "cylinder of material around the insert (common practice, no source)");
}

StrengthCheck sectionPulled(double tensionMpa, const MaterialStrength& s, double layerAngle)
{
    const double c = std::cos(layerAngle), q = std::sin(layerAngle), t = std::max(tensionMpa, 0.0);
    return checked("material beside the cut pulled apart", t, tensileAt(s, layerAngle), "MPa",
                   fmt::format("N/A + M/W = {:.3f} MPa, {:.0f} degrees from the layers' normal: {:.3f} MPa across the "
                               "layers (s cos^2), {:.3f} MPa shear between them (s sin cos); {} along {:g}, across "
                               "{:g}, between layers {:.1f} MPa",
                               t, layerAngle * 180 / pi, t * c * c, t * std::abs(q * c), s.name, s.tensileAlongMpa,
                               s.tensileAcrossMpa, s.shearAcrossMpa),
                   "Tsai-Hill (Azzi and Tsai 1965) by the angle; " + s.source);
}

StrengthCheck sectionPressed(double pressureMpa, double bearingMpa)
{
    return checked("material beside the cut crushed", pressureMpa, bearingMpa, "MPa",
                   fmt::format("M/W - N/A = {:.3f} MPa", std::max(pressureMpa, 0.0)),
                   "section in bending (Shigley, ch. 3); buckling is not reckoned");
}

StrengthCheck sectionSheared(double shearN, double torqueNmm, double areaMm2, double torsionModulus, double shearMpa)
{
    return checked("material beside the cut sheared", shearMpaOf(shearN, torqueNmm, areaMm2, torsionModulus), shearMpa,
                   "MPa", shearWords(shearN, torqueNmm, areaMm2, torsionModulus), shearSource);
}

StrengthCheck gluePulled(double tensionMpa, double glueMpa)
{
    return checked("glue pulled open", tensionMpa, glueMpa, "MPa",
                   fmt::format("N/A + M/W = {:.3f} MPa over the glued face", std::max(tensionMpa, 0.0)),
                   "section in bending (Shigley, ch. 3); glue on printed plastic: common practice, no source");
}

StrengthCheck glueSheared(double shearN, double torqueNmm, double areaMm2, double torsionModulus, double glueMpa)
{
    return checked("glue sheared", shearMpaOf(shearN, torqueNmm, areaMm2, torsionModulus), glueMpa, "MPa",
                   shearWords(shearN, torqueNmm, areaMm2, torsionModulus),
                   std::string(shearSource) + "; glue on printed plastic: common practice, no source");
}

} // namespace quoin::core
