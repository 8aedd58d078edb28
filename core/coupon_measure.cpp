// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/coupon_measure.h"

#include <algorithm>
#include <limits>

namespace quoin::core {

namespace {

/// Corners farther than this from the moving part's bounds can't hold the least gap of a coupon.
constexpr double reachMm = 5;

} // namespace

GapMeter::GapMeter(const mesh::Mesh& still, const mesh::Mesh& moving)
    : m_still(still), m_moving(moving), m_stillTree(still), m_movingTree(moving), m_box(mesh::bounds(moving))
{
}

double GapMeter::leastMm(const mesh::Transform& pose) const
{
    const mesh::Transform back = pose.rigidInverse();
    double least = std::numeric_limits<double>::infinity();
    for (const mesh::Vec3 p : m_moving.points)
        least = std::min(least, m_stillTree.distance(pose.point(p)));
    const auto near = [&](mesh::Vec3 p) {
        return p.x >= m_box.min.x - reachMm && p.x <= m_box.max.x + reachMm && p.y >= m_box.min.y - reachMm &&
               p.y <= m_box.max.y + reachMm && p.z >= m_box.min.z - reachMm && p.z <= m_box.max.z + reachMm;
    };
    for (const mesh::Vec3 p : m_still.points)
        if (const mesh::Vec3 seen = back.point(p); near(seen))
            least = std::min(least, m_movingTree.distance(seen));
    return least;
}

} // namespace quoin::core
