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
    Topology topology;
    std::size_t selfIntersectingPairs = 0;
    double volumeMm3 = 0;  ///< signed; negative when inside out
    double areaMm2 = 0;
    Vec3 extentsMm{0, 0, 0};
    /// Thinnest wall met by rays sent inward from sampled surface points (square to the surface), mm; none for open
    /// bodies. A sample, not a bound: a thinner place between samples is possible.
    std::optional<double> thinnestWallMm;
    Vec3 thinnestWallAt{0, 0, 0};
};

struct Health {
    std::vector<BodyHealth> bodies; ///< connected parts
    std::size_t triangles = 0;
    Topology topology;               ///< of the whole
    std::size_t selfIntersectingPairs = 0; ///< of the whole, between bodies too
    double volumeMm3 = 0;
    double areaMm2 = 0;
    Vec3 extentsMm{0, 0, 0};
    std::vector<Note> notes; ///< everything wrong, in words, with a place in mm

    /// Fit to be cut: closed, oriented, 2-manifold, not self-intersecting, positive volume.
    bool sound() const;
};

struct HealthOptions {
    bool selfIntersections = true;
    std::size_t wallSamples = 2000; ///< over all bodies; 0 for none
    unsigned seed = 1;
};

/// Never fails; an empty mesh gives zeros and a note. Deterministic for a seed.
Health healthOf(const Mesh& mesh, const HealthOptions& options = {}, const Context& context = {});

/// The problem that keeps a model from being cut, with its place, or none when it is sound.
std::optional<Problem> whyNotSound(const Mesh& mesh, const Health& health);

} // namespace quoin::mesh
