// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/patch_order.h"

#include <algorithm>
#include <cmath>

namespace quoin::ui {

using mesh::Vec3;

namespace {

/// Corners nearer to a plane than this share of their distance from its origin lie on it: patches are drawn in single
/// precision.
constexpr double onPlaneShare = 1e-6;

/// As long as twice the patch's area (Newell's sum: good for any flat polygon).
Vec3 areaNormal(const std::vector<Vec3>& corners)
{
    Vec3 sum{0, 0, 0};
    for (std::size_t i = 1; i + 1 < corners.size(); ++i)
        sum = sum + cross(corners[i] - corners[0], corners[i + 1] - corners[0]);
    return sum;
}

struct Halves {
    std::vector<Vec3> below, above;
    bool leavesBelow = false, leavesAbove = false; ///< a corner is clearly there
};

Halves cut(const std::vector<Vec3>& corners, Vec3 normal, Vec3 origin)
{
    std::vector<double> height(corners.size());
    Halves out;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Vec3 d = corners[i] - origin;
        height[i] = dot(d, normal);
        if (std::abs(height[i]) <= onPlaneShare * length(d))
            height[i] = 0;
        out.leavesBelow |= height[i] < 0;
        out.leavesAbove |= height[i] > 0;
    }
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const std::size_t j = (i + 1) % corners.size();
        if (height[i] <= 0)
            out.below.push_back(corners[i]);
        if (height[i] >= 0)
            out.above.push_back(corners[i]);
        if ((height[i] < 0 && height[j] > 0) || (height[i] > 0 && height[j] < 0)) {
            const Vec3 p = corners[i] + height[i] / (height[i] - height[j]) * (corners[j] - corners[i]);
            out.below.push_back(p);
            out.above.push_back(p);
        }
    }
    return out;
}

} // namespace

PatchOrder::PatchOrder(const std::vector<std::vector<Vec3>>& patches)
{
    std::vector<PatchPiece> pieces;
    for (std::size_t i = 0; i < patches.size(); ++i)
        if (length(areaNormal(patches[i])) > 0)
            pieces.push_back({i, patches[i]});
    if (!pieces.empty())
        build(std::move(pieces));
}

std::size_t PatchOrder::build(std::vector<PatchPiece> pieces)
{
    const std::size_t number = m_nodes.size();
    const Vec3 normal = normalized(areaNormal(pieces.front().corners)), origin = pieces.front().corners.front();
    m_nodes.push_back({normal, origin, {}, 0, 0});
    std::vector<PatchPiece> below, above;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        Halves halves = cut(pieces[i].corners, normal, origin);
        if (i == 0 || (!halves.leavesBelow && !halves.leavesAbove)) {
            m_nodes[number].within.push_back(m_pieces.size());
            m_pieces.push_back(std::move(pieces[i]));
            continue;
        }
        if (halves.leavesBelow)
            below.push_back({pieces[i].patch, std::move(halves.below)});
        if (halves.leavesAbove)
            above.push_back({pieces[i].patch, std::move(halves.above)});
    }
    if (!below.empty()) {
        const std::size_t child = build(std::move(below));
        m_nodes[number].below = child;
    }
    if (!above.empty()) {
        const std::size_t child = build(std::move(above));
        m_nodes[number].above = child;
    }
    return number;
}

std::vector<std::size_t> PatchOrder::farthestFirst(Vec3 eye) const
{
    std::vector<std::size_t> out;
    if (!m_nodes.empty())
        walk(0, eye, out);
    return out;
}

void PatchOrder::walk(std::size_t node, Vec3 eye, std::vector<std::size_t>& out) const
{
    const Node& n = m_nodes[node];
    const bool eyeAbove = dot(eye - n.origin, n.normal) > 0;
    if (const std::size_t far = eyeAbove ? n.below : n.above; far != 0)
        walk(far, eye, out);
    out.insert(out.end(), n.within.begin(), n.within.end());
    if (const std::size_t near = eyeAbove ? n.above : n.below; near != 0)
        walk(near, eye, out);
}

} // namespace quoin::ui
