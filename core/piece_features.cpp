// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/piece_features.h"

#include "core/joint_dowel.h"
#include "core/mark.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

namespace {

/// The radius and depth that a recess reaches about a point of its face.
std::pair<double, double> reachOf(const mesh::Recess& recess, mesh::Vec2 middle)
{
    double radius = 0, depth = 0;
    for (const mesh::Recess::Level& level : recess.levels) {
        depth = std::max(depth, level.depthMm);
        for (const mesh::Loop& loop : level.outline)
            for (const mesh::Vec2 p : loop)
                radius = std::max(radius, mesh::length(p - middle));
    }
    return {radius, depth};
}

} // namespace

PieceFeatures::PieceFeatures(const Project& project, int piece)
{
    const auto cut = [&](const Seam& s) { return project.plan.nodes[static_cast<std::size_t>(s.cut)].plane; };
    for (const Step& step : project.pieces[static_cast<std::size_t>(piece) - 1].path)
        m_cuts.push_back(project.plan.nodes[static_cast<std::size_t>(step.node)].plane);
    for (std::size_t j = 0; j < project.layout.joints.size(); ++j) {
        const Joint& joint = project.layout.joints[j];
        const Seam& seam = project.seams[joint.seam];
        if (seam.pieceBelow != piece && seam.pieceAbove != piece)
            continue;
        const bool above = seam.pieceAbove == piece;
        const mesh::PlaneFrame own = mesh::frameOf(outwardPlane(cut(seam), above));
        const mesh::Vec3 mouth = mesh::frameOf(cut(seam)).space(joint.at);
        const auto [radius, depth] = reachOf(dowelBore(joint, cut(seam), above), own.flat(mouth));
        m_bores.push_back({j, mouth, -own.normal, radius, depth});
    }
    for (const Mark& mark : project.layout.marks) {
        const Seam& seam = project.seams[mark.seam];
        if (seam.pieceBelow != piece && seam.pieceAbove != piece)
            continue;
        const bool above = seam.pieceAbove == piece;
        MarkArea area{mesh::frameOf(outwardPlane(cut(seam), above)), {}, {1e300, 1e300}, {-1e300, -1e300}, 0};
        for (const mesh::Recess& recess : markRecesses(mark, cut(seam), above))
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

bool PieceFeatures::within(const Bore& bore, mesh::Vec3 p, double slackMm)
{
    const mesh::Vec3 from = p - bore.mouth;
    const double depth = mesh::dot(from, bore.inward);
    return depth >= -slackMm && depth <= bore.depthMm + slackMm &&
           mesh::length(from - depth * bore.inward) <= bore.radiusMm + slackMm;
}

bool PieceFeatures::inBore(mesh::Vec3 p, double slackMm) const
{
    return std::any_of(m_bores.begin(), m_bores.end(), [&](const Bore& bore) { return within(bore, p, slackMm); });
}

bool PieceFeatures::inBore(std::size_t joint, mesh::Vec3 p, double slackMm) const
{
    return std::any_of(m_bores.begin(), m_bores.end(),
                       [&](const Bore& bore) { return bore.joint == joint && within(bore, p, slackMm); });
}

} // namespace quoin::core
