// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/plane.h"
#include "mesh/result.h"

#include <vector>

namespace quoin::mesh {

/// A blind pocket that opens on a flat face: an outline at the mouth, and the same outline (same number of corners,
/// loop by loop) at each further level down; straight faces between. Depths grow from 0 at the mouth.
struct Recess {
    struct Level {
        double depthMm;
        Region outline; ///< in the frame of the face's plane
    };
    std::vector<Level> levels; ///< at least two; levels[0].depthMm = 0
};

/// Volume of a recess, mm3: sum over its levels of the exact prismatoid volumes as meshed.
double volume(const Recess& recess);

/// Sinks recesses into the faces that carry `face` as their label. The face is triangulated anew with the mouths as
/// holes, and each pocket's wall and floor (new label `featureLabel`) are sewn in; nothing else is touched, so the
/// cost is that of the face, not of the mesh.
/// @param outward  plane of the face, its normal pointing out of the material
/// @return JointFailed when a mouth leaves the face, mouths meet, or the label is missing. Whether a pocket breaks
///         through elsewhere is for the caller to know (core/joint_room.h).
Result<Mesh> withRecesses(const Mesh& mesh, Label face, const Plane& outward, const std::vector<Recess>& recesses,
                          Label featureLabel);

/// The outline of the triangles with a label, in the frame of a plane that they lie in, whichever way they face:
/// outer loops come counter-clockwise.
Region faceOutline(const Mesh& mesh, Label face, const Plane& plane);

} // namespace quoin::mesh
