// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/assembly.h"

#include <cmath>

namespace quoin::core {

namespace {

using mesh::Vec3;

/// Ways and axes that differ by less are the same: far below what a clearance takes up.
constexpr double sameWaySine = 1e-4;
constexpr double sameAxisMm = 0.01;
constexpr double sameLeadMm = 1e-6;

bool sameWay(Vec3 a, Vec3 b)
{
    return mesh::dot(a, b) > 0 && mesh::length(mesh::cross(a, b)) <= sameWaySine;
}

/// Whether a helix turns about the axis through a point.
bool turnsAbout(const Motion& motion, Vec3 point)
{
    const Vec3 d = point - motion.point;
    return mesh::length(d - mesh::dot(d, motion.direction) * motion.direction) <= sameAxisMm;
}

double signedLead(const ThreadForm& thread)
{
    return thread.leftHand ? -thread.leadMm() : thread.leadMm();
}

} // namespace

Motion Motion::reversed() const
{
    Motion back = *this;
    back.direction = -direction; // the hand stays: a screw that turns right-handed one way does so the other way
    return back;
}

Motion wayOff(const Joint& joint, const mesh::Plane& cut)
{
    const mesh::PlaneFrame frame = mesh::frameOf(cut);
    Motion motion;
    motion.point = frame.space(joint.at);
    motion.direction = cut.normal;
    switch (joint.kind) {
    case JointForm::Kind::Screw:
    case JointForm::Kind::Stud:
        motion.kind = Motion::Kind::Helix;
        motion.leadMm = signedLead(joint.thread);
        motion.travelMm = joint.depthMm;
        break;
    case JointForm::Kind::Dovetail:
        motion.direction = mesh::normalized((joint.carrierAbove ? 1.0 : -1.0) *
                                            (std::cos(joint.angle) * frame.u + std::sin(joint.angle) * frame.v));
        break;
    default:
        break;
    }
    return motion;
}

bool allows(const Joint& joint, const mesh::Plane& cut, bool above, const Motion& off)
{
    const Motion own = above ? wayOff(joint, cut) : wayOff(joint, cut).reversed();
    const bool helix = off.kind == Motion::Kind::Helix;
    switch (joint.kind) {
    case JointForm::Kind::Screw:
    case JointForm::Kind::Stud:
        return helix && sameWay(off.direction, own.direction) && turnsAbout(off, own.point) &&
               std::abs(off.leadMm - own.leadMm) <= sameLeadMm;
    case JointForm::Kind::DrawBolt:
    case JointForm::Kind::ClockingKey:
        return true; // goes in afterwards
    case JointForm::Kind::Dowel:
        if (helix && !joint.keyed) // round: turns with a screw about the same axis
            return sameWay(off.direction, own.direction) && turnsAbout(off, own.point);
        break;
    default:
        break;
    }
    return !helix && sameWay(off.direction, own.direction);
}

} // namespace quoin::core
