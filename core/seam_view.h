// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <vector>

namespace quoin::core {

/// How well places of a surface are seen by people who walk around the part: pictures of depth from many directions,
/// made once, so that each place costs a look into each of them. Const calls are safe from several threads.
///
/// Directions are spread evenly over the sphere (golden spiral: Vogel 1979, Saff and Kuijlaars 1997). Those from the
/// horizon up count fully, those from below less and less, not at all from straight below: sculptures are looked at by
/// people who stand (common practice, no source).
class SeamView {
public:
    /// @param up  away from the ground, any length; nothing (0, 0, 0): all directions count the same
    SeamView(const mesh::Mesh& mesh, mesh::Vec3 up);

    /// Share of the viewers' directions from which a place on the surface is seen, over that of a free upright wall:
    /// 0 hidden, 1 in full view (no more than that). Places inside the solid are hidden.
    /// @param outward  unit normal of the surface there
    double seen(mesh::Vec3 at, mesh::Vec3 outward) const;

    /// Places that are nearer than this to each other are seen as one, mm.
    double grainMm() const { return m_pixelMm; }

private:
    struct View {
        mesh::Vec3 towards, u, v; ///< to the viewer; the picture's axes
        double weight = 1;
        std::vector<float> depth; ///< along `towards`, row by row; what is nearest to the viewer
    };
    void draw(View& view, const mesh::Mesh& mesh) const;
    double pixelOf(mesh::Vec3 p, mesh::Vec3 axis) const { return (dot(p - m_middle, axis) + m_radiusMm) / m_pixelMm; }

    mesh::Vec3 m_middle{0, 0, 0};
    double m_radiusMm = 0, m_pixelMm = 1;
    double m_halfWeight = 1;
    std::vector<View> m_views;
};

} // namespace quoin::core
