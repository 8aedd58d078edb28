// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/result.h"

#include <filesystem>
#include <string>
#include <vector>

namespace quoin::mesh {

/// Binary STL: 80-byte header (never beginning with "solid"), count, 50 bytes a facet, little endian, normals
/// computed. Written to a temporary name in the same folder, flushed, then renamed. FileUnwritable on failure.
Status writeStl(const std::filesystem::path& file, const Mesh& mesh, const std::string& header = "quoin, unit mm");

/// Binary little-endian PLY with double coordinates (keeps the mesh exactly) and, when the mesh has labels, an int
/// face property "label". Same way of writing.
Status writePly(const std::filesystem::path& file, const Mesh& mesh);

/// One object of a 3MF file.
struct NamedMesh {
    std::string name;
    const Mesh* mesh = nullptr;
    Transform placement; ///< where it stands in the build (rigid)
};

/// 3MF core, unit millimeter, one object and one build item a mesh, coordinates as 32-bit floats that read back
/// exactly; the same meshes make the same bytes. Same way of writing. BadArgument for a triangle with equal corners.
/// Written by ourselves, since lib3mf 1.8 rounds coordinates (to 1e-6 mm, and up to a float step) and adds random
/// UUIDs.
Status write3mf(const std::filesystem::path& file, const std::vector<NamedMesh>& objects);

} // namespace quoin::mesh
