// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_strength.h"
#include "core/section_forces.h"
#include "core/strength_check.h"
#include "core/thread_strength.h"

#include <string>
#include <vector>

/// The checks of one face with all that joins it. Numbers in, checks out: which project they come from is
/// core/strength.h's business.
namespace quoin::core {

/// One joint as its strength sees it; lengths in mm, in the frame of the cut. What a kind doesn't have stays 0.
struct JointMember {
    enum class Kind { Dowel, Screw, Stud, Key, Dovetail, DrawBolt, ClockingKey };
    Kind kind = Kind::Dowel;
    mesh::Vec2 at{0, 0};
    double boreBelowMm = 0, boreAboveMm = 0; ///< diameter that it takes from the section on either side of the cut
    mesh::Loop takenBelow, takenAbove;       ///< the same as an outline; where there is one, the bore doesn't count
    double depthMm = 0;                      ///< reach into the side where it is shorter
    /// Of the loose part, or of the piece that an integral one is printed with.
    const MaterialStrength* material = nullptr;
    /// Between its axis and the normal of its layers, radians: a quarter turn for a part printed lying.
    double layerAngle = 0;

    double diameterMm = 0; ///< dowel, key's round equivalent for words; bolt: nominal

    ThreadPair thread;       ///< screw, stud
    double engagementMm = 0; ///< threads in each other, on the side where they are fewer; bolt: thread in its insert

    double widthMm = 0, heightMm = 0; ///< key: what bears on the wall when it is pushed, from two sides; dovetail
                                      ///< and clocking key: the length of their flanks
    double turnSideMm = 0;            ///< key: side of the square that presses its wall as much when it is turned
    double sectionMm2 = 0;            ///< of a key or a dovetail at the face (its neck)
    double torsionModulusMm3 = 0;     ///< of the key; 0: it is round or can slide, and takes none
    double slideAngle = 0; ///< dovetail, clocking key: radians from u, the way in which they slide and bear nothing

    double stressAreaMm2 = 0;          ///< bolt
    BoltClass boltClass;               ///< bolt
    double headMm = 0, headHoleMm = 0; ///< seat of the head or its washer, and the hole in it
    double headWallMm = 0;             ///< material under the head
    double nutMm = 0, nutHoleMm = 0;   ///< seat of the nut; 0: an insert
    double nutWallMm = 0;              ///< material that the nut pulls on
    double insertMm = 0, insertLengthMm = 0;
};
std::string memberName(JointMember::Kind kind);

/// The piece on one side.
struct SeamSide {
    int piece = 0;
    const MaterialStrength* material = nullptr;
    double layerAngle = 0; ///< between the cut's normal and the normal of the piece's layers, radians
};

struct SeamLoad {
    mesh::Region region; ///< all faces between the two pieces on this cut, frame of the cut
    SectionForces forces;
    std::vector<JointMember> members;
    SeamSide below, above;
    double glueMpa = 0;
};

struct SeamStrength {
    SectionProperties section;         ///< of the whole face
    SectionForces forces;              ///< about its centroid
    std::vector<StrengthCheck> checks; ///< of members alike, the worst only
    /// Bending moment, in the direction of the load, that the pulled joints bear (or the glue, where there are none)
    /// over what the material would bear if the face were not cut.
    double bendingOfWhole = 0;
};

/// How the face's forces are shared:
/// - Shear and torsion go to dowels, keys and dovetails alike; where there are none to screws and studs, then to bolts
///   (their clearance taken up), then to the glue. A lone round joint takes no torsion: that is left to clocking keys,
///   each with a lever about it, which it bears the counterforce of; else to the glue, or to a screw's friction. The
///   slide of a dovetail and of a clocking key takes no shear: that is left to the glue.
/// - Pull and bending go to screws, studs, dovetails and bolts as groupPull says; where there are none, to the glue.
///   Dowels and keys can be drawn out and bear no pull.
/// - The material beside the cut bears all of it on its section less the bores, on both sides.
SeamStrength seamStrength(const SeamLoad& load);

} // namespace quoin::core
