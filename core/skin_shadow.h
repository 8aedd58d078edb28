// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/plane.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace quoin::core {

/// Part of a plane: { q : normal . q <= offset }.
struct HalfPlane {
    mesh::Vec2 normal;
    double offsetMm;
};

/// The skin of a piece near a cut, seen along the cut's normal: how far it stays, across, from what goes straight into
/// the face. Exact for what has a flat end, where a distance to the axis would ask for a ball of material past it.
class SkinShadow {
public:
    /// @param face    label of the face itself, left out
    /// @param inward  +1 when the piece lies above the plane, else -1
    /// @param reachMm nothing deeper than this, or farther off on the other side of the plane, is asked about
    SkinShadow(const mesh::Mesh& mesh, const mesh::Plane& cut, mesh::Label face, double inward, double reachMm);

    struct Gap {
        double acrossMm; ///< square to the axis; `upToMm` when nothing is nearer
        double depthMm;  ///< where
    };
    /// What is asked about: everything over a convex footprint (a point, or corners in order; frame of the cut) between
    /// two depths below the face.
    struct Stretch {
        mesh::Loop footprint;
        double fromMm, toMm;
        std::optional<HalfPlane> within = {}; ///< skin outside of it doesn't count
    };
    Gap gap(const Stretch& stretch, double upToMm) const;

private:
    struct Corner {
        double x, y, depth;
    };
    struct Cell {
        std::uint32_t first = 0, end = 0; ///< into m_listed
        float least = 1e30F, most = -1e30F;
    };
    void sortIntoCells();
    void look(std::size_t triangle, const Stretch& stretch, Gap& best) const;
    void lookWithin(const Stretch& stretch, Gap& best) const;

    std::vector<Corner> m_corners;       ///< three a triangle
    std::vector<std::uint32_t> m_listed; ///< triangles, cell by cell
    std::vector<Cell> m_cells;
    mesh::Vec2 m_low{0, 0};
    double m_cellMm = 1;
    int m_nx = 0, m_ny = 0;
};

} // namespace quoin::core
