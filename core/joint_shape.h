// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint.h"
#include "mesh/mesh.h"
#include "mesh/recess.h"
#include "mesh/result.h"
#include "mesh/transform.h"

#include <string>
#include <vector>

/// What joints are made of: everything follows from the plain data of a Joint and the plane of its cut.
namespace quoin::core {

/// A cylinder with flat ends, mm, part's frame.
struct JointZone {
    mesh::Vec3 from, to;
    double radiusMm;
};

/// What a joint changes on one side of its cut.
struct SideShape {
    std::vector<mesh::Recess> recesses;   ///< sunk into the face; in the frame of outwardPlane(cut, above)
    std::vector<mesh::FacePatch> patches; ///< sewn into the face: bores and what stands out of it; part's frame
    std::vector<mesh::Mesh> taken;        ///< closed solids taken away besides, through other surfaces; part's frame
    std::vector<JointZone> zones;         ///< what is taken from the piece lies in one of these, walls all round,
    std::vector<JointZone> mouths;        ///< or in one of these, chamfers at the face, for which no wall is asked,
    std::vector<JointZone> openings;      ///< or in one of these, which lead to the outside
    std::vector<JointZone> proud;         ///< what stands out of the face, past the cut, lies in one of these
};

/// A loose part to print.
struct JointPart {
    std::string kind;          ///< "dowel", "stud", "key", "clocking key"
    std::string name;          ///< with its size: "dowel 8 x 24 mm"; alike parts have the same
    mesh::Mesh inPlace;        ///< part's frame, assembled
    mesh::Transform printPose; ///< rigid, from there onto the plate
};

/// Something to buy.
struct BoughtPart {
    std::string name; ///< "socket head cap screw ISO 4762 M8 x 60"
    int count = 1;
};

/// The shape on one side. BadArgument, in words, for what can't be made at this size.
Result<SideShape> sideShape(const Joint& joint, const mesh::Plane& cut, bool above);

/// The loose parts of a joint that are printed; none for a bought rod or a bolt.
Result<std::vector<JointPart>> printedParts(const Joint& joint, const mesh::Plane& cut);

std::vector<BoughtPart> boughtParts(const Joint& joint);

/// The middle of what goes into a joint, on its cut: its place; of what lies along the face, half its length on.
mesh::Vec3 jointMiddle(const Joint& joint, const mesh::Plane& cut);

/// What is bought, in its place, as plain solids that stand for it: for the proof and for pictures.
Result<std::vector<mesh::Mesh>> boughtInPlace(const Joint& joint, const mesh::Plane& cut);

} // namespace quoin::core
