// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint.h"
#include "core/joint_room.h"

#include <array>
#include <optional>
#include <string>
#include <vector>

/// The rules that a dowel keeps: a wall around its bore in 3D on both sides, and between features.
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

/// Wall between the bores of two joints in the pieces that they share, mm: negative when they run into each other,
/// infinite when they share none.
double wallBetween(const std::vector<Seam>& seams, const CutPlan& plan, const Joint& a, const Joint& b);

/// "A2": the mark of the seam and the joint's number on it.
std::string jointName(const std::vector<Seam>& seams, const std::vector<Joint>& joints, std::size_t joint);

/// Why a dowel of this size can't be made anywhere: not a number, too small, too large, too shallow. Empty when it can.
std::string sizeFault(double diameterMm, double depthMm);

/// What joints are judged against.
struct JointScene {
    const std::vector<Piece>& pieces;
    const std::vector<Seam>& seams;
    const CutPlan& plan;
    const JointRoom& room;
    double wallMm;
};

/// Why a joint breaks a rule, in words with numbers and a remedy; nullopt when it keeps them all. It stays on its
/// seam, has a wall in 3D all round and past its end in both pieces, a wall to every other joint of the two pieces,
/// and keeps off the marks given.
/// @param joints  all that count; `which` is the one judged
std::optional<JointFault> jointFault(const JointScene& scene, const std::vector<Joint>& joints, std::size_t which,
                                     const std::vector<Mark>& marks = {});

} // namespace quoin::core
