// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/section_forces.h"

#include <cstddef>
#include <optional>
#include <vector>

/// How the faces of a part share what hangs on it, where pieces are held by more than one way.
namespace quoin::core {

/// One piece: what pulls at it, and whether it is held still.
struct SharingPiece {
    std::vector<PointLoad> loads; ///< mm, N, frame of the part
    bool fixed = false;
};

/// One face between two pieces.
struct SharingFace {
    std::size_t below = 0, above = 0; ///< indices of the pieces
    mesh::PlaneFrame frame;
    SectionProperties section; ///< in that frame
    double stiffness = 1;      ///< against other faces, for the same area; above 0
};

/// What the piece above a face exerts on the one below.
struct FaceResultant {
    mesh::Vec3 forceN{0, 0, 0};
    mesh::Vec3 momentNmm{0, 0, 0}; ///< about the centroid of the face

    /// The same as loads that add up to it: a force at the centroid and a couple. `sign` -1: what the one below exerts.
    std::vector<PointLoad> asLoads(mesh::Vec3 centroid, double sign) const;
};

/// Pieces as rigid bodies, faces as elastic beds of springs all over their area, square to the face and along it, that
/// can pull as well as press (rigid bodies and springs: Kawai 1978, cited from memory). Along the face a bed is softer
/// by G/E = 1 / (2 (1 + 0.35)). Where only one way leads to what is fixed the result is that of statics, whatever the
/// stiffness. How stiff all faces are together doesn't matter.
/// @return one for each face; nullopt when some piece is held too little to be in balance (no way to a fixed one, faces
///         without area)
std::optional<std::vector<FaceResultant>> sharedLoads(const std::vector<SharingPiece>& pieces,
                                                      const std::vector<SharingFace>& faces);

} // namespace quoin::core
