// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed_fit.h"
#include "core/grid_frame.h"

#include <span>
#include <vector>

namespace quoin::core {

/// Estimates how many pieces something takes: the least number of cells that hold a point of it, over grids of equal
/// cells, each of which fits a bed as a box. Quick enough to be asked for every plane that is looked at.
class PieceEstimator {
public:
    PieceEstimator(const std::vector<Bed>& beds, const FitOptions& options);

    /// @param frames  axes to lay grids along
    /// @param points  on and in the solid; a grid that leaves a cell without points saves it
    int pieces(std::span<const GridFrame> frames, const mesh::Buffer<mesh::Vec3>& points) const;

private:
    double longestThird(double a, double b) const;
    std::size_t stepOf(double side) const;

    std::vector<double> m_steps;   ///< lengths, rising
    std::vector<double> m_longest; ///< for each two steps the longest third side of a box that fits
    double m_leastSide = 0;
};

/// A frame with `up` as one axis and the others along the least rectangle round the points seen along it.
GridFrame frameAlong(mesh::Vec3 up, const mesh::Buffer<mesh::Vec3>& points);

} // namespace quoin::core
