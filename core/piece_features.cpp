// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/piece_features.h"

#include "core/joint_dowel.h"
#include "core/mark.h"
#include "core/witness_shape.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

/// What is taken by no joint.
constexpr std::size_t noJoint = static_cast<std::size_t>(-1);

} // namespace

PieceFeatures::PieceFeatures(const Project& project, int piece)
{
    for (const Step& step : project.pieces[static_cast<std::size_t>(piece) - 1].path)
        m_cuts.push_back(project.plan.nodes[static_cast<std::size_t>(step.node)].plane);
    for (std::size_t j = 0; j < project.layout.joints.size(); ++j)
        addJoint(project, piece, j);
    for (const Mark& mark : project.layout.marks)
        addMark(project, piece, mark);
    for (const Witness& witness : project.layout.witnesses) {
        const Seam& seam = project.seams[witness.seam];
        if (seam.pieceBelow == piece || seam.pieceAbove == piece)
            for (const JointZone& zone : witnessZones(witness)) {
                m_places.push_back({noJoint, zone});
                m_openings.push_back(zone);
            }
    }
}

void PieceFeatures::addJoint(const Project& project, int piece, std::size_t j)
{
    const Joint& joint = project.layout.joints[j];
    const Seam& seam = project.seams[joint.seam];
    if (seam.pieceBelow != piece && seam.pieceAbove != piece)
        return;
    const auto side =
        sideShape(joint, project.plan.nodes[static_cast<std::size_t>(seam.cut)].plane, seam.pieceAbove == piece);
    if (!side)
        return;
    for (const JointZone& zone : side->zones)
        m_places.push_back({j, zone});
    for (const auto* more : {&side->mouths, &side->openings})
        for (const JointZone& zone : *more)
            m_places.push_back({j, zone});
    m_openings.insert(m_openings.end(), side->openings.begin(), side->openings.end());
    const Path& path = project.pieces[static_cast<std::size_t>(piece) - 1].path;
    const auto step = std::find_if(path.begin(), path.end(), [&](const Step& s) { return s.node == seam.cut; });
    for (const JointZone& zone : side->proud)
        m_proud.push_back({zone, static_cast<std::size_t>(step - path.begin())});
}

void PieceFeatures::addMark(const Project& project, int piece, const Mark& mark)
{
    const Seam& seam = project.seams[mark.seam];
    if (seam.pieceBelow != piece && seam.pieceAbove != piece)
        return;
    const bool above = seam.pieceAbove == piece;
    const mesh::Plane& cut = project.plan.nodes[static_cast<std::size_t>(seam.cut)].plane;
    MarkArea area{mesh::frameOf(outwardPlane(cut, above)), {}, {1e300, 1e300}, {-1e300, -1e300}, 0};
    for (const mesh::Recess& recess : markRecesses(mark, cut, above))
        for (const mesh::Recess::Level& level : recess.levels) {
            area.depthMm = std::max(area.depthMm, level.depthMm);
            area.outlines.push_back(level.outline);
            for (const mesh::Loop& loop : level.outline)
                for (const mesh::Vec2 p : loop) {
                    area.low = {std::min(area.low.x, p.x), std::min(area.low.y, p.y)};
                    area.high = {std::max(area.high.x, p.x), std::max(area.high.y, p.y)};
                }
        }
    m_marks.push_back(std::move(area));
}

bool PieceFeatures::onCut(mesh::Vec3 p, double slackMm) const
{
    return std::any_of(m_cuts.begin(), m_cuts.end(),
                       [&](const mesh::Plane& cut) { return std::fabs(cut.distance(p)) <= slackMm; });
}

bool PieceFeatures::inMark(mesh::Vec3 p, double slackMm) const
{
    return std::any_of(m_marks.begin(), m_marks.end(), [&](const MarkArea& area) {
        const double depth = -mesh::dot(area.frame.normal, p - area.frame.origin);
        const mesh::Vec2 q = area.frame.flat(p);
        if (depth < -slackMm || depth > area.depthMm + slackMm || q.x < area.low.x - slackMm ||
            q.x > area.high.x + slackMm || q.y < area.low.y - slackMm || q.y > area.high.y + slackMm)
            return false;
        return std::any_of(area.outlines.begin(), area.outlines.end(), [&](const mesh::Region& outline) {
            return mesh::contains(outline, q) || mesh::distanceToOutline(outline, q) <= slackMm;
        });
    });
}

bool inZone(const JointZone& zone, mesh::Vec3 p, double slackMm)
{
    const mesh::Vec3 along = zone.to - zone.from;
    const double length = mesh::length(along);
    const mesh::Vec3 way = length > 0 ? (1 / length) * along : mesh::Vec3{0, 0, 1};
    const mesh::Vec3 from = p - zone.from;
    const double depth = mesh::dot(from, way);
    return depth >= -slackMm && depth <= length + slackMm &&
           mesh::length(from - depth * way) <= zone.radiusMm + slackMm;
}

bool PieceFeatures::inBore(mesh::Vec3 p, double slackMm) const
{
    return std::any_of(m_places.begin(), m_places.end(),
                       [&](const Place& place) { return inZone(place.zone, p, slackMm); });
}

bool PieceFeatures::inBore(std::size_t joint, mesh::Vec3 p, double slackMm) const
{
    return std::any_of(m_places.begin(), m_places.end(),
                       [&](const Place& place) { return place.joint == joint && inZone(place.zone, p, slackMm); });
}

bool PieceFeatures::proud(mesh::Vec3 p, double slackMm, std::size_t stepOfPath) const
{
    // Past its own cut, what lies on the piece's side of later ones no longer binds it.
    return std::any_of(m_proud.begin(), m_proud.end(),
                       [&](const Proud& proud) { return proud.step <= stepOfPath && inZone(proud.zone, p, slackMm); });
}

bool PieceFeatures::inOpening(mesh::Vec3 p, double slackMm) const
{
    return std::any_of(m_openings.begin(), m_openings.end(),
                       [&](const JointZone& zone) { return inZone(zone, p, slackMm); });
}

} // namespace quoin::core
