// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/plane.h"

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

namespace quoin::core {

/// One side of a plane.
struct HalfSpace {
    mesh::Plane plane;
    bool above = false;
};

/// Offsets from `from` to `to`, mm.
struct OffsetRange {
    double from = 0, to = 0;
};

/// Places of a part's surface that no cut may pass: triangles, in the scaled part's frame. Immutable; const calls are
/// safe from several threads.
///
/// A plane passes when parts of one triangle lie on both of its sides, or when it parts two marked triangles that share
/// an edge (so a cut along an edge within a marked place is one too). Touching the border of a marked place is none. A
/// triangle in the plane belongs to the side that its outside faces away from, as mesh::cutByPlane has it.
class KeepClear {
public:
    KeepClear() = default;
    /// @param mesh       the part as it was read
    /// @param triangles  of `mesh`, in any order; std::out_of_range when there is no such triangle
    /// @param scale      positive; brings the triangles to the scaled part's frame
    KeepClear(const mesh::Mesh& mesh, const std::vector<mesh::Index>& triangles, double scale = 1);

    bool empty() const { return m_triangles.empty(); }
    std::size_t size() const { return m_triangles.size(); }
    double areaMm2() const { return m_areaMm2; }
    /// Nearer than this a plane touches and doesn't pass: what rounding to file precision may move a vertex by.
    double touchMm() const { return m_touchMm; }

    /// Whether a plane passes a marked place within the cell that all half-spaces have in common.
    bool crossedBy(const mesh::Plane& plane, const std::vector<HalfSpace>& within = {}) const
    {
        return crossing(plane, within).has_value();
    }
    /// A place where it does.
    std::optional<mesh::Vec3> crossing(const mesh::Plane& plane, const std::vector<HalfSpace>& within = {}) const;

    /// Offsets between `from` and `to` at which a plane with this (unit) normal passes no marked place within the cell:
    /// rising, apart, closed at their ends; one may be as short as 2 * touchMm().
    std::vector<OffsetRange> freeOffsets(mesh::Vec3 normal, double from, double to,
                                         const std::vector<HalfSpace>& within = {}) const;

    /// The corners of each marked place in turn: triangles that hang together by edges, which no plan can part.
    std::vector<mesh::Buffer<mesh::Vec3>> patches() const;

private:
    static constexpr std::uint32_t none = 0xffffffff;
    struct Marked {
        std::array<mesh::Vec3, 3> corners;
        std::array<std::uint32_t, 3> beside{none, none, none}; ///< across the edge from corner k to k + 1
    };
    struct Node {
        mesh::Box3 box;
        std::uint32_t first = 0, count = 0; ///< triangles of a leaf; an inner node has none
        std::uint32_t second = 0;           ///< the other child; the first one follows at once
    };
    struct Cell;

    void link(const mesh::Mesh& soup);
    std::uint32_t build(std::vector<std::uint32_t>& order, std::uint32_t first, std::uint32_t end);
    int sideOf(const Marked& triangle, mesh::Vec3 normal, double offset, const Cell& cell) const;
    template <class Visit>
    bool visit(std::uint32_t node, mesh::Vec3 normal, OffsetRange range, const Cell& cell, Visit&& each) const;

    std::vector<Marked> m_triangles; ///< in the order of the tree's leaves
    std::vector<Node> m_nodes;
    double m_touchMm = 0;
    double m_areaMm2 = 0;
};

} // namespace quoin::core
