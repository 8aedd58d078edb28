// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <vector>

namespace quoin::core {

/// A flat face that a piece can stand on.
struct FlatFace {
    mesh::Vec3 down;    ///< unit outward normal: what points to the plate
    double areaMm2 = 0; ///< of the mesh's triangles that lie on the plate
};

/// What no convex body within another can have more of (Cauchy; Steiner 1840).
struct HullMeasures {
    double longestSideMm = 0; ///< of the box along the axes: no longer than the diameter
    double volumeMm3 = 0, areaMm2 = 0;
    double meanWidthMm = 0; ///< over all directions; of a box half the sum of its sides
};
HullMeasures measuresOf(const mesh::Mesh& hull);

/// What fitting a piece asks for again and again, worked out once: hull, centre of mass, flat faces. Keeps a pointer to
/// the mesh, which must outlive it.
class PieceShape {
public:
    explicit PieceShape(const mesh::Mesh& piece);

    /// The hull, or a hull of some of its points that lies within it where it has very many (see outline).
    const mesh::Mesh& hull() const { return m_hull; }
    bool hullIsExact() const { return m_hullIsExact; }
    /// Points among which all hull vertices are: extents are taken from these.
    const mesh::Buffer<mesh::Vec3>& outline() const { return m_outline; }
    mesh::Vec3 centreOfMass() const { return m_centreOfMass; }
    /// Volume of the piece, mm3.
    double volumeMm3() const { return m_volumeMm3; }
    /// No points, or all in a plane: nothing to print.
    bool empty() const { return m_hull.empty(); }

    /// Faces of the hull where at least 1 % of the hull's largest shadow really lies on the plate and the centre of
    /// mass stands over what lies there; larger first, at most `mostFlatFaces`.
    std::vector<FlatFace> flatFaces() const;
    /// Outward directions of the hull faces, those within 2 degrees of a larger one left out; larger first, at most
    /// `mostFaceDirections`.
    std::vector<mesh::Vec3> faceDirections() const;
    /// Area of the mesh that lies on a plate that the piece touches in this direction, mm2.
    double areaOnPlateMm2(mesh::Vec3 down) const;

    static constexpr std::size_t mostFlatFaces = 64;
    static constexpr std::size_t mostFaceDirections = 600;

private:
    struct Support;
    Support supportOn(mesh::Vec3 down) const;
    double largestShadowMm2() const;
    void weigh();

    const mesh::Mesh* m_mesh;
    mesh::Buffer<mesh::Vec3> m_outline;
    mesh::Mesh m_hull;
    bool m_hullIsExact = true;
    mesh::Vec3 m_centreOfMass{0, 0, 0};
    double m_volumeMm3 = 0;
};

} // namespace quoin::core
