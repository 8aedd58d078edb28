// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/result.h"

#include <filesystem>

namespace quoin::mesh {

/// What every writer asks before it touches the disk.
/// @param largest  the largest magnitude that the format can hold, mm
/// @return BadArgument for a mesh without triangles, NumberNotFinite for a coordinate past `largest` or NaN.
Status checkWritable(const std::filesystem::path& file, const Mesh& mesh, double largest);

} // namespace quoin::mesh
