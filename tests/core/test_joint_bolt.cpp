// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_bolt.h"

#include "core/hardware.h"
#include "core/joint_dowel.h"
#include "mesh/distance.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"
#include "tests/support/joint_block.h"
#include "tests/support/joint_gap.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec3;
using Hold = JointForm::Hold;

namespace {

/// The head in the middle of its side, the nut of its own.
Joint boltOf(double size, Hold hold, bool headAbove = true)
{
    Joint j;
    j.kind = JointForm::Kind::DrawBolt;
    j.diameterMm = size;
    j.hold = hold;
    j.carrierAbove = headAbove;
    j.gripMm = 1.5 * size;
    j.depthMm = hold == Hold::Insert ? 14 : 1.2 * size;
    j.at = {1.2, -0.7};
    j.angle = 0.35 * size;
    j.clearanceMm = 0.25;
    j.endClearanceMm = 0.5;
    j.headOutMm = j.nutOutMm = 20 * size;
    return j;
}

test::JointBlock blockFor(const Joint& j)
{
    return test::jointBlock(j, 6 * j.diameterMm + 20, static_cast<unsigned>(j.diameterMm) + 7);
}

/// A side as made, sound, within its zones; only what the joint made.
mesh::Mesh featureOn(const Joint& j, const test::JointBlock& block, bool above)
{
    const auto side = boltSide(j, block.cut, above);
    if (!side)
        FAIL(side.problem().sentence());
    const auto m = test::withSide(block, *side, above);
    if (!m)
        FAIL(m.problem().sentence());
    CHECK(mesh::topologyOf(*m).solid());
    CHECK(mesh::selfIntersections(*m, 1).empty());
    const mesh::Mesh feature = test::featureOf(*m);
    CHECK(test::inZones(feature, *side));
    return feature;
}

/// A prism about the joint's axis on one side, from a depth on, turned about it from Joint::angle.
mesh::Mesh alongAxis(const Joint& j, const mesh::Plane& cut, bool above, const mesh::Mesh& prism, double depthMm,
                     double turn = 0)
{
    const mesh::PlaneFrame frame = mesh::frameOf(cut);
    const Vec3 x = std::cos(j.angle) * frame.u + std::sin(j.angle) * frame.v;
    const Vec3 in = -outwardPlane(cut, above).normal;
    const mesh::Transform place = mesh::Transform::translation(frame.space(j.at) + depthMm * in) *
                                  mesh::Transform::fromColumns(x, mesh::cross(in, x), in) *
                                  mesh::Transform::rotation({0, 0, 1}, turn);
    return mesh::transformed(prism, place);
}

/// A nut of the largest size, corners sharp, two of them along x.
mesh::Mesh nutBody(double size)
{
    const HexagonNut nut = hexagonNut(size).value();
    return mesh::cylinder(nut.s / 2 / std::cos(M_PI / 6), nut.m, 6);
}

} // namespace

TEST_CASE("draw bolt: head and washer pass and sit, in every size and either way up")
{
    bool above = false;
    for (const double size : boltDiametersMm()) {
        above = !above;
        CAPTURE(size, above);
        const Joint j = boltOf(size, Hold::FarNut, above);
        const test::JointBlock block = blockFor(j);
        const mesh::Mesh feature = featureOn(j, block, above);
        const SocketHeadScrew screw = socketHeadScrew(size).value();
        const PlainWasher washer = plainWasher(size).value();
        const mesh::Mesh disc = mesh::cylinder(washer.d2 / 2, washer.h, 128);
        const mesh::Mesh head = mesh::cylinder(screw.dkKnurled / 2, screw.k, 128);
        const double lift = 1; // more than the clearance, so that the wall is what's nearest
        const double gap = test::gapBetween(alongAxis(j, block.cut, above, disc, j.gripMm + lift), feature);
        CHECK(gap >= j.clearanceMm - 1e-9);
        CHECK(gap < j.clearanceMm + 0.03); // chords of the disc and the wall
        CHECK(test::gapBetween(alongAxis(j, block.cut, above, head, j.gripMm + lift), feature) > 0.25);
        CHECK(test::gapBetween(alongAxis(j, block.cut, above, head, 4 * size), feature) > 0.25);
        // The seat carries the washer, but lets the screw through.
        CHECK(mesh::meshesIntersect(alongAxis(j, block.cut, above, disc, j.gripMm - 0.1), feature));
        const mesh::Mesh shank = mesh::cylinder(size / 2, j.gripMm + 2, 64);
        CHECK(test::gapBetween(alongAxis(j, block.cut, above, shank, -1), feature) >
              j.clearanceMm + (clearanceHole(size)->medium - size) / 2 - 1e-9);
    }
}

TEST_CASE("draw bolt: a nut of the standard's size fits its pocket on the far side and can't turn")
{
    bool headAbove = false;
    for (const double size : boltDiametersMm()) {
        headAbove = !headAbove;
        CAPTURE(size, headAbove);
        const Joint j = boltOf(size, Hold::FarNut, headAbove);
        const test::JointBlock block = blockFor(j);
        const mesh::Mesh feature = featureOn(j, block, !headAbove);
        const auto nutAt = [&](double depth, double turn = 0) {
            return alongAxis(j, block.cut, !headAbove, nutBody(size), depth, turn);
        };
        CHECK(test::gapBetween(nutAt(j.depthMm + 1), feature) == Approx(j.clearanceMm).margin(1e-5));
        CHECK(test::gapBetween(nutAt(j.depthMm + 2 * size), feature) >= j.clearanceMm - 1e-5);
        CHECK(mesh::meshesIntersect(nutAt(j.depthMm - 0.1), feature));
        CHECK(mesh::meshesIntersect(nutAt(j.depthMm + 1, 0.2), feature));
        CHECK(mesh::meshesIntersect(nutAt(j.depthMm + 1, -0.2), feature));
    }
}

TEST_CASE("draw bolt: a nut slides in from the side, is held by two walls, and the screw goes through it")
{
    bool headAbove = false;
    for (const double size : boltDiametersMm()) {
        headAbove = !headAbove;
        CAPTURE(size, headAbove);
        const Joint j = boltOf(size, Hold::SideNut, headAbove);
        const test::JointBlock block = blockFor(j);
        const mesh::Mesh feature = featureOn(j, block, !headAbove);
        const mesh::PlaneFrame frame = mesh::frameOf(block.cut);
        const Vec3 way = std::cos(j.angle) * frame.u + std::sin(j.angle) * frame.v;
        const mesh::Mesh nut = alongAxis(j, block.cut, !headAbove, nutBody(size), j.depthMm + j.clearanceMm);
        for (double out = 0; out < 10 * size; out += size / 2) {
            const mesh::Mesh moved = mesh::transformed(nut, mesh::Transform::translation(out * way));
            const double gap = test::gapBetween(moved, feature);
            CHECK(gap >= j.clearanceMm - 1e-5);
            if (out < size)
                CHECK(gap < j.clearanceMm + 1e-5);
        }
        for (const double turn : {-0.2, 0.2})
            CHECK(mesh::meshesIntersect(
                alongAxis(j, block.cut, !headAbove, nutBody(size), j.depthMm + j.clearanceMm, turn), feature));
        const mesh::Mesh shank = mesh::cylinder(size / 2, boltLayout(j)->endMm + 1, 64);
        CHECK(test::gapBetween(alongAxis(j, block.cut, !headAbove, shank, -1), feature) > j.clearanceMm);
    }
}

TEST_CASE("draw bolt: an insert's bore has its diameter to its depth, and room for the screw's end")
{
    for (const double size : {3.0, 4.0, 5.0, 6.0, 8.0, 10.0}) {
        CAPTURE(size);
        const Joint j = boltOf(size, Hold::Insert);
        const test::JointBlock block = blockFor(j);
        const mesh::Mesh feature = featureOn(j, block, false);
        const mesh::SurfaceTree tree(feature);
        const double radius = heatSetInsert(size)->boreMm / 2;
        const Vec3 mouth = mesh::frameOf(block.cut).space(j.at);
        for (const double depth : {3.0, 8.0, j.depthMm - 1})
            CHECK(tree.firstHit(mouth - depth * block.cut.normal, mesh::frameOf(block.cut).u).value() ==
                  Approx(radius + 0.01).margin(0.0101)); // from the flat of a facet to its corner
        const BoltLayout layout = boltLayout(j).value();
        CHECK(layout.endMm >= heatSetInsert(size)->lengthMm);
        const mesh::Mesh shank = mesh::cylinder(size / 2, layout.endMm + 1, 64);
        CHECK(test::gapBetween(alongAxis(j, block.cut, false, shank, -1), feature) > 0.2);
    }
}

TEST_CASE("draw bolt: what is bought stands in its place and touches nothing")
{
    for (const Hold hold : {Hold::FarNut, Hold::SideNut, Hold::Insert})
        for (const bool headAbove : {false, true}) {
            const Joint j = boltOf(8, hold, headAbove);
            const test::JointBlock block = blockFor(j);
            const mesh::Mesh on[]{featureOn(j, block, false), featureOn(j, block, true)};
            const auto solids = boltInPlace(j, block.cut).value();
            REQUIRE(solids.size() == (hold == Hold::Insert ? 2 : 3));
            for (const mesh::Mesh& solid : solids) {
                CHECK(mesh::topologyOf(solid).solid());
                CHECK(mesh::volume(solid) > 0);
                for (const mesh::Mesh& feature : on)
                    CHECK(test::gapBetween(solid, feature) >= j.clearanceMm - 1e-5);
            }
            // Shank and head by ISO 4762, M8 x 35 or so, chords taken off.
            const double length = boltLengthMm(j).value(), whole = M_PI * (16 * length + 42.25 * 8);
            CHECK(mesh::volume(solids[0]) == Approx(whole).epsilon(0.01));
            double above = -1e300, below = 1e300;
            for (const Vec3 p : solids[0].points) {
                above = std::max(above, block.cut.distance(p));
                below = std::min(below, block.cut.distance(p));
            }
            const double head = j.gripMm + 1.6 + 8 + 0.25, end = length - j.gripMm - 1.6 - 0.25;
            CHECK(above == Approx(headAbove ? head : end));
            CHECK(below == Approx(headAbove ? -end : -head));
        }
}

TEST_CASE("draw bolt: what is taken away has the volume of its closed form")
{
    Joint j = boltOf(8, Hold::FarNut);
    const mesh::Plane cut = mesh::planeAt({1, -2, 2}, 3);
    // Bore of 9 + 2 x 0.25 mm, mouth 0.5 mm wider at the face and 0.8 mm wider 0.3 mm outside; polygons round circles:
    // n tan(pi / n) r^2.
    const auto area = [](double r) {
        const int n = mesh::sidesForChord(r, mesh::tolerance::chordMm);
        return n * std::tan(M_PI / n) * r * r;
    };
    const double r = 4.75, m = r + 0.8, unit = area(r) / (r * r);
    const double mouth = unit * 0.8 * (m * m + m * r + r * r) / 3;
    const double head = mouth + area(r) * (j.gripMm - 0.5) + area(8.25) * (j.headOutMm - j.gripMm);
    CHECK(mesh::volume(boltSide(j, cut, true)->taken.at(0)) == Approx(head).epsilon(1e-9));
    // Hexagon 13.5 mm across flats: sqrt(3) / 2 s^2; six slots 0.8 sin 60 wide, 0.5 deep from 0.2 short of the corner.
    const double slots = 6 * 0.8 * std::sin(M_PI / 3) * (0.5 - 0.1);
    const double nut =
        mouth + area(r) * (j.depthMm - 0.5) + (std::sqrt(3) / 2 * 13.5 * 13.5 + slots) * (j.nutOutMm - j.depthMm);
    CHECK(mesh::volume(boltSide(j, cut, false)->taken.at(0)) == Approx(nut).epsilon(1e-9));
}

TEST_CASE("draw bolt: the screw is the shortest that is sold and engages, and the list says what to buy")
{
    Joint j = boltOf(8, Hold::FarNut);
    j.gripMm = 40;
    j.headOutMm = 60;
    j.depthMm = 28; // 1.6 washer + 40 + 28 + 6.8 nut + 2 x 1.25 = 78.9
    CHECK(boltLengthMm(j).value() == 80);
    const auto parts = boltParts(j).value();
    REQUIRE(parts.size() == 3);
    CHECK(parts[0].name == "socket head cap screw ISO 4762 M8 x 80");
    CHECK(parts[1].name == "plain washer ISO 7089 for M8");
    CHECK(parts[2].name == "hexagon nut ISO 4032 M8");
    CHECK(boltLayout(j)->endMm == Approx(80 - 1.6 - 40));
    j.depthMm = 19.09; // 69.99
    CHECK(boltLengthMm(j).value() == 70);
    j.depthMm = 19.11; // 70.01
    CHECK(boltLengthMm(j).value() == 80);

    Joint insert = boltOf(5, Hold::Insert);
    insert.gripMm = 20; // 1 + 20 + 9.5 = 30.5
    CHECK(boltLengthMm(insert).value() == 35);
    CHECK(boltParts(insert)->at(2).name == "heat-set insert M5, 9.5 mm long, for a bore of 6.4 mm");
}

TEST_CASE("draw bolt: what can't be made or bought is refused in words")
{
    const auto refused = [](const Joint& j, const std::string& words) {
        const auto side = boltSide(j, mesh::Plane{}, true);
        REQUIRE_FALSE(side.ok());
        CHECK(side.problem().reason == Reason::BadArgument);
        INFO(side.problem().sentence());
        CHECK(side.problem().what.find(words) != std::string::npos);
        CHECK_FALSE(side.problem().remedy.empty());
        CHECK_FALSE(boltParts(j).ok());
        CHECK_FALSE(boltLengthMm(j).ok());
    };
    const auto changed = [](Joint j, const auto& change) {
        change(j);
        return j;
    };
    const Joint nut = boltOf(8, Hold::FarNut), side = boltOf(8, Hold::SideNut), insert = boltOf(8, Hold::Insert);
    refused(boltOf(7, Hold::FarNut), "M7 is not made");
    refused(boltOf(18, Hold::FarNut), "M18 is not made");
    refused(boltOf(16, Hold::Insert), "no heat-set insert");
    refused(changed(nut, [](Joint& j) { j.gripMm = 3; }), "too short a grip, 3 mm");
    refused(changed(nut, [](Joint& j) { j.depthMm = 3; }), "too near the face");
    refused(changed(insert, [](Joint& j) { j.depthMm = 12; }), "too shallow");
    refused(changed(nut, [](Joint& j) { j.headOutMm = j.gripMm; }), "no way in for its head");
    refused(changed(nut, [](Joint& j) { j.nutOutMm = j.depthMm; }), "no way in for its nut");
    refused(changed(side, [](Joint& j) { j.nutOutMm = 7; }), "no way in for its nut");
    refused(changed(nut, [](Joint& j) { j.gripMm = 70; }), "the longest is 80 mm");
    refused(changed(nut, [](Joint& j) { j.angle = std::nan(""); }), "no number");
    refused(changed(nut, [](Joint& j) { j.clearanceMm = 3; }), "clearance of 3 mm");
    refused(changed(nut, [](Joint& j) { j.chordMm = 0; }), "chord");
}
