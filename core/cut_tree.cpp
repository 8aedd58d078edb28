// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/cut_tree.h"

#include <bit>

namespace quoin::core {

using mesh::Mesh;
using mesh::Vec3;

CutTree leafOf(const Mesh& mesh, const LeafFit& fit)
{
    CutTree leaf;
    leaf.pieces = fit.pieces;
    leaf.sum = checksum(mesh);
    return leaf;
}

CutTree CutTree::copy() const
{
    CutTree out;
    out.plane = plane;
    out.pieces = pieces;
    out.withoutRoom = withoutRoom;
    out.areaMm2 = areaMm2;
    out.sum = sum;
    if (below) {
        out.below = std::make_unique<CutTree>(below->copy());
        out.above = std::make_unique<CutTree>(above->copy());
    }
    return out;
}

int appendTo(CutPlan& plan, const CutTree& tree)
{
    if (!tree.below)
        return -1;
    const std::size_t node = plan.nodes.size();
    plan.nodes.push_back({tree.plane, -1, -1});
    const int below = appendTo(plan, *tree.below);
    plan.nodes[node].below = below;
    const int above = appendTo(plan, *tree.above);
    plan.nodes[node].above = above;
    return static_cast<int>(node);
}

std::uint64_t checksum(const Mesh& mesh)
{
    std::uint64_t sum = 0xcbf29ce484222325ull;
    const auto add = [&](std::uint64_t word) { sum = (sum ^ word) * 0x100000001b3ull; };
    for (const Vec3 p : mesh.points)
        for (const double v : {p.x, p.y, p.z})
            add(std::bit_cast<std::uint64_t>(v));
    for (const mesh::Triangle& t : mesh.triangles)
        for (const mesh::Index v : t)
            add(v);
    return sum;
}

} // namespace quoin::core
