// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "sample_models/heron_linkage.h"

#include <string>
#include <vector>

namespace quoin::samples {

/// Our own sample: a small kinetic heron. A crank under the body drives both wings through a rod each.

/// A round hole, pin or peg of a part, in the part's own frame: where it sits and how big it is meant to be.
struct HeronAxis {
    std::string name;     ///< what goes through it: the same name on the pin and on every hole it fills
    mesh::Vec3 point;     ///< on the axis, mm
    mesh::Vec3 direction; ///< unit
    double radiusMm;
    bool hole;
};

struct HeronPart {
    std::string name; ///< a file name too
    mesh::Mesh mesh;  ///< mm, in the part's own frame: as it is printed, standing on z = 0
    int quantity = 1;
    /// Part frame to sculpture (x forward, y the heron's left, z up, ground z = 0), one for each of `quantity`.
    std::vector<mesh::Transform> poses;
    /// What each of them moves with, and where it sits there.
    std::vector<Link> links;
    std::vector<mesh::Transform> inLink;
    std::vector<HeronAxis> axes;
};

/// Crank angle in which the poses are given: the pin on top, both wings raised alike.
inline constexpr double heronShowDegrees = 90;

/// All parts. Deterministic; takes a few seconds of boolean operations.
std::vector<HeronPart> heronParts();

/// Poses of a part at another crank angle.
std::vector<mesh::Transform> heronPoses(const HeronPart& part, double crankRadians);

} // namespace quoin::samples
