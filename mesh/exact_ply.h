// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/result.h"

#include <functional>
#include <string_view>

namespace quoin::mesh {

/// The bytes that writePly writes for a mesh, in order, a block at a time: for writing them, and for hashing what would
/// be written. The same mesh makes the same bytes.
void plyBytes(const Mesh& mesh, const std::function<void(std::string_view block)>& take);

/// Reads back exactly what plyBytes made: points, triangles and labels in their order, nothing welded, nothing left
/// out, so that a triangle keeps its number. readModel, which reads every PLY, welds. FileMalformed, FileTruncated,
/// NumberNotFinite, without a file name, for anything else.
Result<Mesh> meshFromPlyBytes(std::string_view bytes);

} // namespace quoin::mesh
