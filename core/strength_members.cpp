// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/strength.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace quoin::core {

namespace {

/// Loose round parts are printed lying: layers along the axis.
constexpr double lying = std::numbers::pi / 2;

JointMember dowelOf(const Joint& joint, const MaterialStrength& material)
{
    JointMember m;
    m.kind = JointMember::Kind::Dowel;
    m.at = joint.at;
    m.diameterMm = joint.diameterMm;
    m.boreMm = joint.diameterMm + 2 * joint.clearanceMm;
    m.depthMm = joint.depthMm;
    m.material = &material;
    m.layerAngle = lying;
    return m;
}

} // namespace

double layerAngle(const Pose& pose, mesh::Vec3 direction)
{
    const mesh::Vec3 printed = pose.printFromAssembled.direction(direction);
    const double length = mesh::length(printed);
    return length > 0 ? std::acos(std::clamp(std::abs(printed.z) / length, 0.0, 1.0)) : 0;
}

std::vector<JointMember> membersOf(const Project& project, std::size_t seam, const LoadCase&)
{
    std::vector<JointMember> members;
    const MaterialStrength* material = findStrength(project.part.material);
    if (material == nullptr)
        return members;
    for (const Joint& joint : project.layout.joints)
        if (joint.seam == seam)
            members.push_back(dowelOf(joint, *material));
    return members;
}

} // namespace quoin::core
