// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/distance.h"

namespace quoin::core {

/// Measures the gap between a part that stands still and one put into it: from every corner of either mesh to the other
/// surface, as far as they overlap in depth. For straight sections, whose corners run along the axis, that is the least
/// gap; it is never less than the least gap.
class GapMeter {
public:
    /// @param moving  upright, its lower end at z = 0
    GapMeter(const mesh::Mesh& still, const mesh::Mesh& moving);

    /// Least gap in mm with the moving part shifted; infinity when they are far apart.
    double leastMm(mesh::Vec3 shift) const;

private:
    mesh::Mesh m_still, m_moving;
    mesh::SurfaceTree m_stillTree, m_movingTree;
    mesh::Box3 m_box;
};

} // namespace quoin::core
