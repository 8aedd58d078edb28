// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/leaf_fit.h"

#include "mesh/topology.h"

#include <fmt/format.h>

#include <algorithm>

namespace quoin::core {

using mesh::Vec3;

LeafBodies::LeafBodies(const mesh::Mesh& leaf, bool islandsApart) : m_leaf(&leaf)
{
    if (islandsApart && mesh::connectedParts(leaf).count > 1)
        m_bodies = mesh::bodies(leaf);
}

LeafFit fitLeaf(const LeafBodies& bodies, const std::vector<Bed>& beds, const FitOptions& options, bool measure)
{
    LeafFit out;
    out.pieces = static_cast<int>(bodies.size());
    for (std::size_t i = 0; i < bodies.size(); ++i) {
        const Vec3 e = mesh::bounds(bodies[i]).extents();
        const HullMeasures size{std::max({e.x, e.y, e.z}), 0, 0, 0};
        if (!measure && clearlyTooLarge(size, beds, options.marginMm)) {
            out.misfits.push_back({bodies[i].points, 0});
            continue;
        }
        const PieceShape shape(bodies[i]);
        if (fitOnBeds(shape, beds, options))
            continue;
        Misfit misfit{shape.outline(), 0};
        if (measure)
            if (const auto pose = closestPose(shape, beds, options))
                misfit.overhangMm = -pose->slackMm;
        out.misfits.push_back(std::move(misfit));
    }
    return out;
}

Problem doesNotFit(const Misfit& misfit, const FitOptions& fit)
{
    mesh::Box3 box;
    for (const Vec3 p : misfit.outline)
        box.add(p);
    const Vec3 e = box.extents(), c = box.centre();
    return Problem{Reason::DoesNotFit,
                   fmt::format("a piece of {:.1f} x {:.1f} x {:.1f} mm sticks out of every bed by {:.2f} mm or more, "
                               "with {:g} mm margin",
                               e.x, e.y, e.z, misfit.overhangMm, fit.marginMm),
                   {},
                   fmt::format("({:.1f}, {:.1f}, {:.1f}) mm", c.x, c.y, c.z),
                   "Give a larger bed, a smaller margin or scale, or allow any rotation."};
}

} // namespace quoin::core
