// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "mesh/mesh.h"

#include <optional>
#include <string>
#include <vector>

namespace quoin::core {

/// A way to print a piece: which bed, and the rigid motion from the assembled frame to the bed's frame. The bed's
/// plate is z = 0, its middle is x = y = 0; the piece stands on z = 0, centred.
struct Pose {
    mesh::Transform printFromAssembled;
    std::size_t bed = 0;          ///< index into the beds given
    mesh::Vec3 extentsMm{0, 0, 0};
    double slackMm = 0;           ///< least room left to the bed less its margin, over x, y, z (radius when round)
    double baseAreaMm2 = 0;       ///< area of the piece that lies on the plate
    bool standsFlat = false;      ///< on a real flat face, centre of mass over it; else it needs support
};

struct FitOptions {
    double marginMm = 5;       ///< kept free on all four sides and at the top
    bool anyRotation = false;  ///< also try poses that stand on no flat face
};

/// Looks for a pose in which a piece fits a bed with the margin: standing on each flat hull face in turn, the turn in
/// the plane solved exactly (rotating calipers on the projected hull; round beds: smallest enclosing circle). Flat
/// faces are those where at least 1 % of the hull's largest shadow really lies on the plate and the centre of mass
/// stands over it; when the piece has none, every hull face is tried and the pose is marked as needing support.
/// Prefers the smallest bed that fits, then a flat base of larger area and less height.
/// @return none when no pose was found. With anyRotation a numeric search over rotations is added: a pose found is
///         certain, "none" is then not a proof.
std::optional<Pose> fitOnBeds(const mesh::Mesh& piece, const std::vector<Bed>& beds, const FitOptions& options = {});

/// The exact in-plane turn of a convex polygon into a rectangle: angle in radians that leaves the largest least slack,
/// and that slack (negative: doesn't fit). Exported for tests and the proof.
struct TurnFit {
    double radians;
    double slackMm;
};
TurnFit bestTurn(const std::vector<mesh::Vec2>& convexPolygon, double widthMm, double depthMm);

/// Least room left (mm, negative when it sticks out) of points standing in a bed's frame, margin taken off. Round
/// beds: distance from the axis. What the proof asks of the file itself.
double roomLeftMm(const mesh::Mesh& inPrintPose, const Bed& bed, double marginMm);

} // namespace quoin::core
