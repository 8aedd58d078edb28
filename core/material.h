// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace quoin::core {

/// How a loose part sits in its bore.
enum class Fit { Free, Sliding, Snug, Press };
std::string fitName(Fit fit);

/// Clearances per side in mm for printed parts, and the density for weights. Values: see material.cpp, each with its
/// source; clearances are common practice, no source.
struct Material {
    std::string name;
    double densityGPerCm3 = 0;
    double freeMm = 0, slidingMm = 0, snugMm = 0, pressMm = 0;

    double clearanceMm(Fit fit) const;
};

/// PLA, PETG, ABS, ASA, PA12, PA6.
const std::vector<Material>& shippedMaterials();
/// By name, any case; nullptr when unknown.
const Material* findMaterial(std::string_view name);

} // namespace quoin::core
