// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_key.h"

#include "core/joint_dowel.h"
#include "core/key_outline.h"
#include "core/profile_stack.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

using mesh::Loop;
using mesh::Vec2;

Loop turned(Loop loop, double angle)
{
    const double c = std::cos(angle), s = std::sin(angle);
    for (Vec2& p : loop)
        p = {c * p.x - s * p.y, s * p.x + c * p.y};
    return loop;
}

/// An outline about the axis with x along the joint's angle, in the frame of a side's outward plane.
Loop onSide(const Loop& outline, const Joint& joint, const mesh::Plane& cut, bool above)
{
    return seenFromSide(turned(outline, joint.angle), joint.at, cut, above);
}

/// The end of a key: smaller all round.
Loop endOf(const KeyOutline& outline, const Joint& joint)
{
    return scaledBy(outline.keyAt(joint.depthMm), 1 - outline.leadMm() / (joint.diameterMm / 2));
}

/// Places along the axis as seen from a side: at the face and at a height out of it (into the material: negative).
JointZone zoneAlong(const Joint& joint, const mesh::Plane& cut, bool above, double heightMm, double radiusMm)
{
    const mesh::Vec3 foot = mesh::frameOf(cut).space(joint.at);
    return {foot, foot + heightMm * outwardPlane(cut, above).normal, radiusMm};
}

SideShape pocket(const KeyOutline& outline, const Joint& joint, const mesh::Plane& cut, bool above)
{
    mesh::Recess recess;
    recess.levels.push_back({0, {onSide(outline.mouth(), joint, cut, above)}});
    for (const double depth : {keyMouthChamferMm, outline.pocketDepthMm()})
        recess.levels.push_back({depth, {onSide(outline.pocketAt(depth), joint, cut, above)}});
    SideShape side;
    side.recesses.push_back(std::move(recess));
    side.mouths.push_back(zoneAlong(joint, cut, above, -keyMouthChamferMm, reachOf(outline.mouth())));
    side.zones.push_back(
        zoneAlong(joint, cut, above, -outline.pocketDepthMm(), reachOf(outline.pocketAt(keyMouthChamferMm))));
    return side;
}

SideShape standingKey(const KeyOutline& outline, const Joint& joint, const mesh::Plane& cut, bool above)
{
    const double foot = outline.footMm(), lead = joint.depthMm - outline.leadMm();
    ProfileStack stack{{0, outline.foot()}};
    if (foot > 0)
        stack.push_back({foot, outline.keyAt(foot)});
    stack.push_back({lead, outline.keyAt(lead)});
    stack.push_back({joint.depthMm, endOf(outline, joint)});
    for (ProfileLevel& level : stack)
        level.outline = onSide(level.outline, joint, cut, above);
    SideShape side;
    side.patches.push_back({openStack(stack, mesh::frameOf(outwardPlane(cut, above)))});
    side.proud.push_back(zoneAlong(joint, cut, above, joint.depthMm, reachOf(outline.foot())));
    return side;
}

mesh::Transform lying(const KeyOutline& outline, const Joint& joint, const mesh::Plane& cut)
{
    const mesh::PlaneFrame frame = mesh::frameOf(cut);
    const double angle = joint.angle + outline.restAngle();
    const mesh::Vec3 up = -(std::cos(angle) * frame.u + std::sin(angle) * frame.v);
    const mesh::Transform turn =
        mesh::Transform::fromColumns(frame.normal, mesh::cross(up, frame.normal), up).rigidInverse();
    return mesh::Transform::translation({0, 0, outline.restMm()}) * turn *
           mesh::Transform::translation(-frame.space(joint.at));
}

std::string nameOf(const Joint& joint)
{
    const char* section = joint.section == JointForm::Section::Square ? "square"
                          : joint.section == JointForm::Section::D    ? "D"
                                                                      : "cross";
    std::string name = fmt::format("{} key {:g} x {:g} mm", section, joint.diameterMm, 2 * joint.depthMm);
    if (joint.taperMm > 0)
        name += fmt::format(", tapered {:g} mm", joint.taperMm);
    return name;
}

} // namespace

Result<SideShape> keySide(const Joint& joint, const mesh::Plane& cut, bool above)
{
    const auto outline = KeyOutline::of(joint);
    if (!outline)
        return outline.problem();
    return joint.integral && above == joint.carrierAbove ? standingKey(*outline, joint, cut, above)
                                                         : pocket(*outline, joint, cut, above);
}

Result<std::vector<JointPart>> keyParts(const Joint& joint, const mesh::Plane& cut)
{
    const auto outline = KeyOutline::of(joint);
    if (!outline)
        return outline.problem();
    if (joint.integral)
        return std::vector<JointPart>{};
    const double end = joint.depthMm, lead = end - outline->leadMm();
    ProfileStack stack{{-end, endOf(*outline, joint)}, {-lead, outline->keyAt(lead)}};
    if (joint.taperMm > 0)
        stack.push_back({0, outline->keyAt(0)});
    stack.push_back({lead, outline->keyAt(lead)});
    stack.push_back({end, endOf(*outline, joint)});
    for (ProfileLevel& level : stack) {
        level.outline = turned(level.outline, joint.angle);
        for (Vec2& p : level.outline)
            p = p + joint.at;
    }
    return std::vector<JointPart>{
        {"key", nameOf(joint), closedStack(stack, mesh::frameOf(cut)), lying(*outline, joint, cut)}};
}

Loop keySection(const Joint& joint)
{
    const auto outline = KeyOutline::of(joint);
    return outline ? turned(outline->keyAt(0), joint.angle) : Loop{};
}

double keyReachMm(const Joint& joint)
{
    const auto outline = KeyOutline::of(joint);
    return outline ? reachOf(outline->mouth()) : 0;
}

} // namespace quoin::core
