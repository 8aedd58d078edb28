// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/thread.h"
#include "mesh/vec3.h"

#include <vector>

namespace quoin::core {

/// One pitch of a thread's profile in the axial plane as a function r(s), piecewise linear and even: s in mm along the
/// axis from the middle of an external tooth (an internal groove), r the radius in mm. Periodic in s.
struct ThreadProfile {
    double pitchMm = 0;
    /// (s, r), s ascending from -pitch / 2 to pitch / 2, both open; the root or crest between the last point and the
    /// first of the next pitch is flat.
    std::vector<mesh::Vec2> points;
    double largestMm = 0, smallestMm = 0; ///< radii

    double radiusAt(double s) const;
    /// dr/ds; at a corner that of the piece after it.
    double slopeAt(double s) const;
};

/// The profile with its lines moved by offsetMm square to themselves, away from the axis when positive; corners stay
/// sharp, the fillet of the root keeps its centre.
/// @param internal   the internal thread's own crest and root instead of the external ones
/// @param filletErrorMm  the fillet is a polygon round the arc, outside the arc's circle by at most this: towards the
///        material, so that a stud gets no larger and a bore no smaller than with the arc
ThreadProfile threadProfile(const ThreadDimensions& dimensions, bool internal, double offsetMm, double filletErrorMm);

/// r(s) of the same profile with true arcs: the analytic surface that meshes are measured against.
double exactProfileRadius(const ThreadDimensions& dimensions, bool internal, double offsetMm, double s);

} // namespace quoin::core
