// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/vec3.h"

#include <cstddef>
#include <vector>

namespace quoin::ui {

/// A part of a flat convex patch.
struct PatchPiece {
    std::size_t patch = 0; ///< which one it is a part of
    std::vector<mesh::Vec3> corners;
};

/// Flat convex patches, split where they pass through each other's planes, such that they can be put in order for any
/// eye: a tree of planes (Fuchs, Kedem and Naylor 1980, "On visible surface generation by a priori tree structures").
/// Patches in one plane are laid in the order given. Patches with no area are left out.
class PatchOrder {
public:
    PatchOrder() = default;
    explicit PatchOrder(const std::vector<std::vector<mesh::Vec3>>& patches);

    /// All pieces; the order within stays, so that it can be sent to the card once.
    const std::vector<PatchPiece>& pieces() const { return m_pieces; }
    /// Numbers of pieces, farthest first. For a parallel view the eye is a point very far away.
    std::vector<std::size_t> farthestFirst(mesh::Vec3 eye) const;

private:
    struct Node {
        mesh::Vec3 normal{0, 0, 0}, origin{0, 0, 0};
        std::vector<std::size_t> within;
        std::size_t below = 0, above = 0; ///< nodes; 0: none, since the root is nobody's child
    };
    std::size_t build(std::vector<PatchPiece> pieces);
    void walk(std::size_t node, mesh::Vec3 eye, std::vector<std::size_t>& out) const;

    std::vector<PatchPiece> m_pieces;
    std::vector<Node> m_nodes;
};

} // namespace quoin::ui
