// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/result.h"

#include <optional>

namespace quoin::mesh {

/// The combinatorial steps of a repair. Each changes the mesh and returns how many things it did.

/// Whether every edge is run as often one way as the other, so that the surface has an inside and an outside.
bool balanced(const Mesh& mesh);

/// Middle of the first edge that isn't balanced.
std::optional<Vec3> unbalancedPlace(const Mesh& mesh);

/// Joins ends of open edges that are nearer than the tolerance, where that closes edges. Returns points joined.
std::size_t joinNearRims(Mesh& mesh, double toleranceMm);

/// Keeps one of each set of triangles with the same corners, the way round that most of them have. As many one way as
/// the other are two skins back to back: inside a closed surface both go, on a rim or all by themselves one stays.
/// Returns triangles dropped.
std::size_t dropDuplicates(Mesh& mesh);

/// For each triangle whether another with the same corners faces the other way: surface without thickness.
std::vector<char> backToBack(const Mesh& mesh);

/// Drops sheets that hang on a surface by edges with an odd number of triangles: walls that can't be seen from outside
/// first, then fins with an open rim. Returns triangles dropped and adds up their area.
std::size_t dropSheets(Mesh& mesh, double& areaMm2);

/// Drops connected parts that enclose no volume to speak of: sheets closed by their own back. Returns parts dropped and
/// adds up their area.
std::size_t dropFlatParts(Mesh& mesh, double& areaMm2);

/// Turns triangles so that neighbours agree, keeping the way round of the larger area of each connected piece. Where an
/// even number of triangles meet in an edge, they alternate in angular order, as the skins of solids do. Returns
/// triangles turned; a problem (NotOriented) where the surface has one side only.
Result<std::size_t> orientAlike(Mesh& mesh);

/// Turns bodies that are inside out, with the cavities and bodies in their material. A turned shell that lies mostly
/// within another body is taken for a cavity that breaks out of it, and left. Returns shells turned.
std::size_t turnOutwards(Mesh& mesh);

} // namespace quoin::mesh
