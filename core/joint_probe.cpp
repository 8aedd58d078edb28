// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_probe.h"

#include "core/joint_envelope.h"
#include "core/open_way.h"

#include <algorithm>
#include <limits>

namespace quoin::core {

namespace {

/// Reach of the first trees: all dowels of the series have their room in it.
constexpr double usualReachMm = 80;
/// What lies past a feature's wall by this is still seen, so that the numbers told are true.
constexpr double spareReachMm = 10;
constexpr double deepestReachMm = 2000;
/// More room than this is as good as any.
constexpr double mostSpareMm = 1000;
constexpr double yesOrNoMm = 0.02;

} // namespace

JointProbe::JointProbe(std::shared_ptr<const Project> project) : m_project(std::move(project)) {}

const JointRoom& JointProbe::roomFor(const Joint& joint) const
{
    double reach = 0;
    for (const bool above : {false, true})
        if (const auto side = jointEnvelope(joint, above))
            reach = std::max(reach, std::min(side->deepestMm(), deepestReachMm));
    reach += m_project->jointOptions.wallMm + spareReachMm;
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
    return jointFault(sceneFor(joints[which]), joints, which, marks);
}

JointScene JointProbe::sceneFor(const Joint& joint) const
{
    return {m_project->pieces, m_project->seams, m_project->plan, roomFor(joint), m_project->jointOptions.wallMm};
}

double JointProbe::spareMm(const std::vector<Joint>& joints, std::size_t which, mesh::Vec2 at) const
{
    Joint joint = joints[which];
    joint.at = at;
    const Seam& seam = m_project->seams[joint.seam];
    const JointScene scene = sceneFor(joint);
    // Off the face it gets worse with the distance, so that the way back is downhill everywhere.
    const double edge = mesh::distanceToOutline(seam.region, at), mouth = mouthRadiusMm(joint);
    if (!mesh::contains(seam.region, at))
        return -mouth - edge;
    double spare =
        std::min(jointSpare(scene, joint, mostSpareMm).spareMm, liesAlongFace(joint) ? mostSpareMm : edge - mouth);
    for (std::size_t i = 0; i < joints.size(); ++i) {
        if (i == which)
            continue;
        if (!clashOf(scene, joint, joints[i]).empty())
            return -mostSpareMm;
        const double wall = wallBetween(m_project->seams, m_project->plan, joint, joints[i]);
        // How far bodies with flat ends run into each other is known roughly only: they touch.
        spare = std::min(spare, (joint.kind == JointForm::Kind::Dowel ? wall : std::max(wall, 0.0)) - scene.wallMm);
    }
    if (!opensOutside(joint))
        return spare;
    // Whether its ways are free changes from one place to the next: no more is said than yes or no, by so little that
    // each place is looked at.
    const bool barred = spare < 0 || !mouthOnSeam(scene, joint) || !openWays(scene, joint).fault.empty();
    return barred ? -yesOrNoMm : std::min(spare, yesOrNoMm);
}

} // namespace quoin::core
