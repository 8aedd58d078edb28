// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/hardware.h"
#include "core/joint_bolt.h"
#include "core/joint_dovetail.h"
#include "core/joint_dowel.h"
#include "core/joint_envelope.h"
#include "core/joint_key.h"
#include "core/joint_rules.h"
#include "core/joint_size.h"
#include "core/joint_thread.h"
#include "core/thread_mesh.h"

#include <catch2/catch.hpp>

#include <random>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec3;
using Kind = JointForm::Kind;

namespace {

const mesh::Plane cut = mesh::planeAt({1, 2, 3}, 5);

/// Points of what a joint takes of a side, from the geometry itself.
std::vector<Vec3> takenPoints(const SideShape& side, bool above)
{
    std::vector<Vec3> points;
    const mesh::PlaneFrame own = mesh::frameOf(outwardPlane(cut, above));
    for (const mesh::Recess& recess : side.recesses)
        for (const auto& level : recess.levels)
            for (const mesh::Loop& loop : level.outline)
                for (const mesh::Vec2 p : loop)
                    points.push_back(own.space(p, -level.depthMm));
    for (const mesh::Mesh& m : side.taken)
        points.insert(points.end(), m.points.begin(), m.points.end());
    for (const mesh::FacePatch& patch : side.patches)
        points.insert(points.end(), patch.surface.points.begin(), patch.surface.points.end());
    return points;
}

/// Every point below the face lies in one of the bodies.
void requireHolds(const Joint& joint, const std::vector<Vec3>& points, bool above, double outMm = 0.02)
{
    const auto side = jointEnvelope(joint, above);
    REQUIRE(side.ok());
    const auto bodies = takenBodies(*side, cut, above);
    std::size_t below = 0;
    double worst = 0;
    for (const Vec3 p : points) {
        if ((above ? 1 : -1) * cut.distance(p) < -1e-6)
            continue; // outside the face
        ++below;
        double out = 1e300;
        for (const TakenBody& body : bodies)
            out = std::min(out, mesh::length(p - body.nearest(p)));
        worst = std::max(worst, out);
    }
    CHECK(below > 10);
    CHECK(worst < outMm);
}

Joint jointOf(Kind kind, double diameter, double depth, double angle)
{
    Joint joint;
    joint.kind = kind;
    joint.at = {3, -7};
    joint.diameterMm = diameter;
    joint.depthMm = depth;
    joint.angle = angle;
    joint.clearanceMm = 0.3;
    joint.endClearanceMm = boreEndClearanceMm;
    return joint;
}

} // namespace

TEST_CASE("joint envelope: holds all that dowels and keys take")
{
    std::mt19937 random(1);
    std::uniform_real_distribution<double> size(5, 40), turn(0, 6.3);
    for (int i = 0; i < 60; ++i) {
        const double d = size(random);
        Joint joint = jointOf(Kind::Dowel, d, d, turn(random));
        for (const bool above : {false, true})
            // The 0.4 mm chamfer of a bore's mouth has never asked for a wall of its own.
            requireHolds(joint, takenPoints(*sideShape(joint, cut, above), above), above, 0.3);
        joint.kind = Kind::Key;
        joint.section = static_cast<JointForm::Section>(i % 3);
        joint.integral = i % 2 == 0;
        joint.carrierAbove = i % 4 < 2;
        for (const bool above : {false, true}) {
            const auto side = keySide(joint, cut, above);
            REQUIRE(side.ok());
            if (!(joint.integral && above == joint.carrierAbove))
                requireHolds(joint, takenPoints(*side, above), above);
            else
                CHECK(jointEnvelope(joint, above)->steps.front().toMm == Approx(d / 2)); // the root
        }
    }
}

TEST_CASE("joint envelope: holds the bore of a thread, and the foot of its stud stands on half a diameter")
{
    for (const bool trapezoidal : {false, true})
        for (const double d : {16.0, 40.0, 60.0}) {
            Joint joint = jointOf(Kind::Screw, d, 0, 0);
            joint.thread.trapezoidal = trapezoidal;
            joint = resized(joint, d);
            joint.depthMm = std::max(d, leastDepthMm(joint));
            joint.chordMm = 0.2;
            const auto bore = internalThread(threadedShapeOf(joint));
            REQUIRE(bore.ok());
            const mesh::PlaneFrame frame = mesh::frameOf(cut);
            std::vector<Vec3> points;
            for (const Vec3 p : bore->mesh.points)
                points.push_back(frame.space(joint.at + mesh::Vec2{p.x, p.y}, p.z));
            joint.carrierAbove = false;
            requireHolds(joint, points, true);
            const auto root = jointEnvelope(joint, false);
            REQUIRE(root->steps.size() == 1);
            CHECK(root->steps[0].toMm == Approx(d / 2));
            CHECK(root->steps[0].radiusMm == Approx(bore->layout.footRadiusMm));
            joint.kind = Kind::Stud;
            CHECK(jointEnvelope(joint, false)->steps[0].toMm == Approx(bore->layout.boreDepthMm));
        }
}

TEST_CASE("joint envelope: holds all that draw bolts take, ways out included")
{
    for (const double d : boltDiametersMm())
        for (const auto hold : {JointForm::Hold::FarNut, JointForm::Hold::SideNut, JointForm::Hold::Insert})
            for (const bool headAbove : {false, true}) {
                if (hold == JointForm::Hold::Insert && !heatSetInsert(d))
                    continue;
                Joint joint = jointOf(Kind::DrawBolt, d, 3 * d, 0.7);
                joint.hold = hold;
                joint.carrierAbove = headAbove;
                joint.gripMm = 3 * d;
                if (hold == JointForm::Hold::Insert)
                    joint.depthMm = heatSetInsert(d)->lengthMm;
                joint.headOutMm = joint.gripMm + 30;
                joint.nutOutMm = joint.depthMm + 60;
                for (const bool above : {false, true}) {
                    INFO("M" << d << " hold " << static_cast<int>(hold) << " above " << above);
                    const auto side = boltSide(joint, cut, above);
                    REQUIRE(side.ok());
                    requireHolds(joint, takenPoints(*side, above), above);
                }
            }
}

TEST_CASE("joint envelope: holds the groove of a dovetail, its open end included")
{
    Joint joint = jointOf(Kind::Dovetail, 30, 20, 1.1);
    joint.lengthMm = 50;
    joint.nutOutMm = 80;
    for (const bool carrier : {false, true}) {
        joint.carrierAbove = carrier;
        const auto side = dovetailSide(joint, cut, !carrier, joint.nutOutMm);
        REQUIRE(side.ok());
        requireHolds(joint, takenPoints(*side, !carrier), !carrier);
        CHECK(jointEnvelope(joint, carrier)->steps.front().toMm == Approx(15));
    }
}

TEST_CASE("joint envelope: the gap between flat-ended bodies is the true one")
{
    const auto body = [](mesh::Vec2 at, double radius, double from, double to, const mesh::Plane& plane, bool above) {
        return TakenBody(EnvelopeStep{{at}, radius, from, to}, plane, above);
    };
    const mesh::Plane floor{{0, 0, 1}, 0};
    // Side by side: axes 50 apart, radii 20 and 10.
    const TakenBody a = body({0, 0}, 20, 0, 30, floor, true), b = body({50, 0}, 10, 5, 25, floor, true);
    CHECK(gapBetween(a, b, 100) == Approx(20).margin(0.011));
    // One over the other: between flat ends, where balls would have met.
    const TakenBody over = body({0, 0}, 20, 40, 60, floor, true);
    CHECK(gapBetween(a, over, 100) == Approx(10).margin(0.011));
    // Rim to rim: 10 up, 10 aside.
    const TakenBody rim = body({50, 0}, 20, 40, 60, floor, true);
    CHECK(gapBetween(a, rim, 100) == Approx(std::hypot(10, 10)).margin(0.011));
    CHECK(gapBetween(a, body({25, 0}, 10, 0, 30, floor, true), 100) < 0);
    // Against a plate: 4 corners.
    const TakenBody plate(EnvelopeStep{{{30, -50}, {60, -50}, {60, 50}, {30, 50}}, 0, 0, 10}, floor, true);
    CHECK(gapBetween(a, plate, 100) == Approx(10).margin(0.011));
    // Random pairs: never more than between any two points of the two.
    std::mt19937 random(9);
    std::uniform_real_distribution<double> u(-1, 1);
    for (int i = 0; i < 200; ++i) {
        const mesh::Plane other = mesh::planeAt({u(random), u(random), 1.2 + u(random)}, 40 * u(random));
        const TakenBody c =
            body({30 * u(random), 30 * u(random)}, 5 + 4 * u(random), 0, 20 + 10 * u(random), other, i % 2 == 0);
        const double gap = gapBetween(a, c, 1000);
        double least = 1e300;
        Vec3 p = a.nearest(c.around().to);
        for (int k = 0; k < 20000; ++k) {
            const Vec3 q = c.nearest(p);
            p = a.nearest(q);
            least = std::min(least, mesh::length(p - q));
        }
        CHECK(gap <= least + 1e-9);
        if (least > 0.01)
            CHECK(gap >= least - 0.05);
    }
}
