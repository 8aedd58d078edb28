// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

namespace quoin::mesh {

/// Volume integrals of a closed mesh at density 1 (mm3, mm4, mm5). Inertia is about the centroid, as tensor entries
/// (the products are -integral of xy and so on).
struct MassProperties {
    double volume = 0;
    Vec3 centroid{0, 0, 0};
    double ixx = 0, iyy = 0, izz = 0, ixy = 0, ixz = 0, iyz = 0;
};

/// Signed volume, mm3, by the divergence theorem about the middle of the bounds (less cancellation than the origin),
/// with compensated summation. Meaningful for closed meshes; negative when inside out.
double volume(const Mesh& mesh);

/// Surface area, mm2.
double area(const Mesh& mesh);

/// Area of one triangle, mm2.
double triangleArea(const Mesh& mesh, std::size_t triangle);

/// Volume, centroid and inertia. Method: Mirtich, Journal of Graphics Tools 1(2), 1996, in the tetrahedral form of
/// Tonon, Journal of Mathematics and Statistics 1(1), 2005.
MassProperties massProperties(const Mesh& mesh);

} // namespace quoin::mesh
