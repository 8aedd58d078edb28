// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/recipe.h"

#include <catch2/catch.hpp>

#include <limits>
#include <set>

using namespace quoin;
using namespace quoin::core;

TEST_CASE("recipe: every shipped one can be used, and is named by nozzle and purpose")
{
    std::set<std::string> names;
    for (const Recipe& r : shippedRecipes()) {
        INFO(r.name);
        const Status s = checkRecipe(r);
        INFO((s ? std::string() : s.problem().what));
        CHECK(s.ok());
        CHECK(r.source == "common practice, no source");
        // Hot ends melt 5 to 15 mm3/s, high-flow ones 30 and more (common practice).
        CHECK(r.flowMm3S >= 5);
        CHECK(r.flowMm3S <= 30);
        CHECK(r.walls >= 2);
        names.insert(r.name);
    }
    for (const char* nozzle : {"0.4", "0.6", "0.8", "1.0"})
        for (const char* purpose : {" fine", " standard", " strong"})
            CHECK(names.count(nozzle + std::string(purpose)) == 1);
    CHECK(names.size() == 12);
}

TEST_CASE("recipe: a line's section is a stadium")
{
    // Common practice: w 0.6, h 0.3 at 100 mm/s is 16.07 mm3/s, w 0.45, h 0.2 is 8.1416; rectangles would be 18 and 9.
    Recipe r;
    r.lineWidthMm = 0.6;
    CHECK(100 * r.beadMm2(0.3) == Approx(16.07).epsilon(5e-4));
    r.lineWidthMm = 0.45;
    CHECK(100 * r.beadMm2(0.2) == Approx(8.1416).epsilon(1e-5));
    // A solid layer holds its volume: pitch times height is the bead.
    CHECK(r.pitchMm(0.2) * 0.2 == Approx(r.beadMm2(0.2)));
    r.flowMm3S = 4;
    CHECK(r.speedWithin(100, 0.2) == Approx(4 / 0.081416).epsilon(1e-5));
    CHECK(r.speedWithin(20, 0.2) == 20);
}

TEST_CASE("recipe: nonsense is refused in words")
{
    const auto refused = [](auto change, const char* word) {
        Recipe r = shippedRecipes().front();
        change(r);
        const Status s = checkRecipe(r);
        REQUIRE_FALSE(s.ok());
        INFO(s.problem().what);
        CHECK(s.problem().reason == Reason::BadArgument);
        CHECK(s.problem().what.find(word) != std::string::npos);
        CHECK_FALSE(s.problem().remedy.empty());
    };
    // Layers of 20 to 80 % of the nozzle, lines of 100 to 150 % (common practice, no source); 0.4 mm here.
    refused([](Recipe& r) { r.layerMm = 0.079; }, "20 to 80 %");
    refused([](Recipe& r) { r.layerMm = 0.321; }, "20 to 80 %");
    refused([](Recipe& r) { r.firstLayerMm = 0.33; }, "first layer");
    refused([](Recipe& r) { r.lineWidthMm = 0.39; }, "100 to 150 %");
    refused([](Recipe& r) { r.lineWidthMm = 0.61; }, "100 to 150 %");
    refused([](Recipe& r) { r.infillShare = 1.01; }, "infill");
    refused([](Recipe& r) { r.infillShare = -0.01; }, "infill");
    refused([](Recipe& r) { r.flowMm3S = 0; }, "flow limit");
    refused([](Recipe& r) { r.accelerationMmS2 = std::numeric_limits<double>::quiet_NaN(); }, "acceleration");
    refused([](Recipe& r) { r.outerWallMmS = 0; }, "outer wall");
    refused([](Recipe& r) { r.overhang = 1.6; }, "overhang");
    refused([](Recipe& r) { r.name = ""; }, "name");
    refused([](Recipe& r) { r.name = "a\nb"; }, "name");
    refused([](Recipe& r) { r.walls = r.topLayers = r.bottomLayers = 0, r.infillShare = 0; }, "nothing");
    Recipe edge = shippedRecipes().front();
    edge.layerMm = edge.firstLayerMm = 0.32;
    edge.lineWidthMm = 0.6;
    CHECK(checkRecipe(edge).ok());
    edge.layerMm = edge.firstLayerMm = 0.08;
    edge.lineWidthMm = 0.4;
    CHECK(checkRecipe(edge).ok());
}
