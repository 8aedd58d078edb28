// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint.h"
#include "core/joint_room.h"

#include <array>
#include <optional>
#include <string>
#include <vector>

/// The rules that every joint keeps: a wall around it in 3D on both sides, and between features.
namespace quoin::core {

// Dowel diameters in mm: usual sizes of pins and rods, large enough to print well (common practice, no source).
inline constexpr std::array<double, 10> dowelSeriesMm{4, 5, 6, 8, 10, 12, 16, 20, 25, 30};
/// A bore goes on past the end of its dowel by this.
inline constexpr double boreEndClearanceMm = 0.5;
/// Corners of the bore's polygon and the chamfer of its mouth stand out past its radius by at most this.
inline constexpr double boreMouthMm = 0.15;
/// What can be asked for by hand.
inline constexpr double thinnestDowelMm = 1, thickestDowelMm = 200, shallowestDowelMm = 1, deepestDowelMm = 500;
/// A dowel is at least this many diameters deep on each side, or its chamfers would meet.
inline constexpr double leastReachDiameters = 0.25;

/// Radius of a dowel's bore, its mouth included, mm.
double boreRadiusMm(double diameterMm, double clearanceMm);
/// Free radius that a dowel asks for, mm: bore and wall.
double radiusNeededMm(double diameterMm, double clearanceMm, double wallMm);
/// The bore of a joint on one side of its cut, end clearance included.
Capsule boreCapsule(const Joint& joint, const mesh::Plane& cut, bool above);

/// Wall between two joints of any kind in the pieces that they share, mm, by their envelopes: negative when they run
/// into each other, infinite when they share no piece. Exact up to 0.01 mm where it is thin, a bound from below where
/// it is more than some 20 mm.
double wallBetween(const std::vector<Seam>& seams, const CutPlan& plan, const Joint& a, const Joint& b);

/// "A2": the mark of the seam and the joint's number on it.
std::string jointName(const std::vector<Seam>& seams, const std::vector<Joint>& joints, std::size_t joint);

/// Why a dowel of this size can't be made anywhere: not a number, too small, too large, too shallow. Empty when it can.
/// Other kinds: core/joint_size.h.
std::string sizeFault(double diameterMm, double depthMm);

/// What joints are judged against.
struct JointScene {
    const std::vector<Piece>& pieces;
    const std::vector<Seam>& seams;
    const CutPlan& plan;
    const JointRoom& room;
    double wallMm;

    const Seam& seamOf(const Joint& joint) const { return seams[joint.seam]; }
    const mesh::Plane& cutOf(const Joint& joint) const
    {
        return plan.nodes[static_cast<std::size_t>(seams[joint.seam].cut)].plane;
    }
};

/// Whether what a joint opens on the face lies on its seam, but for the open end of a dovetail.
bool mouthOnSeam(const JointScene& scene, const Joint& joint);

/// Where a joint has the least room.
struct JointSpare {
    double spareMm = 0; ///< beyond all that it needs, its wall included; negative where that is too little
    double needMm = 0;  ///< what it needs there, from its axis or its outline
    double depthMm = 0; ///< below the face
    int piece = 0;
    bool through = false;                ///< it breaks through the surface
    double stepFromMm = 0, stepToMm = 0; ///< the stretch that needs it
    double stepRadiusMm = 0;             ///< its radius without the wall
    bool isRound = true;                 ///< about the axis
};

/// The least room of a joint on its place, in 3D on both sides along the whole length; looked for up to `enoughMm`
/// beyond the need. A joint of impossible size has none.
JointSpare jointSpare(const JointScene& scene, const Joint& joint, double enoughMm);

/// Why two joints between the same two pieces can't both be put in: a screw, or a stud, whose piece has to turn, beside
/// anything but a draw bolt or a clocking key; a dovetail beside what goes straight in. Empty when they can, or join
/// other pieces.
std::string clashOf(const JointScene& scene, const Joint& a, const Joint& b);

/// Why a joint breaks a rule, in words with numbers and a remedy; nullopt when it keeps them all. It has a size that
/// can be made, stays on its seam, has a wall in 3D all round and past its end in both pieces, a wall to every other
/// joint of the two pieces, can be put in beside those, has its ways out free (draw bolt), and keeps off the marks
/// given.
/// @param joints  all that count; `which` is the one judged
std::optional<JointFault> jointFault(const JointScene& scene, const std::vector<Joint>& joints, std::size_t which,
                                     const std::vector<Mark>& marks = {});

} // namespace quoin::core
