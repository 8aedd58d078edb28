// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/piece.h"
#include "mesh/recess.h"

#include <string>
#include <vector>

namespace quoin::core {

/// A joint on a seam; pure data, lengths in mm. Geometry for both sides is made from it (core/joint_dowel.h). The
/// first kind is the dowel; a new kind adds its name here and a file pair of its own.
struct Joint {
    enum class Kind { Dowel };
    Kind kind = Kind::Dowel;
    std::size_t seam = 0;      ///< index into the seams
    mesh::Vec2 at{0, 0};       ///< axis, in the frame of the cut's plane; the axis is the plane's normal
    double diameterMm = 0;     ///< of the loose part
    double depthMm = 0;        ///< reach into each side
    double clearanceMm = 0;    ///< per side, radial
    double endClearanceMm = 0; ///< beyond the end, each side
    bool keyed = false;        ///< the bore has the dowel's flat too, so that it can't turn
    double flatAngle = 0;      ///< radians in the plane's frame from u to the flat's outward normal
};

/// The number and the mating mark recessed into both faces of a seam.
struct Mark {
    std::size_t seam = 0;
    mesh::Vec2 at{0, 0}; ///< middle of the text
    double angle = 0;    ///< radians; the text's own x axis in the plane's frame, seen from above the plane
    double heightMm = 0; ///< of the capitals
    double strokeMm = 0;
    double depthMm = 0;
    std::string textBelow; ///< sunk in the piece below the plane
    std::string textAbove;
};

/// What a seam got, in words for the report.
struct SeamReport {
    std::size_t seam = 0;
    std::string text; ///< "2 dowels of 8 mm, 71 mm apart" or "plain butt face, glue: no room for a 4 mm dowel, ..."
    bool butt = false;
    double roomMm = 0; ///< largest radius (dowel and wall) that would have gone in, when none did
};

/// A joint placed by hand that breaks a rule.
struct JointFault {
    std::size_t joint = 0; ///< index into the joints
    std::string text;      ///< what is wrong, with numbers, and what would help
    bool impossible = false; ///< it can't be made so at all (off its face, through the skin, into another bore)
};

struct JointLayout {
    std::vector<Joint> joints;
    std::vector<Mark> marks;
    std::vector<SeamReport> reports; ///< one a seam, in their order
    std::vector<JointFault> faults;  ///< of joints placed by hand; what is chosen has none
};

struct JointOptions {
    bool dowels = true;        ///< --joint none: marks only
    double wallMm = 2.4;       ///< least wall around a bore (common practice: three lines of 0.8 mm)
    double clearanceMm = 0.25; ///< per side; from the material's fit table
    bool marks = true;
    friend bool operator==(const JointOptions&, const JointOptions&) = default;
};

} // namespace quoin::core
