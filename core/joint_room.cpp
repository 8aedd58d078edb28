// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_room.h"

#include <algorithm>
#include <cmath>

namespace quoin::core {

double segmentDistance(mesh::Vec3 a, mesh::Vec3 b, mesh::Vec3 c, mesh::Vec3 d)
{
    return mesh::segmentGap(a, b, c, d).distanceMm;
}

JointRoom::JointRoom(const std::vector<Piece>& pieces, const CutPlan& plan, double reachMm)
    : m_pieces(pieces), m_plan(plan), m_reachMm(reachMm)
{
}

const mesh::SurfaceTree& JointRoom::tree(int piece, int cut) const
{
    const std::pair key{piece, cut};
    {
        const std::lock_guard lock(m_lock);
        if (const auto it = m_trees.find(key); it != m_trees.end())
            return it->second;
    }
    const mesh::Mesh& m = m_pieces[static_cast<std::size_t>(piece) - 1].mesh;
    const mesh::Plane& plane = m_plan.nodes[static_cast<std::size_t>(cut)].plane;
    const auto face = static_cast<mesh::Label>(cut) + 1;
    const auto near = [&](std::size_t t) {
        if (m.label(t) == face)
            return false;
        double least = 1e300, most = -1e300;
        for (int k = 0; k < 3; ++k) {
            const double h = plane.distance(m.corner(t, k));
            least = std::min(least, h);
            most = std::max(most, h);
        }
        return least <= m_reachMm && most >= -m_reachMm;
    };
    mesh::SurfaceTree built(m, near); // outside the lock: questions about other faces go on meanwhile
    const std::lock_guard lock(m_lock);
    return m_trees.try_emplace(key, std::move(built)).first->second;
}

const SkinShadow& JointRoom::shadow(int piece, int cut) const
{
    const std::pair key{piece, cut};
    {
        const std::lock_guard lock(m_lock);
        if (const auto it = m_shadows.find(key); it != m_shadows.end())
            return it->second;
    }
    SkinShadow built(m_pieces[static_cast<std::size_t>(piece) - 1].mesh,
                     m_plan.nodes[static_cast<std::size_t>(cut)].plane, static_cast<mesh::Label>(cut) + 1,
                     inward(piece, cut), m_reachMm);
    const std::lock_guard lock(m_lock);
    return m_shadows.try_emplace(key, std::move(built)).first->second;
}

const mesh::SurfaceTree& JointRoom::whole(int piece) const
{
    {
        const std::lock_guard lock(m_lock);
        if (const auto it = m_whole.find(piece); it != m_whole.end())
            return it->second;
    }
    mesh::SurfaceTree built(m_pieces[static_cast<std::size_t>(piece) - 1].mesh);
    const std::lock_guard lock(m_lock);
    return m_whole.try_emplace(piece, std::move(built)).first->second;
}

SkinShadow::Gap JointRoom::skinGap(int piece, int cut, const SkinShadow::Stretch& stretch, double upToMm) const
{
    return shadow(piece, cut).gap(stretch, upToMm);
}

bool JointRoom::prepared(int piece, int cut) const
{
    const std::lock_guard lock(m_lock);
    return m_trees.contains({piece, cut}) && m_shadows.contains({piece, cut});
}

double JointRoom::inward(int piece, int cut) const
{
    const Path& path = m_pieces[static_cast<std::size_t>(piece) - 1].path;
    const auto step = std::find_if(path.begin(), path.end(), [&](const Step& s) { return s.node == cut; });
    return step != path.end() && step->above ? 1 : -1;
}

JointRoom::Gap JointRoom::freeRadius(int piece, int cut, mesh::Vec2 at, double depthMm) const
{
    const mesh::PlaneFrame frame = mesh::frameOf(m_plan.nodes[static_cast<std::size_t>(cut)].plane);
    const mesh::SegmentGap gap =
        tree(piece, cut).distanceToSegment(frame.space(at), frame.space(at, inward(piece, cut) * depthMm));
    return {gap.distanceMm, gap.along * depthMm};
}

double JointRoom::distance(int piece, int cut, mesh::Vec3 p) const
{
    return tree(piece, cut).distance(p);
}

std::vector<double> JointRoom::profile(int piece, int cut, mesh::Vec2 at, double depthMm, double stepMm,
                                       double enoughBelowMm) const
{
    const mesh::PlaneFrame frame = mesh::frameOf(m_plan.nodes[static_cast<std::size_t>(cut)].plane);
    const double down = inward(piece, cut);
    const mesh::SurfaceTree& surface = tree(piece, cut);
    std::vector<double> radii;
    double least = 1e300;
    const int steps = static_cast<int>(std::ceil(depthMm / stepMm));
    for (int i = 0; i <= steps; ++i) {
        least = std::min(least, surface.distance(frame.space(at, down * i * stepMm)) - stepMm / 2);
        radii.push_back(least);
        if (least < enoughBelowMm)
            break;
    }
    return radii;
}

} // namespace quoin::core
