// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/bed.h"
#include "core/cut_terms.h"
#include "core/plan_terms.h"
#include "core/seam_view.h"
#include "mesh/distance.h"
#include "mesh/mesh.h"
#include "mesh/plane.h"

#include <vector>

namespace quoin::core {

/// The two sides of a plane in a body, without cutting it.
struct CutSides {
    double volumeBelowMm3 = 0, volumeAboveMm3 = 0;
    mesh::Vec3 centroidBelow{0, 0, 0}, centroidAbove{0, 0, 0};
};

/// Judges cuts of one part by the terms of core/cut_terms.h. What depends on the part alone is worked out once: how its
/// surface is seen, its mirror plane, its foot. Const calls are safe from several threads and depend on their arguments
/// only. Works as well on a coarser stand-in for the part: cells and leaves must then be cut from the same stand-in.
///
/// Scales, of the largest bed less its margins: S = W D, W H or D H, whichever is most, is its largest side, W D its
/// plate, P = 4 sqrt(S) once round the side. A round bed counts as the square round it.
class CutJudge {
public:
    /// @param part  closed, outward; looked at while building only
    CutJudge(const mesh::Mesh& part, const std::vector<Bed>& beds, double marginMm, const JudgeOptions& options = {});

    /// What a plane's face costs: seams, slivers, strength, room and area; the other terms are zero. O(triangles of
    /// the cell) and a little for the section.
    ///
    /// seams = integral over the outline on the skin of seen(place) ds / P.
    /// slivers = min(1, (integral of feather(angle) ds + A / h) / outline) + area narrower than a bore with its walls /
    ///   area; feather is 0 where skin and cut meet at 45 degrees or more, 1 at nothing, in between as the cosine; A is
    ///   the shadow on the plane of skin within h = 6 mm of it that faces away from it, by feather and nearness.
    /// strength = sqrt(stress / allowed), 2 at most; stress is the largest in the section (bending and axial,
    ///   core/section_forces) from the weight, times the dynamic factor, of the side of the cell that is farther from
    ///   the part's foot; allowed is the material's strength across the layers over the safety wanted.
    /// room = islands without room, each by 1 - min(1, had / wanted), over islands; wanted: two bores of roomDowelMm
    ///   with walls, 2.5 diameters apart, on the face, and two diameters and a wall deep on either side. 0 when no
    ///   joints are wanted.
    /// area = area / S.
    /// @param cell     what the plane cuts: the part or what earlier cuts have left of it, labelled
    /// (mesh::Mesh::labels)
    /// @param section  where the plane cuts the cell, in frameOf(plane)
    CutTerms ofFace(const mesh::Mesh& cell, const mesh::Plane& plane, const mesh::Region& section) const;

    /// Volumes and centres of the two sides, by the divergence theorem about a point of the plane: no cap is needed.
    static CutSides sidesOf(const mesh::Mesh& cell, const mesh::Plane& plane);

    /// Support of a leaf printed with `down` (unit) pointing to the plate: shadow of its faces that look down steeper
    /// than 45 degrees and don't lie on the plate, over the bed's plate; and 0.5 when it lies on no flat face.
    double support(const mesh::Mesh& leaf, mesh::Vec3 down) const;
    /// The least over its likely print poses.
    /// @param downs  directions to try, such as the outward normals of its cut faces
    double leastSupport(const mesh::Mesh& leaf, const std::vector<mesh::Vec3>& downs) const;

    /// What one leaf adds to the balance of all: |volume - mean| / (2 total); 0 when total is 0.
    static double balance(double volumeMm3, double totalMm3, int pieces);

    /// Distance of a plane's mirror image from the nearest of `all` (which may hold the plane itself), over sqrt(S), at
    /// most 1; with several mirror planes the least; 0 for a part without. Planes are as far apart as they are at the
    /// worst place of the part.
    double symmetry(const mesh::Plane& plane, const std::vector<mesh::Plane>& all) const;

    /// Mirror planes that were found, through the centre of mass across the axes of core/grid_frame: the part differs
    /// from its image by less than 1 % of its size.
    const std::vector<mesh::Plane>& mirrors() const { return m_mirrors; }
    double seen(mesh::Vec3 at, mesh::Vec3 outward) const { return m_view.seen(at, outward); }

private:
    double strengthOf(const mesh::Mesh& cell, const mesh::Plane& plane, const mesh::Region& section) const;
    double narrowShare(const mesh::Region& section, const mesh::Region& axes) const;
    double lackOfRoom(const mesh::Plane& plane, const mesh::Region& section, const mesh::Region& axes) const;
    double roomOf(const mesh::Plane& plane, const mesh::Region& island, const mesh::Region& axes) const;
    double depthAt(const mesh::Plane& plane, mesh::Vec2 a, mesh::Vec2 b) const;
    bool mirrors(const mesh::Plane& plane, const mesh::Mesh& part) const;
    void findMirrors(const mesh::Mesh& part);

    JudgeOptions m_options;
    SeamView m_view;
    mesh::SurfaceTree m_surface;
    mesh::Vec3 m_middle{0, 0, 0}, m_foot{0, 0, 0}, m_down{0, 0, -1};
    double m_radiusMm = 0;
    double m_sideMm2 = 1, m_plateMm2 = 1;
    double m_weightNPerMm3 = 0, m_allowedMpa = 1;
    std::vector<mesh::Plane> m_mirrors;
};

} // namespace quoin::core
