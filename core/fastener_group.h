// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/section_forces.h"

#include <optional>
#include <vector>

/// How the fasteners of one face share its forces. All fasteners are taken as equally stiff, the faces as stiff
/// against them (Shigley, ch. 8: bolted joints in shear and in bending).
namespace quoin::core {

mesh::Vec2 groupCentroid(const std::vector<mesh::Vec2>& places);

/// Shear on each: V/n, and from the torsion about the group's centroid T r / sum(r^2) square to r. One fastener, or all
/// in one place, take no torsion: only V/n is shared then (see takesTorsion).
/// @param places  not empty
std::vector<mesh::Vec2> groupShear(const std::vector<mesh::Vec2>& places, const SectionForces& forces);
bool takesTorsion(const std::vector<mesh::Vec2>& places);

/// Pull on each when the group alone bends about its own centroid: N/n + M y / sum(y^2), about both axes at once.
/// Negative ones are pressed. None when the moment asks for a lever that the group doesn't have (one fastener, a row).
std::optional<std::vector<double>> groupPullAboutCentroid(const std::vector<mesh::Vec2>& places,
                                                          const SectionForces& forces);

/// Pull on each when the face tips about its pressed edge: M' y / sum(y^2), y from the edge that the moment presses,
/// M' the moment about that edge, axial force with it. All zero when the faces stay pressed together.
/// @param outline  of the face; not empty
std::vector<double> groupPullAboutEdge(const std::vector<mesh::Vec2>& places, const mesh::Region& outline,
                                       const SectionForces& forces);

/// The higher of both for each fastener, never below 0: what the checks use.
std::vector<double> groupPull(const std::vector<mesh::Vec2>& places, const mesh::Region& outline,
                              const SectionForces& forces);

/// Bending moment about an axis of the plane at which the most pulled fastener reaches a force, tipping about the
/// pressed edge: F sum(y^2) / y max; N mm.
/// @param direction  unit, the way in which the pull grows
double momentByEdgeNmm(const std::vector<mesh::Vec2>& places, const mesh::Region& outline, mesh::Vec2 direction,
                       double forceN);

} // namespace quoin::core
