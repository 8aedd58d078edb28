// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/recipe.h"

#include <fmt/format.h>

#include <algorithm>
#include <span>

namespace quoin::core {

namespace {

/// What a purpose changes.
struct Purpose {
    const char* name;
    double widthMm, layerMm;
    int walls, skins;
    double infill;
    double speed; ///< on the nozzle's speeds
};

/// What a nozzle can do.
struct Nozzle {
    double mm;
    double outerMmS, innerMmS, infillMmS;
    double acceleration;
    double flowMm3S;
    double leastLayerS;
    double purgeMm3;
    std::span<const Purpose> purposes;
};

// All common practice, no source: hot ends melt 5 to 15 mm3/s (30 and more with a long melting zone: set your own), the
// more the wider the nozzle; wide lines are laid slowly, since a thick bead must follow the corner.
constexpr Purpose fourTenths[]{{"fine", 0.42, 0.12, 3, 7, 0.12, 0.85},
                               {"standard", 0.45, 0.20, 3, 5, 0.15, 1},
                               {"strong", 0.48, 0.24, 5, 6, 0.30, 0.9}};
constexpr Purpose sixTenths[]{{"fine", 0.62, 0.20, 3, 5, 0.12, 0.85},
                              {"standard", 0.66, 0.30, 3, 4, 0.15, 1},
                              {"strong", 0.72, 0.36, 5, 5, 0.30, 0.9}};
constexpr Purpose eightTenths[]{{"fine", 0.82, 0.28, 2, 5, 0.10, 0.85},
                                {"standard", 0.90, 0.40, 3, 4, 0.15, 1},
                                {"strong", 0.98, 0.48, 4, 4, 0.30, 0.9}};
constexpr Purpose oneMm[]{{"fine", 1.05, 0.35, 2, 4, 0.10, 0.85},
                          {"standard", 1.15, 0.50, 2, 3, 0.12, 1},
                          {"strong", 1.25, 0.60, 4, 4, 0.30, 0.9}};
// Nozzle; speeds of the outer wall, inner walls and infill; acceleration; flow; least layer time; purge.
constexpr Nozzle nozzles[]{{0.4, 45, 65, 85, 2000, 10, 8, 300, fourTenths},
                           {0.6, 42, 58, 75, 1500, 12, 10, 600, sixTenths},
                           {0.8, 38, 50, 62, 1200, 13, 12, 1000, eightTenths},
                           {1.0, 32, 40, 48, 1000, 14, 15, 1500, oneMm}};

Recipe recipeOf(const Nozzle& n, const Purpose& p)
{
    Recipe r;
    r.name = fmt::format("{:.1f} {}", n.mm, p.name);
    r.nozzleMm = n.mm;
    r.lineWidthMm = p.widthMm;
    r.layerMm = p.layerMm;
    r.firstLayerMm = std::max(p.layerMm, 0.5 * n.mm); // a thick first layer forgives an uneven plate
    r.walls = p.walls;
    r.topLayers = p.skins;
    r.bottomLayers = p.skins > 3 ? p.skins - 1 : p.skins;
    r.infillShare = p.infill;
    r.outerWallMmS = p.speed * n.outerMmS;
    r.innerWallMmS = p.speed * n.innerMmS;
    r.skinMmS = p.speed * n.innerMmS;
    r.infillMmS = p.speed * n.infillMmS;
    r.supportMmS = p.speed * n.innerMmS;
    r.firstLayerMmS = 20;
    r.accelerationMmS2 = n.acceleration;
    r.flowMm3S = n.flowMm3S;
    r.leastLayerS = n.leastLayerS;
    r.supportGapMm = n.mm;
    r.purgeMm3 = n.purgeMm3;
    r.powerW = 120 + 60 * n.mm;
    r.source = "common practice, no source";
    return r;
}

} // namespace

const std::vector<Recipe>& shippedRecipes()
{
    static const std::vector<Recipe> recipes = [] {
        std::vector<Recipe> all;
        for (const Nozzle& n : nozzles)
            for (const Purpose& p : n.purposes)
                all.push_back(recipeOf(n, p));
        return all;
    }();
    return recipes;
}

} // namespace quoin::core
