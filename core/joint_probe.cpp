// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_probe.h"

#include <algorithm>
#include <limits>

namespace quoin::core {

namespace {

/// Reach of the first trees: all dowels of the series have their room in it.
constexpr double usualReachMm = 80;
/// What lies past a feature's wall by this is still seen, so that the numbers told are true.
constexpr double spareReachMm = 10;

} // namespace

JointProbe::JointProbe(std::shared_ptr<const Project> project) : m_project(std::move(project)) {}

const JointRoom& JointProbe::roomFor(const Joint& joint) const
{
    const double reach =
        std::min(joint.depthMm, deepestDowelMm) + joint.endClearanceMm +
        radiusNeededMm(std::min(joint.diameterMm, thickestDowelMm), joint.clearanceMm, m_project->jointOptions.wallMm) +
        spareReachMm;
    int power = 0;
    for (double r = usualReachMm; r < reach; r *= 2)
        ++power;
    const Seam& seam = m_project->seams[joint.seam];
    const std::lock_guard lock(m_lock);
    // One that reaches farther and is built already serves as well.
    for (auto it = m_rooms.lower_bound(power); it != m_rooms.end(); ++it)
        if (it->second.prepared(seam.pieceBelow, seam.cut) && it->second.prepared(seam.pieceAbove, seam.cut))
            return it->second;
    return m_rooms.try_emplace(power, m_project->pieces, m_project->plan, usualReachMm * (1 << power)).first->second;
}

void JointProbe::warmUp(const Joint& joint) const
{
    const Seam& seam = m_project->seams[joint.seam];
    const JointRoom& room = roomFor(joint);
    for (const int piece : {seam.pieceBelow, seam.pieceAbove})
        room.prepare(piece, seam.cut);
}

bool JointProbe::ready(const Joint& joint) const
{
    const Seam& seam = m_project->seams[joint.seam];
    const JointRoom& room = roomFor(joint);
    return room.prepared(seam.pieceBelow, seam.cut) && room.prepared(seam.pieceAbove, seam.cut);
}

std::optional<JointFault> JointProbe::fault(const std::vector<Joint>& joints, std::size_t which,
                                            const std::vector<Mark>& marks) const
{
    return jointFault(
        {m_project->pieces, m_project->seams, m_project->plan, roomFor(joints[which]), m_project->jointOptions.wallMm},
        joints, which, marks);
}

double JointProbe::spareMm(const std::vector<Joint>& joints, std::size_t which, mesh::Vec2 at) const
{
    Joint joint = joints[which];
    joint.at = at;
    const Seam& seam = m_project->seams[joint.seam];
    const double wall = m_project->jointOptions.wallMm;
    const double need = radiusNeededMm(joint.diameterMm, joint.clearanceMm, wall);
    // Off the face it gets worse with the distance, so that the way back is downhill everywhere.
    if (!mesh::contains(seam.region, at))
        return -need - mesh::distanceToOutline(seam.region, at);
    const JointRoom& room = roomFor(joint);
    const double depth = joint.depthMm + joint.endClearanceMm;
    double spare = std::min(room.freeRadius(seam.pieceBelow, seam.cut, at, depth).radiusMm,
                            room.freeRadius(seam.pieceAbove, seam.cut, at, depth).radiusMm) -
                   need;
    for (std::size_t i = 0; i < joints.size(); ++i)
        if (i != which)
            spare = std::min(spare, wallBetween(m_project->seams, m_project->plan, joint, joints[i]) - wall);
    return spare;
}

} // namespace quoin::core
