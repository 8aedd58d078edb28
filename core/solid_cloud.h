// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/cell_grid.h"
#include "core/grid_frame.h"
#include "mesh/plane.h"

namespace quoin::core {

/// Points within and on a solid, for counting which cells of a grid hold something.
class SolidCloud {
public:
    /// @param outline  points with the same hull as the mesh, so that the box around the cloud is the mesh's
    SolidCloud(const mesh::Mesh& mesh, const mesh::Buffer<mesh::Vec3>& outline, unsigned seed = 1);
    static SolidCloud none() { return {}; }

    /// Cells that hold a point when the box around the points is divided evenly in a frame.
    std::size_t cellsHeld(const GridFrame& frame, const CellCounts& counts) const;
    /// The points on one side of a plane.
    SolidCloud side(const mesh::Plane& plane, bool above) const;

    const mesh::Buffer<mesh::Vec3>& points() const { return m_points; }

private:
    SolidCloud() = default;
    mesh::Buffer<mesh::Vec3> m_points;
};

} // namespace quoin::core
