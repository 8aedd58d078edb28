// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/thread_mesh.h"
#include "mesh/vec3.h"

#include <vector>

namespace quoin::core {

/// Points of a thread's mesh nearer to each other than this are one, mm: above the rounding of a 32-bit file at a
/// metre, so that no facet folds over when it is written.
inline constexpr double mergedPointsMm = 2.5e-4;

/// How a thread is cut into facets so that they stay within the chord error, and on the right side.
///
/// A facet spans one angular step. With weights l_i its point is sum l_i r_i e(theta_i), whose radius falls short of
/// the mean radius by at most r (1 - cos(step / 2)) (the sag), and whose angle is off the mean angle by at most
/// step dr / (4 r) + step^3 / 62 when its corners' radii differ by dr. On a flank of slope b the true radius changes by
/// b lead / 2 pi a radian, which makes a radial error of either sign; square to the flank both shrink by the sine of
/// the flank's half angle. The stud's profile is moved in by that second error, the bore's out by both.
struct ThreadFacets {
    double stepRadians = 0;
    double insetMm = 0;      ///< of the stud's profile, normal to it
    double boreOffsetMm = 0; ///< of the bore's profile: clearance / cos(lead angle at the core) and the outset
    double filletErrorMm = 0;
};
ThreadFacets threadFacets(const ThreadDimensions& dimensions, double clearanceMm, double chordMm);

/// Offset of the profile in the axial plane that keeps a gap of clearanceMm in space: clearanceMm / cos(lead angle at
/// the core). Why: core/thread_mesh.h.
double helicalOffsetMm(const ThreadDimensions& dimensions, double clearanceMm);

/// Width of the internal thread's crest when its profile is moved by offsetMm, mm.
double threadLandMm(const ThreadDimensions& dimensions, double offsetMm);

/// Envelopes for HelicalSurface, (z, r). The stud's begins at its neck, above the foot.
std::vector<mesh::Vec2> studEnvelope(const ThreadedShape& shape, const ThreadLayout& layout);
std::vector<mesh::Vec2> boreEnvelope(const ThreadLayout& layout);

} // namespace quoin::core
