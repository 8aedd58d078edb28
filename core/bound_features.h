// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/plane.h"

#include <cstddef>
#include <vector>

/// What lower bounds are taken from: measures of a body that each piece can only hold so much of.
namespace quoin::core {

/// Plane sections of a body through its middle, across its axes of inertia, and just under its largest flat faces.
/// Sections that can't be made are left out.
std::vector<mesh::Region> tellingSections(const mesh::Mesh& body);

/// The most length that a line, of those tried in a section, has within it; all stretches of the line together, mm.
double longestWithin(const mesh::Region& section);

/// Area of the convex hull of a section, mm2: no less is in the bed, in one plane, when it is all of one piece.
double hullAreaMm2(const mesh::Region& section);

/// Places all round the outermost outline of a section, those that lie on its hull: the most of the way round that a
/// set of them has whose points are no farther apart than `apartMm`, as a share, 0 to 1; never less than it is. Each
/// place stands for half the way to either neighbour.
double mostOfTheWayRound(const mesh::Region& section, double apartMm);

} // namespace quoin::core
