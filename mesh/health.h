// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "mesh/context.h"
#include "mesh/mesh.h"
#include "mesh/result.h"
#include "mesh/topology.h"

#include <optional>
#include <string>
#include <vector>

namespace quoin::mesh {

struct BodyHealth {
    std::size_t triangles = 0;
    Vec3 at{0, 0, 0}; ///< a corner of it, to find it by
    Topology topology;
    std::size_t selfIntersectingPairs = 0; ///< both triangles in this body
    Vec3 selfIntersectionAt{0, 0, 0};
    std::size_t cavities = 0; ///< closed hollows that nothing leads into
    bool inMaterial = false;  ///< lies wholly inside another body, turned the same way: that place is filled twice
    double volumeMm3 = 0;     ///< signed; negative when inside out
    double areaMm2 = 0;
    Vec3 extentsMm{0, 0, 0};
    /// Thinnest wall met by rays sent inward from sampled surface points (square to the surface), mm; none for open
    /// bodies. Counted only where the far side faces back within 45 degrees, so that the sharp edge of a corner is no
    /// wall. A sample, not a bound: a thinner place between samples is possible.
    std::optional<double> thinnestWallMm;
    Vec3 thinnestWallAt{0, 0, 0};
};

struct Health {
    /// Outer shells, each with its cavities; open parts each on their own. In the order of bodies(mesh).
    std::vector<BodyHealth> bodies;
    std::size_t triangles = 0;
    Topology topology;                     ///< of the whole
    std::size_t holes = 0;                 ///< connected rims of open edges
    std::size_t selfIntersectingPairs = 0; ///< of the whole, between bodies too; counting stops past ten million
    Vec3 selfIntersectionAt{0, 0, 0};
    std::size_t notFinite = 0; ///< points with NaN or infinity; nothing else is looked at then
    double volumeMm3 = 0;
    double areaMm2 = 0;
    Vec3 extentsMm{0, 0, 0};
    std::vector<Note> notes; ///< everything wrong, in words, with a place in mm

    /// Fit to be cut, as far as it was looked at: closed, oriented, 2-manifold, not self-intersecting, every body of
    /// positive volume and none inside the material of another.
    bool sound() const;
};

struct HealthOptions {
    bool selfIntersections = true;
    std::size_t wallSamples = 2000; ///< over all bodies; 0 for none
    unsigned seed = 1;
};

/// Never fails; an empty mesh gives zeros and a note. Deterministic for a seed. When cancelled it returns early with
/// what it has: ask the context.
Health healthOf(const Mesh& mesh, const HealthOptions& options = {}, const Context& context = {});

/// The problem that keeps a model from being cut, with its place, or none when it is sound.
std::optional<Problem> whyNotSound(const Mesh& mesh, const Health& health);

} // namespace quoin::mesh
