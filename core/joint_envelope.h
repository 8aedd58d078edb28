// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/joint.h"
#include "core/joint_room.h"
#include "mesh/result.h"

#include <vector>

/// What a joint of any kind asks of the material on either side of its cut: simple bodies that all rules go by, never
/// smaller than what is made (core/joint_shape.h).
namespace quoin::core {

/// Everything over a footprint on the face between two depths below it.
struct EnvelopeStep {
    /// A point, for what is round about the axis, or the corners of a convex outline; frame of the cut's plane.
    mesh::Loop footprint;
    double radiusMm = 0; ///< round the footprint
    double fromMm = 0, toMm = 0;
    bool closed = true; ///< ends in the material, which is asked for past toMm too
    /// Ends in a ball of its radius: asks for that much past toMm besides, as a dowel always has.
    bool roundEnd = false;
    /// Of a groove: skin outside of it doesn't count, since the groove opens there.
    std::optional<HalfPlane> within = {};
};

/// One side of a joint.
struct JointEnvelope {
    mesh::Vec2 at{0, 0}; ///< the axis; frame of the cut's plane
    /// Must lie in the material, with a wall all round. On the side that carries an integral screw, key or dovetail:
    /// its foot, down to half its diameter, so that it stands on solid material (common practice, no source).
    std::vector<EnvelopeStep> steps;
    /// May break the skin: counterbores, the pockets and slots of nuts, the open end of a groove.
    std::vector<EnvelopeStep> openings;
    double mouthRadiusMm = 0; ///< what opens on the face, or stands on it, lies within this of Joint::at
    mesh::Loop mouth;         ///< of a dovetail or a clocking key instead: its footprint; frame of the cut's plane

    /// How deep below the face anything is asked for, mm.
    double deepestMm() const;
};

/// Down to this many diameters below the face an integral part stands on solid material.
inline constexpr double rootDiameters = 0.5;

/// A draw bolt whose ways out are not known yet: as if they were open far out, so that its sizes can be told.
Joint withWaysOpen(Joint joint);

/// BadArgument in words: sizes that the joint can't be made of.
Result<JointEnvelope> jointEnvelope(const Joint& joint, bool above);

/// The larger mouthRadiusMm of both sides; 0 for impossible sizes.
double mouthRadiusMm(const Joint& joint);

/// What it takes of one piece as capsules, steps and openings alike: for what stays on the face, such as marks.
std::vector<Capsule> envelopeCapsules(const JointEnvelope& envelope, const mesh::Plane& cut, bool above);

/// A convex body that a joint takes of a piece, in the assembled frame: a footprint drawn out along an axis, with a
/// radius round it; or a capsule.
class TakenBody {
public:
    TakenBody(const EnvelopeStep& step, const mesh::Plane& cut, bool above);

    /// A capsule that holds all of it.
    const Capsule& around() const { return m_around; }
    bool isCapsule() const { return m_round; }
    mesh::Vec3 nearest(mesh::Vec3 p) const;
    mesh::Vec3 farthest(mesh::Vec3 direction) const;

private:
    mesh::PlaneFrame m_frame;
    mesh::Loop m_footprint;
    double m_radius, m_low, m_high; ///< heights along the cut's normal
    bool m_round, m_hasArea;
    Capsule m_around;
};

std::vector<TakenBody> takenBodies(const JointEnvelope& envelope, const mesh::Plane& cut, bool above);

/// Gap between two bodies, mm; never more than there is, and at most 0.01 mm less where it is under `exactBelowMm`
/// (farther off, a bound from below). Negative where they run into each other: by how much, roughly.
///
/// Alternating projections onto two convex sets (Cheney and Goldstein 1959); the gap along the line between the
/// nearest points, by support functions, is the bound.
double gapBetween(const TakenBody& a, const TakenBody& b, double exactBelowMm);

} // namespace quoin::core
