// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_shape.h"

#include "core/joint_bolt.h"
#include "core/joint_clocking.h"
#include "core/joint_dovetail.h"
#include "core/joint_dowel.h"
#include "core/joint_key.h"
#include "core/joint_numbers.h"
#include "core/joint_rod.h"
#include "core/joint_thread.h"

#include "mesh/primitives.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::core {

namespace {

SideShape dowelSide(const Joint& joint, const mesh::Plane& cut, bool above)
{
    SideShape side;
    side.recesses.push_back(dowelBore(joint, cut, above));
    const mesh::PlaneFrame own = mesh::frameOf(outwardPlane(cut, above));
    const mesh::Vec3 mouth = mesh::frameOf(cut).space(joint.at);
    const mesh::Vec2 middle = own.flat(mouth);
    const auto zoneOf = [&](std::size_t first, std::size_t last) {
        const auto& levels = side.recesses.front().levels;
        JointZone zone{mouth, mouth - levels[last].depthMm * own.normal, 0};
        for (std::size_t i = first; i <= last; ++i)
            for (const mesh::Loop& loop : levels[i].outline)
                for (const mesh::Vec2 p : loop)
                    zone.radiusMm = std::max(zone.radiusMm, mesh::length(p - middle));
        return zone;
    };
    side.mouths.push_back(zoneOf(0, 1));
    side.zones.push_back(zoneOf(1, side.recesses.front().levels.size() - 1));
    return side;
}

std::vector<JointPart> dowelParts(const Joint& joint, const mesh::Plane& cut)
{
    if (joint.rod != JointForm::Rod::Printed)
        return {};
    return {{"dowel", fmt::format("dowel {} x {} mm", joint.diameterMm, 2 * joint.depthMm), dowelInPlace(joint, cut),
             dowelPrintPose(joint, cut)}};
}

} // namespace

Result<SideShape> sideShape(const Joint& joint, const mesh::Plane& cut, bool above)
{
    if (const Status s = checkNumbers(joint); !s)
        return s.problem();
    switch (joint.kind) {
    case Joint::Kind::Dowel:
        if (const Status sold = rodCheck(joint); joint.rod != JointForm::Rod::Printed && !sold)
            return sold.problem();
        return dowelSide(joint, cut, above);
    case Joint::Kind::Screw:
    case Joint::Kind::Stud:
        return threadSide(joint, cut, above);
    case Joint::Kind::Key:
        return keySide(joint, cut, above);
    case Joint::Kind::Dovetail:
        return dovetailSide(joint, cut, above, joint.nutOutMm);
    case Joint::Kind::DrawBolt:
        return boltSide(joint, cut, above);
    case Joint::Kind::ClockingKey:
        return clockingSide(joint, cut, above);
    }
    return SideShape{};
}

Result<std::vector<JointPart>> printedParts(const Joint& joint, const mesh::Plane& cut)
{
    if (const Status s = checkNumbers(joint); !s)
        return s.problem();
    switch (joint.kind) {
    case Joint::Kind::Dowel:
        return dowelParts(joint, cut);
    case Joint::Kind::Screw:
    case Joint::Kind::Stud:
        return threadParts(joint, cut);
    case Joint::Kind::Key:
        return keyParts(joint, cut);
    case Joint::Kind::ClockingKey:
        return clockingParts(joint, cut);
    case Joint::Kind::Dovetail:
    case Joint::Kind::DrawBolt:
        break;
    }
    return std::vector<JointPart>{};
}

Result<std::vector<mesh::Mesh>> boughtInPlace(const Joint& joint, const mesh::Plane& cut)
{
    if (const Status s = checkNumbers(joint); !s)
        return s.problem();
    if (joint.kind == Joint::Kind::DrawBolt)
        return boltInPlace(joint, cut);
    if (joint.kind == Joint::Kind::Dowel && joint.rod != JointForm::Rod::Printed) {
        const int sides = mesh::sidesForChord(joint.diameterMm / 2, joint.chordMm);
        const mesh::Mesh rod = mesh::cylinder(joint.diameterMm / 2, 2 * joint.depthMm, sides);
        return std::vector{mesh::transformed(rod, threadPlace(joint, cut, true) *
                                                      mesh::Transform::translation({0, 0, -joint.depthMm}))};
    }
    return std::vector<mesh::Mesh>{};
}

mesh::Vec3 jointMiddle(const Joint& joint, const mesh::Plane& cut)
{
    const mesh::Vec3 at = mesh::frameOf(cut).space(joint.at);
    return liesAlongFace(joint) ? at + joint.lengthMm / 2 * dovetailWay(joint, cut) : at;
}

std::vector<BoughtPart> boughtParts(const Joint& joint)
{
    const auto listed = joint.kind == Joint::Kind::DrawBolt ? boltParts(joint)
                        : joint.kind == Joint::Kind::Dowel && joint.rod != JointForm::Rod::Printed
                            ? rodParts(joint)
                            : Result<std::vector<BoughtPart>>(std::vector<BoughtPart>{});
    return listed ? *listed : std::vector<BoughtPart>{};
}

} // namespace quoin::core
