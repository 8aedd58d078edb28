// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "core/piece_shape.h"
#include "core/turn_fit.h"
#include "mesh/mesh.h"

#include <optional>
#include <vector>

namespace quoin::core {

/// A way to print a piece: which bed, and the rigid motion from the assembled frame to the bed's frame. The bed's
/// plate is z = 0, its middle is x = y = 0; the piece stands on z = 0, centred.
struct Pose {
    mesh::Transform printFromAssembled;
    std::size_t bed = 0; ///< index into the beds given
    mesh::Vec3 extentsMm{0, 0, 0};
    /// Least room left to the bed less its margin: extents against width, depth (both sides together) and height;
    /// round: radius and height. Negative: doesn't fit.
    double slackMm = 0;
    double baseAreaMm2 = 0;  ///< area of the piece that lies on the plate
    bool standsFlat = false; ///< on a real flat face, centre of mass over it; else it needs support
};

struct FitOptions {
    double marginMm = 5;      ///< kept free on all four sides and at the top
    bool anyRotation = false; ///< also try poses that stand on no flat face
};

/// Looks for a pose in which a piece fits a bed with the margin: standing on each flat hull face in turn, the turn in
/// the plane solved exactly (core/turn_fit.h; round beds: smallest enclosing circle). Flat faces are those where at
/// least 1 % of the hull's largest shadow really lies on the plate and the centre of mass stands over it; when the
/// piece has none, every hull face is tried (near-equal ones once) and the pose is marked as needing support.
/// Prefers the smallest bed that fits, then the flat base of the largest area; among bases at most a tenth smaller,
/// the least height. A piece larger than the room by fitRelative (core/bed_room.h) still fits, with no slack.
/// @return none when no pose was found. With anyRotation a numeric search over rotations is added: a pose found is
///         certain, "none" is then not a proof.
std::optional<Pose> fitOnBeds(const mesh::Mesh& piece, const std::vector<Bed>& beds, const FitOptions& options = {});
std::optional<Pose> fitOnBeds(const PieceShape& piece, const std::vector<Bed>& beds, const FitOptions& options = {});

/// As fitOnBeds; when nothing fits, the pose found that sticks out least (slackMm < 0). None only without beds or when
/// the piece is empty.
std::optional<Pose> closestPose(const PieceShape& piece, const std::vector<Bed>& beds, const FitOptions& options = {});

/// Whether it is plain that a body with this hull, or one around it, fits none of the beds in any rotation: longest
/// side against the bed's diagonal; volume, surface and mean width against the bed's own.
bool clearlyTooLarge(const HullMeasures& hull, const std::vector<Bed>& beds, double marginMm);

/// Least room left (mm, negative when it sticks out) of points standing in a bed's frame, margin taken off. Round
/// beds: distance from the axis. To each side apart, so half the slack of the pose in x and y. What rounding to file
/// precision may cost (fitRelative) counts as no room, 0. A point below the plate sticks out. What the proof asks of
/// the file itself.
double roomLeftMm(const mesh::Mesh& inPrintPose, const Bed& bed, double marginMm);

} // namespace quoin::core
