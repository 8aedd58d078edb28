// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/plane.h"

#include <vector>

/// Sections of a body at a cut, and what loads do to them. Millimetres, newtons, megapascals (N/mm2).
namespace quoin::core {

/// Second moments are about the centroid, on axes along u and v of the plane's frame.
struct SectionProperties {
    double areaMm2 = 0;
    mesh::Vec2 centroid{0, 0};
    double iuMm4 = 0;  ///< integral of v2: bending about the u axis
    double ivMm4 = 0;  ///< integral of u2
    double iuvMm4 = 0; ///< integral of u v
    double principalMaxMm4 = 0, principalMinMm4 = 0;
    double principalAngle = 0; ///< radians from u to the axis about which the second moment is largest, -pi/2 to pi/2

    double polarMm4() const { return iuMm4 + ivMm4; }
    /// Second moment about the axis through the centroid at an angle from u.
    double aboutMm4(double angle) const;
};

/// By Green's theorem over the loops, each reckoned from a point of its own outline (Steger, FGBV-96-05, 1996). Holes
/// are taken off. A region without area has all zeros.
SectionProperties sectionProperties(const mesh::Region& region);

/// Section modulus for bending about the axis through the centroid at an angle from u: second moment over the distance
/// of the farthest point of the outline; mm3.
double sectionModulusMm3(const mesh::Region& region, const SectionProperties& section, double angle);

/// Torsion modulus, torque over peak shear stress, mm3; an estimate from below: A4 / (40 Ip) (Saint-Venant 1855) over
/// the largest circle's diameter. Right for thin strips, a third low for a square, half for a circle; far too low for
/// tubes and for several islands, which are taken as open.
double torsionModulusMm3(const mesh::Region& region, const SectionProperties& section);

/// Diameter of (nearly) the largest circle inside a region, mm.
double largestCircleMm(const mesh::Region& region);

struct PointLoad {
    mesh::Vec3 at;
    mesh::Vec3 forceN;
};

/// What a section passes on, reckoned about a point of its plane, as the loaded side acts on the face whose outward
/// normal points at it.
struct SectionForces {
    double axialN = 0;           ///< tension positive
    mesh::Vec2 shearN{0, 0};     ///< along u and v
    mesh::Vec2 bendingNmm{0, 0}; ///< about u and v: stress is as stressAt says
    double torsionNmm = 0;       ///< about the plane's normal, counter-clockwise seen from above
    mesh::Vec2 about{0, 0};      ///< the point that moments are reckoned about

    /// The same about another point of the plane.
    SectionForces movedTo(mesh::Vec2 point) const;
};

/// Sum of loads on one side of a cut.
/// @param loadedAbove  whether the loads are on the side that the frame's normal points to
SectionForces sectionForces(const mesh::PlaneFrame& frame, bool loadedAbove, mesh::Vec2 about,
                            const std::vector<PointLoad>& loads);

/// Normal stress at a point of a section in tension and bending about any axis, tension positive; MPa. Forces must be
/// about the centroid.
double stressAt(const SectionProperties& section, const SectionForces& forces, mesh::Vec2 point);
/// Largest tension on the outline; negative when all of it is pressed. MPa.
double peakTension(const mesh::Region& region, const SectionProperties& section, const SectionForces& forces);
/// Largest pressure on the outline, by its size; negative when all of it is pulled. MPa.
double peakPressure(const mesh::Region& region, const SectionProperties& section, const SectionForces& forces);

} // namespace quoin::core
