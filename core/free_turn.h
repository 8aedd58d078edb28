// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/standing.h"
#include "mesh/mesh.h"

namespace quoin::core {

/// Looks over all rotations for one that leaves room, seeded and repeatable: starts from the hull's faces, from its
/// longest diagonal laid along the room's, and from rotations spread evenly (Shoemake 1992); the best starts are
/// improved step by step. Stops at the first that fits. What it finds is certain, that it finds none is not.
/// @param hull       convex; its points are turned
/// @param directions outward face directions, larger first
/// @param effort     share of the usual work: with less, fewer starts are improved, so what is found with less is
///                   found with more
Standing freeTurn(const mesh::Mesh& hull, const std::vector<mesh::Vec3>& directions, const BedRoom& room,
                  double effort = 1);

/// Turns points step by step towards more room, from one start; stops when they fit. Few points make it quick.
Standing turnedFurther(Standing start, const mesh::Buffer<mesh::Vec3>& points, const BedRoom& room);

} // namespace quoin::core
