// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_dovetail.h"

#include "core/joint_dowel.h"
#include "mesh/mass.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"
#include "tests/support/joint_block.h"
#include "tests/support/joint_gap.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec3;

namespace {

Joint dovetailOf(double widthMm, double heightMm, double lengthMm, double angle = 0.4, bool carrierAbove = false)
{
    Joint j;
    j.kind = JointForm::Kind::Dovetail;
    j.diameterMm = widthMm;
    j.depthMm = heightMm;
    j.lengthMm = lengthMm;
    j.angle = angle;
    j.carrierAbove = carrierAbove;
    j.at = {2.5, -6};
    j.clearanceMm = 0.25;
    j.endClearanceMm = 0.5;
    return j;
}

mesh::Mesh featureOn(const Joint& j, const test::JointBlock& block, bool above, double outMm)
{
    const auto side = dovetailSide(j, block.cut, above, outMm);
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

TEST_CASE("dovetail: slides out one way with its clearance, and no other way")
{
    unsigned seed = 1;
    for (const auto& [width, height, length] :
         {std::tuple{10.0, 5.0, 20.0}, {20.0, 6.0, 40.0}, {20.0, 28.0, 25.0}, {60.0, 30.0, 90.0}})
        for (const bool carrierAbove : {false, true}) {
            CAPTURE(width, height, carrierAbove);
            const Joint j = dovetailOf(width, height, length, 1.1 * ++seed, carrierAbove);
            const test::JointBlock block = test::jointBlock(j, 1.5 * (length + height), seed);
            const double out = 6 * (length + height);
            const mesh::Mesh key = featureOn(j, block, carrierAbove, out);
            const mesh::Mesh groove = featureOn(j, block, !carrierAbove, out);
            CHECK(test::gapBetween(key, groove) == Approx(j.clearanceMm).margin(1e-5));
            const Vec3 way = dovetailWay(j, block.cut), up = outwardPlane(block.cut, carrierAbove).normal;
            CHECK(std::fabs(mesh::dot(way, up)) < 1e-12);
            for (const double step : {0.05, 0.3, 2.0, length / 2, length, 2 * length})
                CHECK(test::gapBetween(moved(key, step * way), groove) >= j.clearanceMm - 1e-5);
            // Held: up and aside by the clearance and a hair, and at the stop.
            CHECK(mesh::meshesIntersect(moved(key, -0.26 * way), groove));
            CHECK_FALSE(mesh::meshesIntersect(moved(key, -0.24 * way), groove));
            for (const double side : {-1.0, 1.0}) {
                CHECK(mesh::meshesIntersect(moved(key, 0.3 * side * mesh::cross(up, way)), groove));
                CHECK_FALSE(mesh::meshesIntersect(moved(key, 0.24 * side * mesh::cross(up, way)), groove));
            }
            const double lean = dovetailLayout(j)->lean;
            const double play = j.clearanceMm * std::hypot(1, lean) / lean;
            CHECK(mesh::meshesIntersect(moved(key, -1.01 * play * up), groove));
        }
}

TEST_CASE("dovetail: flanks lean by 30 degrees at most and leave half the width at the face")
{
    for (const auto& [width, height] : {std::pair{10.0, 2.5}, {12.0, 6.0}, {20.0, 28.0}, {60.0, 30.0}}) {
        const Joint j = dovetailOf(width, height, 2 * width);
        const mesh::Plane cut = mesh::planeAt({1, -1, 3}, 2);
        const mesh::Mesh key = dovetailSide(j, cut, false, 10 * width)->patches.at(0).surface;
        double lowest = 0;
        for (std::size_t t = 0; t < key.triangles.size(); ++t) {
            const Vec3 n =
                mesh::normalized(mesh::cross(key.corner(t, 1) - key.corner(t, 0), key.corner(t, 2) - key.corner(t, 0)));
            lowest = std::min(lowest, mesh::dot(n, cut.normal));
        }
        CHECK(lowest < -0.1);
        CHECK(lowest > -0.5 - 1e-5);
        const DovetailLayout l = dovetailLayout(j).value();
        CHECK(l.neckMm >= width / 2 - 1e-9);
        CHECK(l.neckMm < width);
        const mesh::Box3 box = mesh::bounds(key);
        CHECK_FALSE(box.empty());
    }
}

TEST_CASE("dovetail: the groove has the volume of its closed form")
{
    // 20 wide, 10 high: edge 1, land 1, from 8 up; lean min(0.57735, 5 / 8): neck 20 - 16 x 0.57735. Half a section:
    // funnel from 0.3 outside to the lip at 0.4, flank to where it meets the land's parallel, land to the bottom.
    const Joint j = dovetailOf(20, 10, 50);
    const double c = 0.25, lean = 0.57735, neck = 20 - 16 * lean, flank = c * std::hypot(1, lean);
    const auto half = [&](double depth) { return neck / 2 + lean * depth + flank; };
    const double corner = 8 - (flank - c) / lean, wide = 10 + c;
    const double area =
        2 * (0.7 * (half(0.4) + 0.35) + (corner - 0.4) * (half(0.4) + wide) / 2 + (10.5 - corner) * wide);
    const mesh::Plane cut = mesh::planeAt({-1, 2, 1}, 7);
    CHECK(mesh::volume(dovetailSide(j, cut, true, 80)->taken.at(0)) == Approx(area * 80.25).epsilon(1e-9));
}

TEST_CASE("dovetail: what can't be made is refused in words")
{
    const auto refused = [](const Joint& j, double out, const std::string& words) {
        const auto side = dovetailSide(j, mesh::Plane{}, true, out);
        REQUIRE_FALSE(side.ok());
        CHECK(side.problem().reason == Reason::BadArgument);
        INFO(side.problem().sentence());
        CHECK(side.problem().what.find(words) != std::string::npos);
        CHECK_FALSE(side.problem().remedy.empty());
    };
    refused(dovetailOf(5, 3, 20), 50, "too narrow");
    refused(dovetailOf(20, 2, 40), 50, "2 mm high");
    refused(dovetailOf(20, 40, 40), 50, "40 mm high");
    refused(dovetailOf(20, 10, 10), 50, "10 mm long");
    refused(dovetailOf(20, 10, 40), 40, "ends at 40 mm, inside");
    refused(dovetailOf(20, 10, 40, std::nan("")), 50, "no number");
    Joint loose = dovetailOf(8, 4, 20);
    loose.clearanceMm = 0.6;
    refused(loose, 50, "holds by only");
    loose.clearanceMm = -0.1;
    refused(loose, 50, "negative");
}
