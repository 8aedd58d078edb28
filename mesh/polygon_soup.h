// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"
#include "mesh/model_file.h"

#include <cstdint>

namespace quoin::mesh {

/// Points and polygons as a file lists them: what the readers of indexed formats have in common.
struct PolygonSoup {
    Buffer<Vec3> points;         ///< in the file's unit, finite
    Buffer<Index> corners;       ///< of all faces, one after the other; below points.size()
    Buffer<std::uint32_t> sizes; ///< corners of each face, 3 or more
    Buffer<Label> labels;        ///< empty, or one a face
};

/// The soup as a welded mesh in millimetres. Convex polygons become fans; others are triangulated by their plane
/// outline, bridges to holes included; an outline that crosses itself becomes a fan and a note. Repeated corners are
/// passed over, triangles that vanish are counted in Model::droppedTriangles.
/// FileEmpty without faces, FileTooLarge past what an index can count, NumberNotFinite when the scale overflows.
Result<Model> modelFrom(PolygonSoup soup, Format format, double millimetres, const Context& context);

} // namespace quoin::mesh
