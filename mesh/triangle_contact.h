// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"

namespace quoin::mesh {

/// Whether two triangles meet other than at the corners or the edge that they share by index. Exact. Touching counts,
/// and so do corners that lie on one place under two indices. Both must have an area.
bool trianglesMeet(const Triangle& a, const Triangle& b, const Buffer<Vec3>& points);

} // namespace quoin::mesh
