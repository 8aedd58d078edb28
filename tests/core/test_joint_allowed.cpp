// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_allowed.h"
#include "core/level_outline.h"
#include "mesh/primitives.h"
#include "mesh/region.h"
#include "mesh/transform.h"

#include <catch2/catch.hpp>

#include <chrono>
#include <random>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec2;
using mesh::Vec3;

namespace {

std::shared_ptr<const Project> cutProject(const mesh::Mesh& part, const std::vector<mesh::Plane>& planes)
{
    auto p = std::make_shared<Project>();
    p->plan = planByCutting(part, planes).value();
    p->pieces = piecesOf(cutByPlan(part, p->plan).value());
    p->seams = seamsOf(p->pieces, p->plan);
    return p;
}

Joint dowel(double diameter, double depth, std::size_t seam = 0, Vec2 at = {0, 0})
{
    return {dowelForm(at, diameter, depth), seam, 0.25, boreEndClearanceMm};
}

/// Radius, clearance, mouth and wall, the one place where the sum is written out.
double needOf(double diameter)
{
    return diameter / 2 + 0.25 + 0.15 + 2.4;
}

struct Extent {
    Vec2 low{1e300, 1e300}, high{-1e300, -1e300};
};

Extent extentOf(const mesh::Region& region)
{
    Extent e;
    for (const mesh::Loop& loop : region)
        for (const Vec2 p : loop) {
            e.low = {std::min(e.low.x, p.x), std::min(e.low.y, p.y)};
            e.high = {std::max(e.high.x, p.x), std::max(e.high.y, p.y)};
        }
    return e;
}

/// The rules are asked at places all over the face: inside the region they hold, well outside it they don't.
void requireAgrees(const JointProbe& probe, std::vector<Joint> joints, const mesh::Region& region)
{
    const Extent e = extentOf(probe.project().seams[joints[0].seam].region);
    std::mt19937 random(8);
    std::uniform_real_distribution<double> x(e.low.x, e.high.x), y(e.low.y, e.high.y);
    int allowed = 0, forbidden = 0;
    for (int i = 0; i < 3000; ++i) {
        const Vec2 at{x(random), y(random)};
        joints[0].at = at;
        if (mesh::contains(region, at)) {
            ++allowed;
            INFO(probe.fault(joints, 0).value_or(JointFault{}).text);
            REQUIRE_FALSE(probe.fault(joints, 0).has_value());
        } else if (mesh::distanceToOutline(region, at) > 0.1) {
            ++forbidden;
            REQUIRE(probe.fault(joints, 0).has_value());
        }
    }
    CHECK(allowed > 100);
    CHECK(forbidden > 100);
}

} // namespace

TEST_CASE("allowed region: of a box's face, the rectangle shrunk by radius, clearance and wall")
{
    const JointProbe probe(cutProject(mesh::box({0, 0, 0}, {200, 80, 60}), {mesh::planeAt({1, 0, 0}, 100)}));
    const double need = needOf(8);
    const mesh::Region region = allowedRegion(probe, {dowel(8, 12)}, 0).value();
    REQUIRE(region.size() == 1);
    const Extent e = extentOf(region), face = extentOf(probe.project().seams[0].region);
    CHECK(e.low.x == Approx(face.low.x + need).margin(0.05));
    CHECK(e.low.y == Approx(face.low.y + need).margin(0.05));
    CHECK(e.high.x == Approx(face.high.x - need).margin(0.05));
    CHECK(e.high.y == Approx(face.high.y - need).margin(0.05));
    CHECK(mesh::area(region) == Approx((80 - 2 * need) * (60 - 2 * need)).epsilon(0.005));
    requireAgrees(probe, {dowel(8, 12)}, region);
    // So deep that the far end is too near: nowhere. 100 - 93.1 - 0.5 = 6.4 of the 6.8 mm needed.
    CHECK(allowedRegion(probe, {dowel(8, 93.1)}, 0).value().empty());
    CHECK_FALSE(allowedRegion(probe, {dowel(8, 92.5)}, 0).value().empty());
    CHECK(allowedRegion(probe, {dowel(60, 20)}, 0).value().empty());
}

TEST_CASE("allowed region: another dowel leaves a hole round it")
{
    const JointProbe probe(cutProject(mesh::box({0, 0, 0}, {200, 80, 60}), {mesh::planeAt({1, 0, 0}, 100)}));
    const Vec2 middle = mesh::frameOf(probe.project().plan.nodes[0].plane).flat({100, 40, 30});
    const std::vector<Joint> joints{dowel(8, 12), dowel(10, 15, 0, middle)};
    const mesh::Region region = allowedRegion(probe, joints, 0).value();
    REQUIRE(region.size() == 2);
    // Both bores with one wall between: a circle of 4.4 + 5.4 + 2.4 mm.
    const double need = needOf(8), apart = 4.4 + 5.4 + 2.4;
    CHECK(mesh::area(region) == Approx((80 - 2 * need) * (60 - 2 * need) - M_PI * apart * apart).epsilon(0.005));
    for (const mesh::Loop& loop : region)
        if (mesh::signedArea(loop) < 0)
            for (const Vec2 p : loop)
                CHECK(mesh::length(p - middle) == Approx(apart).margin(0.06));
    requireAgrees(probe, joints, region);
}

TEST_CASE("allowed region: an oblique wall shrinks it by its slope over the whole depth")
{
    // A wedge whose side y = 60 + 0.5 (x - 100) comes in below the cut at x = 100: at depth d the wall stands 0.5 d
    // further in, and a distance of `need` square to it is need * sqrt(1 + 0.25) along y.
    mesh::Mesh wedge = mesh::box({0, 0, 0}, {200, 60, 60});
    for (Vec3& p : wedge.points)
        if (p.y > 1)
            p.y = 60 + 0.5 * (p.x - 100);
    const JointProbe probe(cutProject(wedge, {mesh::planeAt({1, 0, 0}, 100)}));
    const mesh::PlaneFrame frame = mesh::frameOf(probe.project().plan.nodes[0].plane);
    const double need = needOf(6), depth = 9 + 0.5;
    const mesh::Region region = allowedRegion(probe, {dowel(6, 9)}, 0).value();
    double most = -1e300, least = 1e300;
    for (const Vec2 p : region.at(0)) {
        most = std::max(most, frame.space(p).y);
        least = std::min(least, frame.space(p).y);
    }
    CHECK(most == Approx(60 - 0.5 * depth - need * std::sqrt(1.25)).margin(0.06));
    CHECK(least == Approx(need).margin(0.05));
    requireAgrees(probe, {dowel(6, 9)}, region);
}

TEST_CASE("allowed region: a cone shrinks it all round by the slope of its wall")
{
    // Radius 40 at the cut, losing 0.4 mm a mm of height: the axis keeps need * sqrt(1 + 0.16) from where the wall
    // stands at the bore's end.
    mesh::Mesh cone = mesh::cylinder(1, 120, 256);
    const mesh::Box3 box = mesh::bounds(cone);
    for (Vec3& p : cone.points) {
        const double h = p.z - box.centre().z, r = 40 - 0.4 * h;
        p = {r * p.x, r * p.y, h};
    }
    const JointProbe probe(cutProject(cone, {mesh::planeAt({0, 0, 1}, 0)}));
    const mesh::Region region = allowedRegion(probe, {dowel(10, 15)}, 0).value();
    const double radius = 40 - 0.4 * 15.5 - needOf(10) * std::sqrt(1.16);
    REQUIRE(region.size() == 1);
    for (const Vec2 p : region[0]) {
        CHECK(mesh::length(p) <= radius + 0.01);
        CHECK(mesh::length(p) >= radius - 0.06); // the polygon's sides stand in by 0.003 mm
    }
    requireAgrees(probe, {dowel(10, 15)}, region);
}

TEST_CASE("allowed region: a cavity below the face is kept clear of")
{
    // A ball of 12 mm radius, 16 mm below the face: nothing of it shows on the face.
    mesh::Mesh hollow = mesh::icosphere(12, 4);
    for (mesh::Triangle& t : hollow.triangles)
        std::swap(t[1], t[2]);
    const mesh::Mesh part = mesh::joined(mesh::box({-60, -40, -60}, {60, 40, 60}),
                                         mesh::transformed(hollow, mesh::Transform::translation({0, 0, -28})));
    const JointProbe probe(cutProject(part, {mesh::planeAt({0, 0, 1}, 0)}));
    const double need = needOf(8);
    const mesh::Region shallow = allowedRegion(probe, {dowel(8, 8.5)}, 0).value(); // ends 9 mm deep, 7 above the ball
    CHECK(shallow.size() == 1);
    const mesh::Region deep = allowedRegion(probe, {dowel(8, 12)}, 0).value(); // 12.5 deep: 15.5 above its middle
    REQUIRE(deep.size() == 2);
    const double hole = std::sqrt((12 + need) * (12 + need) - 15.5 * 15.5);
    for (const mesh::Loop& loop : deep)
        if (mesh::signedArea(loop) < 0)
            for (const Vec2 p : loop)
                CHECK(mesh::length(p) == Approx(hole).margin(0.1));
    requireAgrees(probe, {dowel(8, 12)}, deep);
}

TEST_CASE("allowed region: can be cancelled")
{
    const JointProbe probe(cutProject(mesh::box({0, 0, 0}, {200, 80, 60}), {mesh::planeAt({1, 0, 0}, 100)}));
    Context context;
    context.cancel();
    const auto region = allowedRegion(probe, {dowel(8, 12)}, 0, context);
    REQUIRE_FALSE(region.ok());
    CHECK(region.problem().reason == Reason::Cancelled);
}

TEST_CASE("joint probe: says so when it is ready, and answers deeper questions with deeper trees")
{
    const JointProbe probe(cutProject(mesh::box({0, 0, 0}, {900, 80, 60}), {mesh::planeAt({1, 0, 0}, 450)}));
    const Vec2 middle = mesh::frameOf(probe.project().plan.nodes[0].plane).flat({450, 40, 30});
    CHECK_FALSE(probe.ready(dowel(8, 12)));
    probe.warmUp(dowel(8, 12));
    CHECK(probe.ready(dowel(8, 12)));
    CHECK(probe.ready(dowel(30, 45)));
    CHECK_FALSE(probe.ready(dowel(8, 400)));
    CHECK_FALSE(probe.fault({dowel(8, 400, 0, middle)}, 0).has_value());
    const auto through = probe.fault({dowel(8, 455, 0, middle)}, 0);
    REQUIRE(through.has_value());
    CHECK(through->impossible);
}

TEST_CASE("joint probe: the number on the face counts when it is said to stay")
{
    const JointProbe probe(cutProject(mesh::box({0, 0, 0}, {200, 80, 60}), {mesh::planeAt({1, 0, 0}, 100)}));
    const Vec2 middle = mesh::frameOf(probe.project().plan.nodes[0].plane).flat({100, 40, 30});
    Mark mark{0, middle, 0, 8, 1, 0.6, "1-2 A", "2-1 A"};
    const std::vector<Joint> joints{dowel(8, 12, 0, middle + Vec2{0, 5})};
    CHECK_FALSE(probe.fault(joints, 0).has_value());
    const auto fault = probe.fault(joints, 0, {mark});
    REQUIRE(fault.has_value());
    CHECK(fault->text.find("too near to the number") != std::string::npos);
    CHECK_FALSE(probe.fault({dowel(8, 12, 0, middle + Vec2{0, 14})}, 0, {mark}).has_value());
}

TEST_CASE("joint probe: answers within a hundredth of a second on a fine surface")
{
    // 330 thousand triangles; the limit is ten times what it takes, so that a busy machine passes.
    const JointProbe probe(cutProject(mesh::icosphere(150, 7), {mesh::planeAt({0.3, 0.2, 1}, 12)}));
    probe.warmUp(dowel(16, 24));
    const Extent e = extentOf(probe.project().seams[0].region);
    const auto start = std::chrono::steady_clock::now();
    constexpr int asked = 100;
    int faults = 0;
    for (int i = 0; i < asked; ++i) {
        const double t = double(i) / asked;
        faults += probe.fault({dowel(16, 24, 0, {e.low.x + t * (e.high.x - e.low.x), 0.5 * (e.low.y + e.high.y)})}, 0)
                      .has_value();
    }
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
    INFO(took.count() / asked << " ms each");
    CHECK(faults > 5);
    CHECK(faults < asked);
    CHECK(took.count() / asked < 10);
}

TEST_CASE("level outline: a ring and a small island apart")
{
    const auto ring = [](Vec2 p) {
        return std::max(4 - std::abs(mesh::length(p) - 20), 1.5 - mesh::length(p - Vec2{3, 2}));
    };
    const mesh::Region region = levelOutline(ring, {-30, -30}, {30, 30}, 1).value();
    REQUIRE(region.size() == 3);
    CHECK(mesh::area(region) == Approx(M_PI * (24 * 24 - 16 * 16 + 1.5 * 1.5)).epsilon(2e-3));
    for (const mesh::Loop& loop : region)
        for (const Vec2 p : loop) {
            CHECK(ring(p) >= 0);
            CHECK(ring(p) <= 0.02);
        }
    CHECK(levelOutline([](Vec2) { return -1.0; }, {-30, -30}, {30, 30}, 1).value().empty());
}
