// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/mesh.h"
#include "mesh/plane.h"

#include <array>
#include <optional>
#include <vector>

namespace quoin::core {

/// A plane straight across a limb: an arm, a rod, a bow.
struct LimbCut {
    mesh::Plane plane;
    mesh::Vec3 middle;   ///< of the outline around the limb
    double aroundMm = 0; ///< length of that outline
    double straight = 0; ///< 1: the surface runs on along the normal all round; towards 0: it is no limb
};

/// Finds planes straight across the limbs of a closed mesh: from a place on the surface the outline of a plane through
/// it is walked round; the normal is turned to the direction that the surface's own normals along the outline have
/// least of (the axis of a general cylinder: Pottmann and Wallner 2001), and so on until it stays. Keeps a pointer to
/// the mesh.
class LimbCuts {
public:
    explicit LimbCuts(const mesh::Mesh& mesh);

    /// The straight cut at a triangle, beginning with some normal; nullopt when there is none.
    std::optional<LimbCut> at(mesh::Index triangle, mesh::Vec3 normal) const;
    /// The straight cut some way along the limb from another.
    std::optional<LimbCut> beside(const LimbCut& cut, double alongMm) const;
    /// Cuts at places spread over the surface, those that are nearly alike once.
    std::vector<LimbCut> spread(std::size_t places, unsigned seed, double mostAroundMm) const;

private:
    struct Outline;
    std::optional<Outline> around(mesh::Index triangle, const mesh::Plane& plane) const;

    const mesh::Mesh& m_mesh;
    std::vector<std::array<mesh::Index, 3>> m_across; ///< triangle over the edge from corner k
};

} // namespace quoin::core
