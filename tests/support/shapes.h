// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

#include <filesystem>
#include <initializer_list>
#include <vector>

/// Small meshes with known faults and virtues, shared by all tests. Lengths in mm; faces look outwards unless told.
namespace quoin::test {

mesh::Mesh soup(std::initializer_list<mesh::Vec3> points, std::initializer_list<mesh::Triangle> triangles);

/// Eight points, twelve triangles; triangles 0 and 1 are the bottom, 2 and 3 the top.
mesh::Mesh cube(mesh::Vec3 min, double side);
mesh::Mesh cuboid(mesh::Vec3 min, mesh::Vec3 max);
mesh::Mesh tetrahedron(mesh::Vec3 a, mesh::Vec3 b, mesh::Vec3 c, mesh::Vec3 d);
/// Octahedron halved `levels` times and put on the sphere: 8 * 4^levels triangles.
mesh::Mesh sphere(mesh::Vec3 centre, double radius, int levels);
/// Torus about z: 2 * ringSides * tubeSides triangles.
mesh::Mesh ring(double ringRadius, double tubeRadius, int ringSides, int tubeSides);

mesh::Mesh moved(const mesh::Mesh& m, mesh::Vec3 by);
mesh::Mesh turnedOver(const mesh::Mesh& m);
mesh::Mesh without(const mesh::Mesh& m, std::initializer_list<mesh::Index> triangles);
/// All in one, points with equal coordinates shared.
mesh::Mesh weldedTogether(std::initializer_list<mesh::Mesh> meshes);
/// All in one, nothing shared.
mesh::Mesh together(std::initializer_list<mesh::Mesh> meshes);
/// Every triangle with three points of its own, as an STL file has it.
mesh::Mesh exploded(const mesh::Mesh& m);

/// The facets of a binary STL file as they stand, welded. Only for reference files known to be good.
mesh::Mesh binaryStl(const std::filesystem::path& file);

/// All equal, bit for bit.
bool same(const mesh::Mesh& a, const mesh::Mesh& b);

} // namespace quoin::test
