// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint_rules.h"

#include <string>

/// How the head and the nut of a draw bolt, a dovetail's key, or a clocking key get in from the outside.
namespace quoin::core {

/// Room that a screw, a nut and the hand that brings them need in line with the bolt, outside: the screw's length and
/// this, mm (common practice, no source).
inline constexpr double handRoomMm = 50;
/// A head is reached down a counterbore of at most this length, mm: long keys (common practice, no source).
inline constexpr double deepestHeadMm = 150;

/// The ways of a joint out of its two pieces.
struct OpenWays {
    double headOutMm = 0, nutOutMm = 0; ///< for Joint; a groove or a slot ends at nutOutMm from Joint::at
    /// From the face to where the skin is first met over the width of the counterbore; of the far nut's pocket; mm.
    double headSkinMm = 0, nutSkinMm = 0;
    double nutMostMm = 0; ///< of a clocking key's slot: to where it is met last
    std::string fault; ///< what is in the way, and a remedy; empty when all are open
};

/// The surface of the joint's own piece is met once by every line of the way, and nothing of any piece stands before it
/// outside. Lines along the way: its middle and twelve round its edge; of a slot or a groove 51 over its section.
/// Other kinds have no ways.
OpenWays openWays(const JointScene& scene, const Joint& joint);

/// The same joint with its ways as they are; any other kind unchanged.
Joint withWays(const JointScene& scene, Joint joint);

} // namespace quoin::core
