// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_clocking.h"

#include "core/joint_dovetail.h"
#include "core/joint_layout.h"
#include "core/joint_rules.h"
#include "core/open_way.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"
#include "tests/support/joint_block.h"
#include "tests/support/joint_gap.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec3;

namespace {

Joint keyOf(double widthMm, double depthMm, double lengthMm, double angle = 0.4)
{
    Joint j;
    j.kind = JointForm::Kind::ClockingKey;
    j.diameterMm = widthMm;
    j.depthMm = depthMm;
    j.lengthMm = lengthMm;
    j.angle = angle;
    j.at = {2.5, -6};
    j.clearanceMm = 0.25;
    j.endClearanceMm = 0.5;
    return j;
}

mesh::Mesh slotOn(const Joint& j, const test::JointBlock& block, bool above)
{
    const auto side = clockingSide(j, block.cut, above);
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

mesh::Mesh moved(const mesh::Mesh& m, Vec3 by)
{
    return mesh::transformed(m, mesh::Transform::translation(by));
}

} // namespace

TEST_CASE("clocking key: half of it lies in either piece with its clearance, and it comes out one way")
{
    unsigned seed = 1;
    for (const auto& [width, depth, length] :
         {std::tuple{4.0, 2.0, 12.0}, {10.0, 5.0, 40.0}, {20.0, 28.0, 25.0}, {30.0, 8.0, 90.0}}) {
        CAPTURE(width, depth);
        Joint j = keyOf(width, depth, length, 1.1 * ++seed);
        j.nutOutMm = 6 * (length + depth);
        const test::JointBlock block = test::jointBlock(j, 1.5 * (length + depth), seed);
        const auto parts = clockingParts(j, block.cut);
        REQUIRE(parts.ok());
        REQUIRE(parts->size() == 1);
        const mesh::Mesh& bar = parts->front().inPlace;
        CHECK(mesh::topologyOf(bar).solid());
        const Vec3 way = dovetailWay(j, block.cut), up = block.cut.normal, across = mesh::cross(up, way);
        for (const bool above : {false, true}) {
            const mesh::Mesh slot = slotOn(j, block, above);
            CHECK(test::gapBetween(bar, slot) == Approx(j.clearanceMm).margin(1e-5));
            for (const double step : {0.05, 0.3, 2.0, length / 2, length, 2 * length})
                CHECK(test::gapBetween(moved(bar, step * way), slot) >= j.clearanceMm - 1e-5);
            // Held to either side, downwards, and at the slot's end.
            for (const double side : {-1.0, 1.0}) {
                CHECK(mesh::meshesIntersect(moved(bar, 0.26 * side * across), slot));
                CHECK_FALSE(mesh::meshesIntersect(moved(bar, 0.24 * side * across), slot));
            }
            CHECK(mesh::meshesIntersect(moved(bar, (above ? 0.26 : -0.26) * up), slot));
            CHECK(mesh::meshesIntersect(moved(bar, -0.51 * way), slot));
            CHECK_FALSE(mesh::meshesIntersect(moved(bar, -0.49 * way), slot));
        }
        // It lies on a flank, its axis along x, so that the layers cross the face.
        const mesh::Mesh printed = mesh::transformed(bar, parts->front().printPose);
        const mesh::Box3 box = mesh::bounds(printed);
        CHECK(box.min.z == Approx(0).margin(1e-9));
        CHECK(box.extents().x == Approx(length));
        CHECK(box.extents().y == Approx(2 * depth));
        CHECK(box.extents().z == Approx(width));
        CHECK(box.centre().x == Approx(0).margin(1e-9));
    }
}

TEST_CASE("clocking key: bar and slot have the volume of their closed forms")
{
    // 10 wide, 10 high, 40 long: edges broken by 1/10 of 10, at most 0.6; lead-in 1.5 mm to 1 - 1.5 / 5 of the section.
    Joint j = keyOf(10, 5, 40);
    j.nutOutMm = 60;
    const mesh::Plane cut = mesh::planeAt({1, -1, 3}, 2);
    const double area = 10 * 10 - 2 * 0.6 * 0.6, s = 0.7;
    const double ends = 2 * 1.5 * area * (1 + s + s * s) / 3; // frustums
    CHECK(mesh::volume(clockingParts(j, cut)->front().inPlace) == Approx(37 * area + ends));
    const auto side = clockingSide(j, cut, true);
    REQUIRE(side->taken.size() == 1);
    // 0.3 mm of it stand outside the face.
    CHECK(mesh::volume(side->taken.front()) == Approx(10.5 * (5.25 + 0.3) * 60.5));
    CHECK(side->recesses.empty());
    CHECK(side->patches.empty());
}

TEST_CASE("clocking key: it keeps a screw's pieces from turning but for its play")
{
    Joint j = keyOf(8, 4, 20, 0);
    j.at = {30, 0};
    j.nutOutMm = 100;
    const test::JointBlock block = test::jointBlock(j, 60, 3);
    const mesh::Mesh bar = clockingParts(j, block.cut)->front().inPlace;
    const mesh::Mesh below = slotOn(j, block, false), above = slotOn(j, block, true);
    const Vec3 axis = mesh::frameOf(block.cut).space({0, 0});
    const auto turned = [&](const mesh::Mesh& m, double angle) {
        return mesh::transformed(m, mesh::Transform::translation(axis) *
                                        mesh::Transform::rotation(block.cut.normal, angle) *
                                        mesh::Transform::translation(-1.0 * axis));
    };
    // The bar goes by half the play against the lower piece, the upper one by as much against the bar.
    const double play = clockingLayout(j)->play(40);
    CHECK(play == Approx(0.5 / 40).epsilon(1e-3));
    // At its far end the lever is longest: it is held there before its middle would be.
    const double held = 0.25 / 50;
    CHECK_FALSE(mesh::meshesIntersect(turned(bar, 0.9 * held), below));
    CHECK(mesh::meshesIntersect(turned(bar, 1.2 * held), below));
    CHECK(mesh::meshesIntersect(turned(above, -1.2 * held), bar));
}

TEST_CASE("clocking key: sizes that make none are refused in words")
{
    const auto what = [](const Joint& j) {
        const auto layout = clockingLayout(j);
        return layout ? std::string() : layout.problem().what + " | " + layout.problem().remedy;
    };
    CHECK(what(keyOf(8, 4, 20)).empty());
    CHECK(what(keyOf(2, 1, 20)).find("too narrow") != std::string::npos);
    CHECK(what(keyOf(8, 1, 20)).find("can't reach 1 mm into either side") != std::string::npos);
    CHECK(what(keyOf(8, 13, 20)).find("2 to 12 mm") != std::string::npos);
    CHECK(what(keyOf(8, 4, 7)).find("only 7 mm long") != std::string::npos);
    Joint bad = keyOf(8, 4, 20);
    bad.clearanceMm = -0.1;
    CHECK(what(bad).find("negative clearance") != std::string::npos);
    bad = keyOf(std::numeric_limits<double>::quiet_NaN(), 4, 20);
    CHECK(what(bad).find("no number") != std::string::npos);
    Joint inside = keyOf(8, 4, 20);
    inside.nutOutMm = 19;
    const auto side = clockingSide(inside, mesh::planeAt({0, 0, 1}, 0), true);
    REQUIRE_FALSE(side.ok());
    CHECK(side.problem().what.find("ends at 19 mm, inside the piece") != std::string::npos);
}

TEST_CASE("clocking key: its way out is found on both pieces, and a bar that stands out of the skin is told of")
{
    // A slanting cut: along its slant the skin of the piece above is met earlier than that of the one below.
    const mesh::Mesh block = mesh::box({-50, -50, 0}, {50, 50, 100});
    const CutPlan plan = planByCutting(block, {mesh::planeAt({0, 0.3, 1}, 50)}).value();
    const auto pieces = piecesOf(cutByPlan(block, plan).value());
    const auto seams = seamsOf(pieces, plan);
    const JointRoom room(pieces, plan, 200);
    const JointScene scene{pieces, seams, plan, room, 2.4};
    const mesh::PlaneFrame frame = mesh::frameOf(plan.nodes[0].plane);
    Joint j = keyOf(8, 4, 20);
    // Out along +x, from 25 mm before the skin.
    j.at = frame.flat({25, 0, 50});
    const Vec3 x{1, 0, 0};
    j.angle = std::atan2(mesh::dot(x, frame.v), mesh::dot(x, frame.u));
    const OpenWays ways = openWays(scene, j);
    CHECK(ways.fault.empty());
    CHECK(ways.nutOutMm == Approx(25.5 + 1.5 * 8.5 / 16)); // past a corner that may lie between two lines
    CHECK(withWays(scene, j).nutOutMm == ways.nutOutMm);
    CHECK_FALSE(jointFault(scene, {withWays(scene, j)}, 0).has_value());
    j.lengthMm = 26;
    CHECK(openWays(scene, j).fault.find("stands out of the skin by 1.0 mm") != std::string::npos);
    // Along the slant the skins of both pieces are met at different places: the nearer one counts for the bar.
    const Vec3 slant = mesh::normalized(Vec3{0, 1, 0} - mesh::dot(Vec3{0, 1, 0}, frame.normal) * frame.normal);
    j.angle = std::atan2(mesh::dot(slant, frame.v), mesh::dot(slant, frame.u));
    j.at = frame.flat({0, 20, 44});
    j.lengthMm = 20;
    const OpenWays oblique = openWays(scene, j);
    CHECK(oblique.fault.empty());
    CHECK(oblique.nutOutMm > oblique.nutSkinMm + 0.5);
    // Out through a corner between its middle and its edge: all of it is cut away.
    const mesh::PlaneFrame flat = mesh::frameOf(mesh::planeAt({0, 0, 1}, 50));
    const CutPlan level = planByCutting(block, {mesh::planeAt({0, 0, 1}, 50)}).value();
    const auto halves = piecesOf(cutByPlan(block, level).value());
    const auto levelSeams = seamsOf(halves, level);
    const JointRoom around(halves, level, 200);
    const JointScene corner{halves, levelSeams, level, around, 2.4};
    Joint out = keyOf(10, 5, 20);
    out.at = flat.flat({23, 27, 50});
    const Vec3 diagonal = mesh::normalized(Vec3{1, 1, 0});
    out.angle = std::atan2(mesh::dot(diagonal, flat.v), mesh::dot(diagonal, flat.u));
    const double tip = mesh::dot(Vec3{50 - 23, 50 - 27, 0}, diagonal);
    CHECK(openWays(corner, out).nutOutMm >= tip);
}
