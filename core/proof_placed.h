// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_shape.h"
#include "core/proof_evidence.h"

#include <optional>
#include <string>
#include <vector>

/// For core/proof_joints.cpp and core/proof_walls.cpp only: joints in their places, and what is measured of them.
namespace quoin::core {

/// A joint in its place, with what goes into its bores: loose parts as the list places them, what its carrier's file
/// has standing out of the face, or solids that stand for what is bought.
struct PlacedJoint {
    std::size_t number = 0; ///< index into the layout's joints
    Joint joint;
    Seam seam;
    mesh::Plane cut;
    mesh::Vec3 middle; ///< of the axis, or of what lies along the face; on the cut
    std::string name;  ///< "dowel A1 between 3 and 5"
    SideShape below, above;
    std::optional<Problem> unmade;   ///< why the plan's joint can't be made
    std::vector<mesh::Mesh> planned; ///< what it should be, from the plan
    std::size_t placements = 0;
    const PartFile* part = nullptr; ///< of the loose part
    std::vector<mesh::Mesh> inside; ///< what is there

    const SideShape& side(bool isAbove) const { return isAbove ? above : below; }
    int piece(bool isAbove) const { return isAbove ? seam.pieceAbove : seam.pieceBelow; }
    /// The side that something stands out of; none: neither.
    std::optional<bool> carrier() const
    {
        return !above.proud.empty() ? std::optional(true) : !below.proud.empty() ? std::optional(false) : std::nullopt;
    }
};

/// The joint on one of its sides.
struct PlacedSide {
    const PlacedJoint& joint;
    bool above;
    int piece;
    const mesh::Mesh& mesh;
    std::string name;

    const std::vector<JointZone>& zones() const { return joint.side(above).zones; }
    /// Those and the openings to the outside.
    std::vector<JointZone> hollow() const
    {
        std::vector<JointZone> all = joint.side(above).zones;
        all.insert(all.end(), joint.side(above).openings.begin(), joint.side(above).openings.end());
        return all;
    }
};

mesh::Mesh allOf(const std::vector<mesh::Mesh>& meshes);

/// Least distance between what is inside and the piece around it: where two surfaces are nearest, an edge of either
/// comes nearest to the other. Looked for up to 5 mm.
double clearanceOf(const PlacedSide& side);

/// Least distance from what is taken out to any other surface of its piece but the face that it opens on, and marks in
/// it. Looked for up to 5 mm more than is wanted.
double wallOf(const Evidence& evidence, const PlacedSide& side, double wallWantedMm);

/// How far a dovetail may be pulled off its face before it must have caught: what its flanks' clearance gives, and a
/// little for the facets and the rounding of files.
double pullMm(const Joint& joint);
/// Whether it meets the piece that its groove is in when it is.
bool catches(const PlacedSide& side);

} // namespace quoin::core
