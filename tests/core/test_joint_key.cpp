// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_key.h"

#include "core/joint_dowel.h"
#include "core/profile_stack.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"
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
using Section = JointForm::Section;

namespace {

constexpr std::array allSections{Section::Square, Section::D, Section::Cross};

Joint keyOf(Section section, double diameterMm, double depthMm, double angle, double taperMm = 0, bool integral = false)
{
    Joint j;
    j.kind = JointForm::Kind::Key;
    j.section = section;
    j.diameterMm = diameterMm;
    j.depthMm = depthMm;
    j.angle = angle;
    j.taperMm = taperMm;
    j.integral = integral;
    j.at = {3.7, -8.1};
    j.clearanceMm = 0.25;
    j.endClearanceMm = 0.5;
    return j;
}

mesh::Mesh made(const test::JointBlock& block, const SideShape& side, bool above)
{
    const auto m = test::withSide(block, side, above);
    if (!m)
        FAIL(m.problem().sentence());
    CHECK(mesh::topologyOf(*m).solid());
    CHECK(mesh::selfIntersections(*m, 1).empty());
    return *m;
}

} // namespace

TEST_CASE("key: loose, every section and size, sits in sound pockets with its clearance and pulls out straight")
{
    unsigned seed = 1;
    for (const Section section : allSections)
        for (const auto& [diameter, depth, taper] :
             {std::tuple{8.0, 12.0, 0.0}, {8.0, 6.0, 0.1}, {20.0, 24.0, 0.3}, {60.0, 70.0, 1.0}}) {
            CAPTURE(static_cast<int>(section), diameter, taper);
            const Joint j = keyOf(section, diameter, depth, 0.7 * ++seed, taper);
            const test::JointBlock h = test::jointBlock(j, 4 * (diameter + depth), seed);
            const auto parts = keyParts(j, h.cut);
            REQUIRE(parts.ok());
            REQUIRE(parts->size() == 1);
            const mesh::Mesh& key = parts->front().inPlace;
            CHECK(mesh::topologyOf(key).solid());
            CHECK(mesh::selfIntersections(key, 1).empty());
            CHECK(mesh::volume(key) > 0);
            for (const bool above : {false, true}) {
                const SideShape side = keySide(j, h.cut, above).value();
                const mesh::Mesh pocket = test::featureOf(made(h, side, above));
                CHECK(test::inZones(pocket, side));
                const double gap = test::gapBetween(key, pocket);
                CHECK(gap >= j.clearanceMm - 1e-9);
                CHECK(gap <= j.clearanceMm + 1e-9);
                // Out, a little at first, then by half the depth.
                const Vec3 out = outwardPlane(h.cut, above).normal;
                for (const double way : {0.01, 0.1, 1.0, depth / 2, depth}) {
                    const mesh::Mesh moved = mesh::transformed(key, mesh::Transform::translation(way * out));
                    CHECK(test::gapBetween(moved, pocket) >= j.clearanceMm - 1e-9);
                }
            }
        }
}

TEST_CASE("key: integral, on either piece, stands out sound and fits the other's pocket")
{
    unsigned seed = 100;
    for (const Section section : allSections)
        for (const bool carrierAbove : {false, true})
            for (const auto& [diameter, depth, taper] : {std::tuple{8.0, 10.0, 0.0}, {24.0, 20.0, 0.6}}) {
                CAPTURE(static_cast<int>(section), diameter, carrierAbove);
                Joint j = keyOf(section, diameter, depth, 1.3 * ++seed, taper, true);
                j.carrierAbove = carrierAbove;
                j.clearanceMm = seed % 2 ? 0.25 : 0.1;
                const test::JointBlock h = test::jointBlock(j, 4 * (diameter + depth), seed);
                CHECK(keyParts(j, h.cut).value().empty());
                const SideShape carrier = keySide(j, h.cut, carrierAbove).value();
                const SideShape other = keySide(j, h.cut, !carrierAbove).value();
                CHECK(carrier.recesses.empty());
                CHECK(other.patches.empty());
                const mesh::Mesh key = test::featureOf(made(h, carrier, carrierAbove));
                const mesh::Mesh pocket = test::featureOf(made(h, other, !carrierAbove));
                CHECK(test::inZones(key, carrier));
                CHECK(carrier.zones.empty());
                CHECK(test::inZones(pocket, other));
                CHECK(test::gapBetween(key, pocket) == Approx(j.clearanceMm).margin(1e-9));
                const Vec3 out = outwardPlane(h.cut, !carrierAbove).normal;
                for (const double way : {0.01, 0.1, 0.4, 2.0, depth}) {
                    const mesh::Mesh moved = mesh::transformed(key, mesh::Transform::translation(way * out));
                    CHECK(test::gapBetween(moved, pocket) >= j.clearanceMm - 1e-9);
                }
            }
}

TEST_CASE("key: volumes by closed forms")
{
    // Square of side d / sqrt 2, edges broken by b: area a^2 - 2 b^2. D: circle less the segment beyond 0.6 r. Lead-in:
    // an end shrunk by lead / r over the lead, a frustum: (1 + s + s^2) / 3 of the prism.
    const double d = 20, depth = 15, lead = 1.5, b = 1.2, s = 1 - lead / 10;
    const double square = d * d / 2 - 2 * b * b;
    const double loose = 2 * square * (depth - lead + lead * (1 + s + s * s) / 3);
    const mesh::Plane cut = mesh::planeAt({1, 2, 3}, 5);
    CHECK(mesh::volume(keyParts(keyOf(Section::Square, d, depth, 0.4), cut)->front().inPlace) ==
          Approx(loose).epsilon(1e-12));
    CHECK(mesh::signedArea(keySection(keyOf(Section::Square, d, depth, 0.4))) == Approx(square).epsilon(1e-12));

    Joint round = keyOf(Section::D, d, depth, 0);
    round.chordMm = 0.001;
    const double r = d / 2, angle = std::acos(0.6);
    const double full = r * r * (M_PI - angle + 0.6 * 0.8);
    const double area = mesh::signedArea(keySection(round));
    CHECK(area < full);
    CHECK(area > 0.993 * full); // two broken edges of 1.2 mm and chords of 0.001 mm

    // Arms of 0.36 d and 0.24 d across a square middle, outer edges broken by b, inner corners filled by b / 2.
    const Joint cross = keyOf(Section::Cross, d, depth, 0);
    const double w = 0.18 * d, n = 0.12 * d, reach = std::sqrt(r * r - w * w), narrow = std::sqrt(r * r - n * n);
    const double arms = 4 * w * w + 3 * (reach - w) * 2 * w + (narrow - w) * 2 * n;
    CHECK(mesh::signedArea(keySection(cross)) == Approx(arms - 8 * b * b / 2 + 4 * b * b / 8).epsilon(1e-12));
}

TEST_CASE("key: lies flat on the plate, on its rest, axis level")
{
    for (const Section section : allSections)
        for (const double taper : {0.0, 0.3}) {
            const Joint j = keyOf(section, 20, 24, 2.2, taper);
            const JointPart part = keyParts(j, mesh::planeAt({1, -2, 0.4}, 12))->front();
            CHECK(part.printPose.determinant() == Approx(1));
            const mesh::Mesh lying = mesh::transformed(part.inPlace, part.printPose);
            const mesh::Box3 box = mesh::bounds(lying);
            CHECK(box.min.z == Approx(0).margin(1e-9));
            CHECK(box.extents().x == Approx(48));
            CHECK(box.min.x == Approx(-24));
            // It rests on a face as long as itself less the lead-ins, not on an edge.
            double resting = 0, from = 1e300, to = -1e300;
            for (std::size_t t = 0; t < lying.triangles.size(); ++t)
                if (std::max({lying.corner(t, 0).z, lying.corner(t, 1).z, lying.corner(t, 2).z}) < 1e-9) {
                    resting += mesh::triangleArea(lying, t);
                    for (int k = 0; k < 3; ++k) {
                        from = std::min(from, lying.corner(t, k).y);
                        to = std::max(to, lying.corner(t, k).y);
                    }
                }
            CHECK(resting > 30);
            CHECK(to - from > 8);
            CHECK(box.max.y > to - 1e-9);
        }
}

TEST_CASE("key: a D and a cross fit one way only, a square every quarter turn")
{
    const mesh::Plane cut = mesh::planeAt({0, 0, 1}, 0);
    for (const Section section : allSections) {
        Joint j = keyOf(section, 20, 15, 0.3);
        const mesh::Mesh key = keyParts(j, cut)->front().inPlace;
        const Vec3 place = mesh::frameOf(cut).space(j.at);
        for (int quarter = 1; quarter < 4; ++quarter) {
            Joint other = j;
            other.angle += quarter * M_PI / 2;
            test::JointBlock block{cut, {}, {}};
            block.below = mesh::box(place - Vec3{40, 40, 40}, place + Vec3{40, 40, 0});
            for (std::size_t t = 0; t < block.below.triangles.size(); ++t) {
                const auto onFace = [&](int k) { return block.below.corner(t, k).z > place.z - 1; };
                block.below.labels.push_back(onFace(0) && onFace(1) && onFace(2) ? 1 : 0);
            }
            const mesh::Mesh pocket = test::featureOf(made(block, keySide(other, cut, false).value(), false));
            CHECK(mesh::meshesIntersect(key, pocket) == (section != Section::Square));
        }
    }
}

TEST_CASE("key: nothing reaches past keyReachMm")
{
    for (const Section section : allSections)
        for (const double clearance : {0.05, 0.25, 0.5})
            for (const double diameter : {8.0, 16.0, 50.0}) {
                Joint j = keyOf(section, diameter, diameter, 0.1);
                j.clearanceMm = clearance;
                CAPTURE(static_cast<int>(section), clearance, diameter);
                const auto side = keySide(j, mesh::Plane{}, true);
                REQUIRE(side.ok());
                CHECK(side->mouths.front().radiusMm <= keyReachMm(j) + 1e-9);
                CHECK(side->zones.front().radiusMm < side->mouths.front().radiusMm);
                CHECK(keyReachMm(j) <= diameter / 2 + clearance + 0.4 + 0.03);
                CHECK(reachOf(keySection(j)) <= diameter / 2 + 1e-9);
            }
}

TEST_CASE("key: what can't be made is refused in words")
{
    const auto refused = [](const Joint& j, const std::string& words) {
        const auto side = keySide(j, mesh::Plane{}, true);
        REQUIRE_FALSE(side.ok());
        CHECK(side.problem().reason == Reason::BadArgument);
        INFO(side.problem().sentence());
        CHECK(side.problem().what.find(words) != std::string::npos);
        CHECK_FALSE(keyParts(j, mesh::Plane{}).ok());
        CHECK(keySection(j).empty());
    };
    refused(keyOf(Section::Square, 3, 10, 0), "too thin");
    refused(keyOf(Section::Square, 10, 1, 0), "1 mm deep");
    refused(keyOf(Section::D, 10, 10, 0, -1), "negative");
    refused(keyOf(Section::Cross, 10, 10, 0, 2), "a taper of 2 mm a side");
    refused(keyOf(Section::Square, 10, 10, std::nan("")), "no number");
    Joint wide = keyOf(Section::D, 6, 10, 0);
    wide.clearanceMm = 2;
    refused(wide, "a clearance of 2 mm");
    wide.clearanceMm = 0.2;
    wide.chordMm = 0;
    refused(wide, "chord");
}
