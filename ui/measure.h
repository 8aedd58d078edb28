// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "ui/orbit_camera.h"
#include "ui/surface_brush.h"

#include <optional>
#include <string>
#include <vector>

namespace quoin::ui {

/// Angle at `corner` between the ways to a and b, radians from 0 to pi; none when one of them has no length.
std::optional<double> angleAt(mesh::Vec3 a, mesh::Vec3 corner, mesh::Vec3 b);

/// Angle between two faces through the material, radians from 0 to pi, from their outward unit normals: pi for faces
/// in one plane, a right angle at the edge of a box, 0 for a sheet without thickness.
double angleBetweenFaces(mesh::Vec3 normalA, mesh::Vec3 normalB);

struct SpaceCircle {
    mesh::Vec3 centre{0, 0, 0};
    mesh::Vec3 axis{0, 0, 1}; ///< unit
    double radiusMm = 0;
};
/// The circle through three points; none when they lie on a line (height under a millionth of the longest side).
std::optional<SpaceCircle> circleThrough(mesh::Vec3 a, mesh::Vec3 b, mesh::Vec3 c);

/// A length for people: "12.5 mm", from a metre on "1.234 m"; as many decimals as a maker can use (0.01 mm under
/// 100 mm, 0.1 mm above), no trailing zeros but one.
std::string lengthText(double mm);
/// "37.5°".
std::string angleText(double radians);

/// The largest of 1, 2, 5 times a power of ten that is not above mm; 0 when mm isn't positive.
double roundLengthBelow(double mm);

/// A place on a mesh that a pointer near to it should take.
struct SnapPlace {
    enum class Kind { Corner, EdgeMiddle };
    Kind kind = Kind::Corner;
    mesh::Vec3 point{0, 0, 0}; ///< scene frame
};

/// The corner nearest to the pointer within reachPx, or the middle of an edge where that is clearly nearer; of the
/// triangles a few steps from the one that is under the pointer. Edges inside flat places don't count when neighbours
/// are known, and nothing of triangles that face away from the viewer does.
/// @param neighbours  null: only the triangle itself is looked at
std::optional<SnapPlace> snapPlace(const mesh::Mesh& mesh, const SurfaceNeighbours* neighbours,
                                   const mesh::Transform& placement, mesh::Index triangle, const OrbitCamera& camera,
                                   ScreenPoint pointer, double reachPx);

} // namespace quoin::ui
