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

/// Any other surface that opens on a flat face or stands on it: a threaded bore, a stud, a key. It takes the place of
/// what lies inside its border.
struct FacePatch {
    /// Open, 2-manifold, points shared by index; in the frame of the piece, normals out of the material. Its border
    /// forms one or more simple loops in the face's plane (up to tolerance::mouthOffPlaneMm off by rounding); a ring
    /// has two and leaves the face inside it standing.
    Mesh surface;
};

/// Volume of a recess, mm3: sum over its levels of the exact prismatoid volumes as meshed.
double volume(const Recess& recess);

/// Volume that a patch adds to its piece, mm3: negative for bores, positive for studs. By the divergence theorem about
/// a point of the plane, to which a flat mouth adds nothing.
double volumeAdded(const FacePatch& patch, const Plane& outward);

/// Where a patch opens, in frameOf(outward): outer loops counter-clockwise. Loops that don't close are left out.
Region mouthOf(const FacePatch& patch, const Plane& outward);

/// Sinks recesses into the faces that carry `face` as their label. The face is triangulated anew with the mouths as
/// holes, and each pocket's wall and floor (new label `featureLabel`) are sewn in; nothing else is touched, so the
/// cost is that of the face, not of the mesh.
/// @param outward  plane of the face, its normal pointing out of the material
/// @return JointFailed when a mouth leaves the face, mouths meet, the label is missing, or a pocket breaks through the
///         surface elsewhere or into what was sunk before. Walls are for the caller to know (core/joint_room.h).
Result<Mesh> withRecesses(const Mesh& mesh, Label face, const Plane& outward, const std::vector<Recess>& recesses,
                          Label featureLabel);

/// The same with patches sewn in as well. A patch's border points become vertices of the face, put exactly where its
/// surface has them (projected onto the plane).
/// @return JointFailed also when a patch is not 2-manifold, is turned inside out, has no border or one that leaves the
///         plane, crosses itself or does not close, or when its surface meets itself, another feature, the face
///         elsewhere than in the mouth or the rest of the mesh.
Result<Mesh> withFeatures(const Mesh& mesh, Label face, const Plane& outward, const std::vector<Recess>& recesses,
                          const std::vector<FacePatch>& patches, Label featureLabel);

/// The outline of the triangles with a label, in the frame of a plane that they lie in, whichever way they face:
/// outer loops come counter-clockwise.
Region faceOutline(const Mesh& mesh, Label face, const Plane& plane);

} // namespace quoin::mesh
