// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/section_forces.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <numbers>

using namespace quoin;
using namespace quoin::core;
using mesh::Loop;
using mesh::Region;
using mesh::Vec2;
using mesh::Vec3;
using std::numbers::pi;

namespace {

Loop polygon(double radius, int sides)
{
    Loop loop;
    for (int i = 0; i < sides; ++i)
        loop.push_back({radius * std::cos(2 * pi * i / sides), radius * std::sin(2 * pi * i / sides)});
    return loop;
}

Region rectangle(double width, double height)
{
    return {{{0, 0}, {width, 0}, {width, height}, {0, height}}};
}

const Region ell{{{0, 0}, {4, 0}, {4, 1}, {1, 1}, {1, 3}, {0, 3}}};

Region movedBy(Region region, Vec2 by)
{
    for (Loop& loop : region)
        for (Vec2& p : loop)
            p = p + by;
    return region;
}

} // namespace

// Closed forms, recomputed exactly (integrals by hand).
TEST_CASE("section: rectangle, triangle and L have their textbook values")
{
    const SectionProperties r = sectionProperties(rectangle(30, 50));
    CHECK(r.areaMm2 == Approx(1500));
    CHECK(r.centroid.x == Approx(15));
    CHECK(r.centroid.y == Approx(25));
    CHECK(r.iuMm4 == Approx(312500));
    CHECK(r.ivMm4 == Approx(112500));
    CHECK(r.iuvMm4 == Approx(0).margin(1e-6));
    CHECK(r.principalAngle == Approx(0).margin(1e-9));

    const SectionProperties t = sectionProperties({{{0, 0}, {6, 0}, {0, 9}}});
    CHECK(t.areaMm2 == Approx(27));
    CHECK(t.centroid.x == Approx(2));
    CHECK(t.centroid.y == Approx(3));
    CHECK(t.iuMm4 == Approx(121.5));
    CHECK(t.ivMm4 == Approx(54));
    CHECK(t.iuvMm4 == Approx(-40.5));

    const SectionProperties l = sectionProperties(ell);
    CHECK(l.areaMm2 == Approx(6));
    CHECK(l.iuMm4 == Approx(4));
    CHECK(l.ivMm4 == Approx(8.5));
    CHECK(l.iuvMm4 == Approx(-3));
    CHECK(l.principalMaxMm4 == Approx(10));
    CHECK(l.principalMinMm4 == Approx(2.5));
    CHECK(l.principalAngle == Approx(std::atan(2.0)));
    CHECK(l.aboutMm4(l.principalAngle) == Approx(10));
}

TEST_CASE("section: far from the origin the second moments keep their digits")
{
    const SectionProperties l = sectionProperties(movedBy(ell, {4000, -7000}));
    CHECK(l.iuMm4 == Approx(4).epsilon(1e-9));
    CHECK(l.iuvMm4 == Approx(-3).epsilon(1e-9));
}

TEST_CASE("section: polygons, tube and nothing")
{
    const double expected[] = {5412.659, 7165.064, 7828.785}; // regular polygons, R = 10
    const int sides[] = {6, 12, 64};
    for (int i = 0; i < 3; ++i)
        CHECK(sectionProperties({polygon(10, sides[i])}).iuMm4 == Approx(expected[i]).epsilon(1e-6));

    Loop hole = polygon(10, 720);
    std::reverse(hole.begin(), hole.end());
    const Region tube{polygon(15, 720), hole};
    const SectionProperties s = sectionProperties(tube); // tube 30/20: pi/64 (d^4 - di^4), W = I / 15
    CHECK(s.areaMm2 == Approx(392.699).epsilon(1e-4));
    CHECK(s.iuMm4 == Approx(31906.80).epsilon(1e-4));
    CHECK(s.polarMm4() == Approx(63813.60).epsilon(1e-4));
    CHECK(sectionModulusMm3(tube, s, 0) == Approx(2127.12).epsilon(1e-4));
    CHECK(largestCircleMm(tube) == Approx(5).epsilon(0.02));

    CHECK(sectionProperties({}).areaMm2 == 0);
    CHECK(sectionProperties({{}}).areaMm2 == 0);
    CHECK(largestCircleMm({}) == 0);
    CHECK(torsionModulusMm3({}, {}) == 0);
}

// Torsion of prismatic bars: square 0.208 a^3, thin strip b t^2 / 3, circle pi d^3 / 16 (Roark, table 10.1).
TEST_CASE("section: the torsion modulus is never above the exact one, nor idly low")
{
    const auto modulus = [](const Region& r) { return torsionModulusMm3(r, sectionProperties(r)); };
    const double square = modulus(rectangle(10, 10)) / 208.2, strip = modulus(rectangle(200, 2)) / (200 * 4 / 3.0);
    const double circle = modulus({polygon(10, 360)}) / (pi * 8000 / 16);
    CHECK(square < 1);
    CHECK(square > 0.7);
    CHECK(strip < 1);
    CHECK(strip > 0.85);
    CHECK(circle < 1);
    CHECK(circle > 0.49);
}

// A cantilever of 20 x 30, L = 200: F L / W = 3.33333 MPa at F = 50 N (Roark, table 8.1).
TEST_CASE("forces: a cantilever pulls its upper edge, whichever side of the plane it is on")
{
    for (const bool above : {true, false}) {
        // The beam runs along x from the cut at x = 0, 30 high in z.
        const mesh::PlaneFrame frame = mesh::frameOf(mesh::planeAt({1, 0, 0}, 0));
        Region region;
        Loop loop;
        for (const Vec3 p : {Vec3{0, -10, -15}, Vec3{0, 10, -15}, Vec3{0, 10, 15}, Vec3{0, -10, 15}})
            loop.push_back(frame.flat(p));
        if (mesh::signedArea(loop) < 0)
            std::reverse(loop.begin(), loop.end());
        region.push_back(loop);
        const SectionProperties s = sectionProperties(region);
        const double out = above ? 200 : -200;
        const SectionForces f = sectionForces(frame, above, s.centroid, {{{out, 0, 0}, {0, 0, -50}}});
        CHECK(f.axialN == Approx(0).margin(1e-9));
        CHECK(length(f.shearN) == Approx(50));
        CHECK(length(f.bendingNmm) == Approx(10000));
        CHECK(stressAt(s, f, frame.flat({0, 0, 15})) == Approx(3.33333).epsilon(1e-5));
        CHECK(stressAt(s, f, frame.flat({0, 0, -15})) == Approx(-3.33333).epsilon(1e-5));
        CHECK(peakTension(region, s, f) == Approx(3.33333).epsilon(1e-5));

        // A pull outwards is tension; on one side of the axis it bends as well.
        const double pull = above ? 100 : -100;
        const SectionForces n = sectionForces(frame, above, s.centroid, {{{out, 0, 10}, {pull, 0, 0}}});
        CHECK(n.axialN == Approx(100));
        CHECK(stressAt(s, n, frame.flat({0, 0, 15})) == Approx(100.0 / 600 + 1000.0 / 3000));
        CHECK(peakTension(region, s, n) == Approx(100.0 / 600 + 1000.0 / 3000));
        CHECK(peakPressure(region, s, n) == Approx(1000.0 / 3000 - 100.0 / 600));
    }
}

TEST_CASE("forces: moments about another point are those of the same loads")
{
    const mesh::PlaneFrame frame = mesh::frameOf(mesh::planeAt({1, 2, 3}, 17));
    const std::vector<PointLoad> loads{{{100, -20, 5}, {3, -8, 11}}, {{7, 60, -90}, {-2, 5, 1}}};
    for (const bool above : {true, false}) {
        const SectionForces there = sectionForces(frame, above, {12, -30}, loads);
        const SectionForces moved = sectionForces(frame, above, {0, 0}, loads).movedTo({12, -30});
        CHECK(moved.axialN == Approx(there.axialN));
        CHECK(moved.bendingNmm.x == Approx(there.bendingNmm.x));
        CHECK(moved.bendingNmm.y == Approx(there.bendingNmm.y));
        CHECK(moved.torsionNmm == Approx(there.torsionNmm));
    }
}

// Unsymmetrical bending: over the section the stress must add up to the forces again. The triangle's own midpoints
// integrate a product of two linear functions exactly (Strang and Fix 1973).
TEST_CASE("forces: the stress over an L section balances its forces")
{
    SectionForces f;
    f.axialN = 70;
    f.bendingNmm = {40, -25};
    const SectionProperties s = sectionProperties(ell);
    f.about = s.centroid;
    double n = 0, mu = 0, mv = 0;
    const Vec2 tri[][3] = {
        {{0, 0}, {4, 0}, {4, 1}}, {{0, 0}, {4, 1}, {0, 1}}, {{0, 1}, {1, 1}, {1, 3}}, {{0, 1}, {1, 3}, {0, 3}}};
    for (const auto& t : tri) {
        const double area = cross(t[1] - t[0], t[2] - t[0]) / 2;
        for (int k = 0; k < 3; ++k) {
            const Vec2 p = 0.5 * (t[k] + t[(k + 1) % 3]);
            const double force = stressAt(s, f, p) * area / 3;
            n += force;
            mu += force * (p.y - s.centroid.y);
            mv -= force * (p.x - s.centroid.x);
        }
    }
    double least = 1e300;
    for (const Vec2 p : ell[0])
        least = std::min(least, stressAt(s, f, p));
    CHECK(peakPressure(ell, s, f) == Approx(-least));
    CHECK(n == Approx(70));
    CHECK(mu == Approx(40));
    CHECK(mv == Approx(-25));
}
