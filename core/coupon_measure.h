// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/distance.h"

namespace quoin::core {

/// Measures the gap between a part that stands still and one put into it: from every corner of either mesh to the other
/// surface. For straight sections, whose corners run along the axis, that is the least gap; for threads, whose corners
/// lie every few degrees along every edge of the profile, it is within the chord error of it.
class GapMeter {
public:
    GapMeter(const mesh::Mesh& still, const mesh::Mesh& moving);

    /// Least gap in mm with the moving part put there by a rigid motion; infinity when they are far apart.
    double leastMm(const mesh::Transform& pose) const;

private:
    mesh::Mesh m_still, m_moving;
    mesh::SurfaceTree m_stillTree, m_movingTree;
    mesh::Box3 m_box;
};

} // namespace quoin::core
