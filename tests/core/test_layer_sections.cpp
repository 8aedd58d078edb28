// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/layer_loops.h"
#include "core/layer_sections.h"
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

std::vector<LayerSection> sections(const mesh::Mesh& m, double layerMm, LayerStack* stack = nullptr)
{
    const mesh::Box3 box = mesh::bounds(m);
    const LayerStack s = stackOf(box.min.z, box.max.z, layerMm, layerMm);
    if (stack != nullptr)
        *stack = s;
    return sectionsOf(m, s, 0.01).value();
}

/// Area of a regular polygon with its corners on a circle: what a faceted round solid has.
double polygonMm2(double radius, int sides)
{
    return sides / 2.0 * radius * radius * std::sin(2 * pi / sides);
}

} // namespace

TEST_CASE("layer sections: as many layers as have their middle inside")
{
    CHECK(stackOf(0, 10, 0.2, 0.2).count == 50);
    CHECK(stackOf(0, 10.09, 0.2, 0.2).count == 50);
    CHECK(stackOf(0, 10.11, 0.2, 0.2).count == 51);
    CHECK(stackOf(0, 0.09, 0.2, 0.2).count == 0);
    CHECK(stackOf(0, 0.11, 0.2, 0.2).count == 1);
    const LayerStack thick = stackOf(5, 15, 0.4, 0.2);
    CHECK(thick.count == 49);
    CHECK(thick.middle(0) == Approx(5.2));
    CHECK(thick.middle(1) == Approx(5.5));
    CHECK(thick.top(48) == Approx(15));
}

TEST_CASE("layer sections: a cube has its face's area in every layer")
{
    const auto all = sections(mesh::box({-20, 3, 7}, {10, 43, 17}), 0.25);
    REQUIRE(all.size() == 40);
    for (const LayerSection& s : all) {
        CHECK(s.areaMm2 == Approx(1200).epsilon(1e-12));
        CHECK(mesh::area(s.outline) == Approx(1200).epsilon(1e-9));
        CHECK(s.outline.size() == 1);
        CHECK_FALSE(s.mended);
        CHECK_FALSE(s.overlapping);
    }
}

TEST_CASE("layer sections: cylinder, cone and sphere against their closed forms, layer by layer")
{
    constexpr int sides = 96;
    for (const LayerSection& s : sections(mesh::cylinder(25, 30, sides), 0.2))
        CHECK(s.areaMm2 == Approx(polygonMm2(25, sides)).epsilon(1e-9));

    LayerStack stack;
    const auto cone = sections(mesh::frustum(30, 10, 40, sides), 0.3, &stack);
    for (std::size_t i = 0; i < cone.size(); ++i)
        CHECK(cone[i].areaMm2 == Approx(polygonMm2(30 - 20 * stack.middle(i) / 40, sides)).epsilon(1e-9));

    // Sphere: pi (r^2 - z^2), less what the facets leave out: at most 0.05 % of this many.
    const double r = 40;
    const auto ball = sections(mesh::icosphere(r, 6), 0.5, &stack);
    double volume = 0;
    for (std::size_t i = 0; i < ball.size(); ++i) {
        const double z = stack.middle(i);
        CHECK(ball[i].areaMm2 == Approx(pi * (r * r - z * z)).epsilon(5e-4).margin(1));
        volume += ball[i].areaMm2 * stack.thickness(i);
    }
    // The rule of the middle leaves out h^2/12 times the integral of the second derivative: pi r h^2 / 3 too much.
    CHECK(volume == Approx(4.0 / 3 * pi * r * r * r).epsilon(5e-4));
    CHECK(volume == Approx(mesh::volume(mesh::icosphere(r, 6)) + pi * r * 0.25 / 3).epsilon(1e-5));
}

TEST_CASE("layer sections: a hole and a hollow are left out")
{
    const auto ring = sections(mesh::torus(30, 10, 64, 48), 0.5);
    REQUIRE(ring.size() == 40);
    CHECK(ring[19].outline.size() == 2);
    // Torus at height z: pi ((R + q)^2 - (R - q)^2) = 4 pi R q, q = sqrt(r^2 - z^2).
    CHECK(ring[19].areaMm2 == Approx(4 * pi * 30 * std::sqrt(100 - 0.0625)).epsilon(5e-3));

    const mesh::Mesh hollow = test::together(
        {test::cuboid({0, 0, 0}, {20, 20, 20}), test::turnedOver(test::cuboid({5, 5, 5}, {15, 15, 15}))});
    const auto shell = sections(hollow, 0.5);
    CHECK(shell[5].areaMm2 == Approx(400));
    CHECK(shell[20].areaMm2 == Approx(300));
    CHECK(mesh::area(shell[20].outline) == Approx(300).epsilon(1e-9));
    CHECK_FALSE(shell[20].overlapping);
}

TEST_CASE("layer sections: bodies that lie in one another count once")
{
    const auto all =
        sections(test::together({test::cuboid({0, 0, 0}, {10, 10, 10}), test::cuboid({5, 0, 0}, {15, 10, 10})}), 0.5);
    for (const LayerSection& s : all) {
        CHECK(s.overlapping);
        CHECK(s.areaMm2 == Approx(150).epsilon(1e-6));
    }
}

TEST_CASE("layer sections: corners exactly at the height of a layer don't open the outline")
{
    // Middles at 0.5, 1.5, ...: the octahedron's waist and the cube's corners lie in some of them.
    const mesh::Mesh sphere = test::moved(test::sphere({0, 0, 0}, 10, 3), {0, 0, 10.5});
    const LayerStack stack{0, 1, 1, 21};
    for (const LayerSection& s : sectionsOf(sphere, stack, 0.01).value())
        CHECK_FALSE(s.mended);
    const mesh::Mesh steps =
        test::together({test::cuboid({0, 0, 0.5}, {10, 10, 1.5}), test::cuboid({20, 0, 1.5}, {30, 10, 2.5})});
    const auto all = sectionsOf(steps, {0, 1, 1, 3}, 0.01).value();
    // A corner in the plane counts as above it: the first box is met at 0.5, the second at 1.5.
    CHECK(all[0].areaMm2 == Approx(0).margin(1e-9));
    CHECK(all[1].areaMm2 == Approx(100));
    CHECK(all[2].areaMm2 == Approx(100));
}

TEST_CASE("layer sections: an open side is closed by a straight line, and said")
{
    // A cube without one of its upright sides: three walls and the line between their ends.
    mesh::Mesh open = test::cube({0, 0, 0}, 10);
    const mesh::Mesh whole = open;
    mesh::Mesh rest;
    rest.points = open.points;
    for (std::size_t t = 0; t < whole.triangles.size(); ++t)
        if (whole.corner(t, 0).x < 10 || whole.corner(t, 1).x < 10 || whole.corner(t, 2).x < 10)
            rest.triangles.push_back(whole.triangles[t]);
    REQUIRE(rest.triangles.size() == 10);
    const auto all = sections(rest, 0.5);
    for (const LayerSection& s : all) {
        CHECK(s.mended);
        CHECK(s.areaMm2 == Approx(100).epsilon(1e-9));
    }
}

TEST_CASE("layer sections: a soup of loose triangles is joined by its ends")
{
    const auto all = sections(test::exploded(mesh::cylinder(10, 5, 24)), 0.5);
    for (const LayerSection& s : all) {
        CHECK(s.areaMm2 == Approx(polygonMm2(10, 24)).epsilon(1e-9));
        CHECK_FALSE(s.mended);
    }
}

TEST_CASE("layer sections: stop when asked")
{
    Context context;
    context.cancel();
    const auto stopped = sectionsOf(mesh::box({0, 0, 0}, {1, 1, 1}), stackOf(0, 1, 0.1, 0.1), 0.01, context);
    REQUIRE_FALSE(stopped.ok());
    CHECK(stopped.problem().reason == Reason::Cancelled);
}

TEST_CASE("layer loops: fewer points, none further away than allowed")
{
    mesh::Loop circle;
    for (int i = 0; i < 1000; ++i)
        circle.push_back({50 * std::cos(2 * pi * i / 1000), 50 * std::sin(2 * pi * i / 1000)});
    const mesh::Loop few = simplified(circle, 0.05);
    CHECK(few.size() < 120);
    // A chord of sag e spans 2 sqrt(2 r e): 70.2 of them go round, and halving makes at most twice as many.
    CHECK(few.size() >= 70);
    for (const mesh::Vec2 p : circle)
        CHECK(mesh::distanceToOutline({few}, p) <= 0.05 + 1e-12);
    CHECK(simplified({{0, 0}, {1, 0}, {2, 0}, {2, 2}, {0, 2}, {0, 1}}, 0.01).size() == 4);
}
