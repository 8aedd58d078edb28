// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/layer_fill.h"
#include "core/layer_motion.h"
#include "core/layer_support.h"
#include "core/print_estimate.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace quoin;
using namespace quoin::core;

namespace {

constexpr double pi = std::numbers::pi;

const Recipe& shipped(const char* name)
{
    for (const Recipe& r : shippedRecipes())
        if (r.name == name)
            return r;
    throw std::logic_error(name);
}

/// Nothing but lines of plastic: no brim, no support, no pauses.
Recipe plain(const char* name)
{
    Recipe r = shipped(name);
    r.support = false;
    r.leastLayerS = r.layerChangeS = r.pathStartS = 0;
    r.travelFactor = 0;
    r.firstLayerMm = r.layerMm;
    return r;
}

std::vector<LayerFill> fills(const mesh::Mesh& m, const Recipe& r)
{
    const mesh::Box3 box = mesh::bounds(m);
    const LayerStack stack = stackOf(box.min.z, box.max.z, r.firstLayerMm, r.layerMm);
    return fillsOf(sectionsOf(m, stack, 0.01).value(), stack, r).value();
}

std::vector<SupportFill> supports(const mesh::Mesh& m, const LayerStack& stack, const Recipe& r)
{
    return supportOf(sectionsOf(m, stack, 0.01).value(), stack, r).value();
}

PieceEstimate estimate(const mesh::Mesh& m, const Recipe& r, const PrintRates& rates = {})
{
    return estimatePiece(m, r, rates).value();
}

} // namespace

TEST_CASE("layer fill: walls, skins and infill of a cube by hand")
{
    // A cube of 50 mm, layers of 0.25 mm, so 200 of them; 3 walls, 4 layers of skin at the top, 3 at the bottom.
    Recipe r = plain("0.4 standard");
    r.layerMm = r.firstLayerMm = 0.25;
    r.walls = 3;
    r.topLayers = 4;
    r.bottomLayers = 3;
    const double pitch = r.lineWidthMm - 0.25 * (1 - pi / 4);
    const auto all = fills(mesh::box({0, 0, 0}, {50, 50, 50}), r);
    REQUIRE(all.size() == 200);
    // Wall k takes a square frame: its middle runs (50 - (2k - 1) pitch) a side.
    const double outer = 4 * (50 - pitch), inner = 4 * (50 - 3 * pitch) + 4 * (50 - 5 * pitch);
    const double inside = std::pow(50 - 6 * pitch, 2);
    for (std::size_t i = 0; i < all.size(); ++i) {
        INFO("layer " << i);
        CHECK(all[i].outerWallMm == Approx(outer).epsilon(1e-5));
        CHECK(all[i].innerWallsMm == Approx(inner).epsilon(1e-5));
        const bool skin = i < 3 || i >= 196;
        CHECK(all[i].skin.areaMm2 == Approx(skin ? inside : 0).epsilon(1e-6).margin(1e-3));
        CHECK(all[i].infill.areaMm2 == Approx(skin ? 0 : inside).epsilon(1e-6).margin(1e-3));
        CHECK(all[i].contours == 1);
    }
    // Once around a square of 50 mm by the closed form, shortened to the line's own length.
    const Motion m{r.speedWithin(r.outerWallMmS, 0.25), r.accelerationMmS2, r.cornerMmS};
    const double corner = r.cornerMmS / std::sqrt(2.0);
    const double around = 2 * runSeconds(50, corner, corner, m) + 2 * runSeconds(50, r.cornerMmS, corner, m);
    CHECK(all[50].outerWallSeconds == Approx(around * outer / 200).epsilon(1e-3));
}

TEST_CASE("layer fill: skin lies where a step leaves air above or below")
{
    // A plate of 40 x 40 x 10 with a block of 20 x 20 on it to z = 20, layers of 0.5: above the plate's free part lie
    // its top skins, under the block none.
    Recipe r = plain("0.8 standard");
    r.layerMm = r.firstLayerMm = 0.5;
    r.lineWidthMm = 0.8;
    r.walls = 0;
    r.topLayers = 3;
    r.bottomLayers = 2;
    const mesh::Mesh step = mesh::revolved({{0, 0}, {30, 0}, {30, 10}, {15, 10}, {15, 20}, {0, 20}}, 64);
    const auto all = fills(step, r);
    REQUIRE(all.size() == 40);
    const double big = 32 * 900 * std::sin(2 * pi / 64), small = 32 * 225 * std::sin(2 * pi / 64);
    const auto check = [&](std::size_t layer, double skin, double infill) {
        INFO("layer " << layer);
        CHECK(all[layer].skin.areaMm2 == Approx(skin).epsilon(1e-4).margin(0.1));
        CHECK(all[layer].infill.areaMm2 == Approx(infill).epsilon(1e-4).margin(0.1));
    };
    check(0, big, 0);
    check(1, big, 0);
    check(2, 0, big);
    check(16, 0, big);
    check(17, big - small, small); // three layers below the step
    check(19, big - small, small);
    check(20, 0, small); // the block stands on the plate: no bottom skin
    check(36, 0, small);
    check(37, small, 0);
    check(39, small, 0);
}

TEST_CASE("layer fill: walls, skin and infill always make up the section")
{
    for (const char* name : {"0.4 fine", "0.6 strong", "1.0 strong"}) {
        const Recipe r = plain(name);
        const mesh::Mesh ball = mesh::icosphere(20, 4);
        const LayerStack stack = stackOf(-20, 20, r.firstLayerMm, r.layerMm);
        const auto sections = sectionsOf(ball, stack, 0.02).value();
        const auto all = fillsOf(sections, stack, r).value();
        for (std::size_t i = 0; i < all.size(); ++i) {
            const double pitch = r.pitchMm(stack.thickness(i));
            CHECK((all[i].outerWallMm + all[i].innerWallsMm) * pitch + all[i].skin.areaMm2 + all[i].infill.areaMm2 ==
                  Approx(sections[i].areaMm2).epsilon(1e-9).margin(1e-9));
        }
    }
}

TEST_CASE("layer support: the room under a slab on a post, by hand")
{
    // A slab of 100 x 100 x 10 on a round post of radius 15 and 48 mm: columns over the plate around it, less the gap.
    Recipe r = shipped("0.4 standard");
    r.layerMm = r.firstLayerMm = 0.2;
    r.supportGapMm = 1;
    const mesh::Mesh table = test::together({test::cuboid({-50, -50, 48}, {50, 50, 58}), mesh::cylinder(15, 48, 128)});
    const LayerStack stack = stackOf(0, 58, 0.2, 0.2);
    const auto support = supports(table, stack, r);
    double volume = 0;
    std::size_t layers = 0;
    for (const SupportFill& s : support) {
        CHECK(s.area.areaMm2 == Approx(10000 - pi * 16 * 16).epsilon(1e-3));
        volume += s.area.areaMm2 * 0.2 * static_cast<double>(s.layers);
        layers += s.layers;
    }
    CHECK(layers == 240);
    CHECK(volume == Approx((10000 - pi * 256) * 48).epsilon(1e-3));
}

TEST_CASE("layer support: a slope is carried up to the angle and no further")
{
    const auto support = [](double degrees, double angle) {
        Recipe r = shipped("0.4 standard");
        r.overhang = angle * pi / 180;
        // A cone standing on its small end: its side leans by so many degrees from the vertical.
        const double height = 30, top = 10 + height * std::tan(degrees * pi / 180);
        const mesh::Mesh cone = mesh::frustum(10, top, height, 96);
        const LayerStack stack = stackOf(0, height, r.firstLayerMm, r.layerMm);
        double volume = 0;
        for (const SupportFill& s : supports(cone, stack, r))
            for (std::size_t i = s.firstLayer; i < s.firstLayer + s.layers; ++i)
                volume += s.area.areaMm2 * stack.thickness(i);
        return volume;
    };
    CHECK(support(40, 45) == 0);
    CHECK(support(44.5, 45) == 0);
    // Room between the cone and the cylinder around it: pi R^2 H - pi H (R^2 + R r + r^2) / 3, less the gap of 0.4 mm
    // beside the cone; the steps of 0.8 mm allow no better than some per cent.
    const double R = 10 + 30 * std::tan(55 * pi / 180);
    const double room = pi * 30 * (R * R - (R * R + R * 10 + 100) / 3);
    CHECK(support(55, 45) == Approx(room).epsilon(0.04));
    CHECK(support(55, 60) == 0);
}

TEST_CASE("layer support: columns end on the body below, not on the plate")
{
    // A bridge: slab over a larger foot; all columns stand on the foot.
    Recipe r = shipped("0.4 standard");
    r.supportGapMm = 0;
    const mesh::Mesh body =
        test::together({test::cuboid({0, 0, 0}, {60, 60, 20}), test::cuboid({0, 0, 20}, {10, 60, 40}),
                        test::cuboid({0, 0, 40}, {60, 60, 44})});
    const LayerStack stack = stackOf(0, 44, 0.2, 0.2);
    double volume = 0;
    for (const SupportFill& s : supports(body, stack, r)) {
        CHECK(s.firstLayer >= 100);
        volume += s.area.areaMm2 * 0.2 * static_cast<double>(s.layers);
    }
    CHECK(volume == Approx(50 * 60 * 20).epsilon(1e-3));
}

TEST_CASE("print estimate: a solid print weighs its volume by its density")
{
    Recipe r = plain("0.6 standard");
    r.infillShare = 1;
    // 1 kg of PLA at 1.24 g/cm3 is 806.452 cm3, and 335.284 m of filament of 1.75 mm.
    const double side = std::cbrt(806452.0);
    const PieceEstimate e = estimate(mesh::box({0, 0, 0}, {side, 806452 / side / 93.0, 93}), r, {1.24, 1.75, 25, 0, 0});
    CHECK(e.layers == 310);
    CHECK(e.heightMm == Approx(93));
    CHECK(e.grams == Approx(1000).epsilon(1e-4));
    CHECK(e.metres == Approx(335.284).epsilon(1e-4));
    CHECK(e.materialCost == Approx(25).epsilon(1e-4));
    CHECK(e.share(PrintShare::Infill).grams == Approx(0).margin(1e-9));
    CHECK(e.share(PrintShare::Support).grams == 0);
    // Whatever the speeds: no faster than the hot end melts.
    CHECK(e.hours >= 806452 / r.flowMm3S / 3600);
}

TEST_CASE("print estimate: time is never less than volume over the flow limit, and meets it where speed is no limit")
{
    // 1 kg at 1.24 g/cm3 and 9 mm3/s takes 24.890 h, without travel and acceleration.
    Recipe r = plain("0.4 standard");
    r.infillShare = 1;
    r.flowMm3S = 9;
    r.outerWallMmS = r.innerWallMmS = r.skinMmS = r.infillMmS = r.firstLayerMmS = 900;
    r.accelerationMmS2 = 100000;
    r.cornerMmS = 100;
    const double side = std::sqrt(806452.0 / 93);
    const PieceEstimate e = estimate(mesh::box({0, 0, 0}, {side, side, 93}), r);
    CHECK(e.hours >= 24.890 * (1 - 1e-4));
    CHECK(e.hours == Approx(24.890).epsilon(0.02));
    for (const Recipe& shippedRecipe : shippedRecipes()) {
        const PieceEstimate p = estimate(mesh::icosphere(15, 3), shippedRecipe);
        INFO(shippedRecipe.name);
        CHECK(p.hours * 3600 * shippedRecipe.flowMm3S >= p.grams / 1.24 * 1000);
    }
}

TEST_CASE("print estimate: figures of its shares add up, and follow from a cube's areas by hand")
{
    Recipe r = plain("0.4 standard");
    r.layerMm = r.firstLayerMm = 0.25;
    r.walls = 2;
    r.topLayers = r.bottomLayers = 4;
    r.infillShare = 0.2;
    r.infill = InfillPattern::Grid;
    const double pitch = r.lineWidthMm - 0.25 * (1 - pi / 4), inside = std::pow(50 - 4 * pitch, 2);
    const PieceEstimate e = estimate(mesh::box({0, 0, 0}, {50, 50, 50}), r, {1.0, 1.75, 20, 0.5, 0.3});
    CHECK(e.share(PrintShare::Walls).grams == Approx((2500 - inside) * 50 / 1000).epsilon(1e-5));
    CHECK(e.share(PrintShare::Skin).grams == Approx(inside * 8 * 0.25 / 1000).epsilon(1e-5));
    CHECK(e.share(PrintShare::Infill).grams == Approx(0.2 * inside * 192 * 0.25 / 1000).epsilon(1e-5));
    double grams = 0, hours = 0;
    for (const PrintShare s : printShares) {
        grams += e.share(s).grams;
        hours += e.share(s).hours;
    }
    CHECK(e.grams == Approx(grams));
    CHECK(e.hours == Approx(hours));
    CHECK(e.energyKwh == Approx(r.powerW / 1000 * e.hours));
    CHECK(e.machineCost == Approx(0.5 * e.hours + 0.3 * e.energyKwh));
    CHECK(e.materialCost == Approx(0.02 * e.grams));
    CHECK(e.likelyGrams.low < e.grams);
    CHECK(e.likelyHours.high > e.hours);
}

TEST_CASE("print estimate: the least layer time, layer changes, starts and the brim count as overhead")
{
    Recipe r = plain("0.4 standard");
    const mesh::Mesh pin = mesh::cylinder(3, 20, 32);
    const PieceEstimate quick = estimate(pin, r);
    r.leastLayerS = 20;
    const PieceEstimate slow = estimate(pin, r);
    CHECK(slow.hours == Approx(20.0 * slow.layers / 3600)); // each layer takes less by itself
    CHECK(slow.waitingHours == Approx(slow.hours - quick.hours));
    CHECK(slow.share(PrintShare::Overhead).hours == Approx(slow.waitingHours));
    CHECK(slow.grams == quick.grams);
    r.leastLayerS = 0;
    r.layerChangeS = 2;
    CHECK(estimate(pin, r).hours == Approx(quick.hours + 2.0 * quick.layers / 3600));
    r.layerChangeS = 0;
    r.brimMm = 5;
    const double ring = pi * (8 * 8 - 3 * 3); // of the round; the polygon's is a little smaller
    CHECK(estimate(pin, r).share(PrintShare::Overhead).grams == Approx(ring * 0.2 / 1000 * 1.24).epsilon(0.01));
    CHECK(quick.startUpHours == Approx(r.startUpS / 3600));
    CHECK(quick.startUpGrams == Approx(r.purgeMm3 / 1000 * 1.24));
}

TEST_CASE("print estimate: an open mesh is estimated all the same, and the doubt is said")
{
    mesh::Mesh open = test::cube({0, 0, 0}, 20);
    open.triangles.resize(open.triangles.size() - 1);
    const PieceEstimate e = estimate(open, shipped("0.6 standard"));
    CHECK(e.grams > 1);
    REQUIRE_FALSE(e.notes.empty());
    CHECK(e.mendedLayers > 0);
    CHECK(e.notes[0].text.find("open") != std::string::npos);
}

TEST_CASE("print estimate: what can't be printed is refused in words, and cancel stops it")
{
    const auto thin = estimatePiece(mesh::box({0, 0, 0}, {50, 50, 0.05}), shipped("1.0 strong"), {});
    REQUIRE_FALSE(thin.ok());
    CHECK(thin.problem().reason == Reason::NoVolume);
    CHECK_FALSE(estimatePiece({}, shipped("1.0 strong"), {}).ok());
    CHECK_FALSE(estimatePiece(mesh::box({0, 0, 0}, {1, 1, 1e6}), shipped("0.4 fine"), {}).ok());
    Recipe bad = shipped("0.4 fine");
    bad.layerMm = 1;
    CHECK(estimatePiece(mesh::box({0, 0, 0}, {1, 1, 1}), bad, {}).problem().reason == Reason::BadArgument);
    PrintRates rates;
    rates.densityGPerCm3 = 0;
    CHECK_FALSE(estimatePiece(mesh::box({0, 0, 0}, {1, 1, 1}), shipped("0.4 fine"), rates).ok());
    Context context;
    context.cancel();
    const auto stopped = estimatePiece(mesh::box({0, 0, 0}, {9, 9, 9}), shipped("0.4 fine"), {}, {}, context);
    CHECK(stopped.problem().reason == Reason::Cancelled);
}

TEST_CASE("print estimate: factors of the log stretch grams, extrusion and the rest each for itself")
{
    const mesh::Mesh block = mesh::box({0, 0, 0}, {40, 40, 20});
    const Recipe& r = shipped("0.4 standard");
    const PieceEstimate plainly = estimate(block, r);
    PrintFactors f;
    f.mass = 1.1;
    f.extrusion = 1.2;
    f.overhead = 2;
    f.massSpread = 0.05;
    const PieceEstimate e = estimatePiece(block, r, {}, f).value();
    CHECK(e.grams == Approx(1.1 * plainly.grams));
    CHECK(e.share(PrintShare::Walls).hours == Approx(1.2 * plainly.share(PrintShare::Walls).hours));
    CHECK(e.share(PrintShare::Overhead).hours == Approx(2 * plainly.share(PrintShare::Overhead).hours));
    CHECK(e.likelyGrams.high == Approx(1.05 * e.grams));
    CHECK(e.modelGrams == Approx(plainly.grams));
    CHECK(e.modelExtrusionHours + e.modelOverheadHours == Approx(plainly.hours));
}
