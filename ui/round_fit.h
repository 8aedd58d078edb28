// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "ui/surface_brush.h"

#include <cstddef>
#include <optional>
#include <vector>

namespace quoin::ui {

/// A cylinder or ball laid through facets.
struct RoundFit {
    enum class Kind { Cylinder, Ball };
    Kind kind = Kind::Cylinder;
    mesh::Vec3 centre{0, 0, 0}; ///< of the ball; for a cylinder the point of the axis amid the facets
    mesh::Vec3 axis{0, 0, 1};   ///< unit; of a cylinder
    double radiusMm = 0;
    double residualMm = 0; ///< root mean square of the corners' distances from the surface
    bool hollow = false;   ///< a bore: the material is outside
    double arcRadians = 0; ///< of the circle that the facets cover, seen along the axis; a ball: 0
    std::size_t facets = 0;
};

/// Least-squares cylinder through the corners of the triangles: axis first from the normals (the direction that they
/// are most nearly at right angles to), circle across it by the algebraic fit of Kasa (1976), then all five numbers by
/// Gauss and Newton's steps on the distances. None when the facets are flat or have too few corners.
std::optional<RoundFit> cylinderThrough(const mesh::Mesh& mesh, const std::vector<mesh::Index>& triangles);
/// Least-squares ball, the same way (Coope 1993 for the linear start).
std::optional<RoundFit> ballThrough(const mesh::Mesh& mesh, const std::vector<mesh::Index>& triangles);

/// Largest residual for a fit to count as round, as a share of the radius.
inline constexpr double roundResidualShare = 0.02;
/// A maker can't tell residuals below this from none, mm.
inline constexpr double roundResidualMm = 0.02;

/// The round that a facet belongs to: of patches of growing size about it, bounded by creases, the largest that a
/// cylinder or else a ball goes through; then all of the smooth patch that lies on that surface, fitted again. None
/// where it is flat or not round. Radius in the mesh's own frame.
std::optional<RoundFit> roundAt(const mesh::Mesh& mesh, const SurfaceNeighbours& neighbours, mesh::Index triangle);

} // namespace quoin::ui
