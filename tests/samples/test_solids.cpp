// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "mesh/topology.h"
#include "sample_models/solids.h"

#include <catch2/catch.hpp>

#include <numbers>
#include <stdexcept>

using namespace quoin::samples;
using quoin::mesh::Box3;
using std::numbers::pi;

namespace {

constexpr double exactly = 1e-12; // relative

double polygonArea(double radius)
{
    return 0.5 * roundSides * radius * radius * std::sin(2 * pi / roundSides);
}

double frustumVolume(double r, double s, double h)
{
    return h / 3 * polygonArea(1) * (r * r + r * s + s * s);
}

} // namespace

TEST_CASE("raised: a chamfered disc is a stack of frustums, along z and along x")
{
    const double expected = frustumVolume(4.5, 5, 0.5) + frustumVolume(5, 5, 6.8) + frustumVolume(5, 4.3, 0.7);
    const auto along = raised(circleOutline({1, 2}, 5), 3, 11, 0.5, 0.7);
    CHECK(volume(along) == Approx(expected).epsilon(exactly));
    CHECK(topologyOf(along).solid());
    const auto across = raisedAlongX(circleOutline({1, 2}, 5), 3, 11, 0.5, 0.7);
    CHECK(volume(across) == Approx(expected).epsilon(exactly));
    const Box3 box = bounds(across);
    CHECK(box.min.x == 3);
    CHECK(box.max.x == 11);
    CHECK(box.centre().y == Approx(1));
    CHECK(box.centre().z == Approx(2));
}

TEST_CASE("link outline: the hull of two circles")
{
    // Equal radii: a circle and a rectangle. The tangent points are corners of the outline.
    const auto link = raised(linkOutline({0, 0}, 3, {12, 5}, 3), 0, 2);
    const double circle = 0.5 * roundSides * 9 * std::sin(pi / (roundSides / 2)); // two half circles of 32 chords
    CHECK(volume(link) == Approx(2 * (circle + 13 * 6)).epsilon(1e-9));
    const Box3 box = bounds(raised(linkOutline({0, 0}, 5, {20, 0}, 2), 0, 1));
    CHECK(box.min.x == Approx(-5));
    CHECK(box.max.x == Approx(22));
    CHECK(box.max.y == Approx(5).margin(0.01));
}

TEST_CASE("keyed outline: a circle less a segment")
{
    const double radius = 5, flat = 3;
    const double corner = std::acos(flat / radius);
    const double segment = radius * radius * (corner - std::sin(corner) * std::cos(corner));
    const auto peg = raised(dOutline(radius, flat), 0, 1);
    CHECK(volume(peg) == Approx(pi * radius * radius - segment).epsilon(3e-3));
    CHECK(volume(peg) < pi * radius * radius - segment);
    CHECK(bounds(peg).max.x == Approx(flat).epsilon(exactly));
}

TEST_CASE("plate: holes go through, the rim is chamfered")
{
    const auto plate =
        plateAlongX(circleOutline({0, 0}, 10), {circleOutline({3, 1}, 2), circleOutline({-4, 0}, 1)}, -2, 2, 0.5);
    const double expected =
        frustumVolume(10, 10, 3) + 2 * frustumVolume(9.5, 10, 0.5) - 4 * (polygonArea(2) + polygonArea(1));
    CHECK(volume(plate) == Approx(expected).epsilon(exactly));
    CHECK(topologyOf(plate).solid());
    // Two handles: V - E + F = -2.
    const auto euler = static_cast<long>(plate.points.size()) - static_cast<long>(topologyOf(plate).edges) +
                       static_cast<long>(plate.triangles.size());
    CHECK(euler == -2);
}

TEST_CASE("shoulder pin: head, journal, spigot and chamfers add up")
{
    const auto pin = shoulderPin({4, 2, 2.5, 10, 1.5, 3, 0.3});
    const double head = 2 * frustumVolume(3.7, 4, 0.3) + frustumVolume(4, 4, 1.4);
    const double spigot = frustumVolume(1.5, 1.5, 2.7) + frustumVolume(1.5, 1.2, 0.3);
    CHECK(volume(pin) == Approx(head + frustumVolume(2.5, 2.5, 10) + spigot).epsilon(exactly));
    CHECK(topologyOf(pin).solid());
    CHECK(bounds(pin).max.z == Approx(15));
    const auto plain = shoulderPin({0, 0, 2, 10, 0, 0, 0.5});
    CHECK(volume(plain) == Approx(2 * frustumVolume(1.5, 2, 0.5) + frustumVolume(2, 2, 9)).epsilon(exactly));
}

TEST_CASE("fused and without: a design that can't be combined is an error, not an empty solid")
{
    auto open = raised(circleOutline({0, 0}, 5), 0, 5);
    const auto tool = raised(circleOutline({0, 0}, 2), -1, 6);
    CHECK(volume(without(open, tool)) == Approx(5 * (polygonArea(5) - polygonArea(2))).epsilon(1e-9));
    open.triangles.pop_back();
    CHECK_THROWS_AS(without(open, tool), std::logic_error);
    CHECK_THROWS_AS(fused(tool, open), std::logic_error);
}
