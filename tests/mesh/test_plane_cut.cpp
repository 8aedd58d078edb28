// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"
#include "mesh/tolerance.h"
#include "mesh/topology.h"

#include <catch2/catch.hpp>

#include <random>
#include <set>

using namespace quoin::mesh;

namespace {

Mesh moved(const Mesh& m, Vec3 by)
{
    return transformed(m, Transform::translation(by));
}

/// The laws of a cut (shared design): both halves closed, oriented and manifold; volumes add up; every point on its
/// own side; the caps mirror each other triangle for triangle.
void requireLaws(const Mesh& whole, const Plane& plane, const CutHalves& halves)
{
    for (const Mesh* half : {&halves.below, &halves.above}) {
        const Topology t = topologyOf(*half);
        INFO("open " << t.openEdges << " flipped " << t.flippedEdges << " nm edges " << t.nonManifoldEdges
                     << " nm vertices " << t.nonManifoldVertices);
        REQUIRE(t.openEdges == 0);
        REQUIRE(t.flippedEdges == 0);
        REQUIRE(t.nonManifoldEdges == 0);
        std::set<Index> used;
        for (const Triangle& tri : half->triangles)
            used.insert(tri.begin(), tri.end());
        REQUIRE(used.size() == half->points.size());
        REQUIRE(half->labels.size() == half->triangles.size());
    }
    const double v = volume(whole);
    REQUIRE(volume(halves.below) + volume(halves.above) ==
            Approx(v).epsilon(0).margin(tolerance::cutVolumeRelative * std::abs(v)));
    const double slack = 1e-11 * (length(bounds(whole).extents()) + length(bounds(whole).centre()));
    for (const Vec3 p : halves.below.points)
        REQUIRE(plane.distance(p) <= slack);
    for (const Vec3 p : halves.above.points)
        REQUIRE(plane.distance(p) >= -slack);
    const std::size_t cap = halves.below.triangles.size() - halves.belowCap;
    REQUIRE(cap == halves.above.triangles.size() - halves.aboveCap);
    for (std::size_t i = 0; i < cap; ++i) {
        const std::size_t b = halves.belowCap + i, a = halves.aboveCap + i;
        REQUIRE(halves.below.corner(b, 0) == halves.above.corner(a, 0));
        REQUIRE(halves.below.corner(b, 1) == halves.above.corner(a, 2));
        REQUIRE(halves.below.corner(b, 2) == halves.above.corner(a, 1));
        REQUIRE(halves.below.label(b) == 1);
    }
}

CutHalves cutLawfully(const Mesh& mesh, const Plane& plane, int threads = 0)
{
    CutOptions options;
    options.threads = threads;
    auto halves = cutByPlane(mesh, plane, options);
    INFO((halves ? "" : halves.problem().sentence()));
    REQUIRE(halves.ok());
    requireLaws(mesh, plane, *halves);
    return std::move(*halves);
}

double capArea(const Mesh& half, std::size_t from)
{
    double sum = 0;
    for (std::size_t i = from; i < half.triangles.size(); ++i)
        sum += triangleArea(half, i);
    return sum;
}

/// A sphere with bumps: star-shaped, so never self-intersecting.
Mesh bumpy(int levels, unsigned seed, double depth = 0.3)
{
    Mesh m = icosphere(1, levels);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> u(-1, 1);
    std::vector<Vec3> waves;
    for (int i = 0; i < 6; ++i)
        waves.push_back(6 * Vec3{u(random), u(random), u(random)});
    for (Vec3& p : m.points) {
        double r = 1;
        for (const Vec3 w : waves)
            r += depth / 6 * std::sin(dot(w, p) * 2);
        p = (50 * r + 0.01 * u(random)) * p;
    }
    return m;
}

/// A torus on the integer lattice: blocks with many vertices, edges and faces on lattice planes.
Mesh latticeRing()
{
    // A square ring of 3 x 3 x 1 unit blocks without the middle one, as a surface of unit squares.
    const auto solid = [](int x, int y, int z) {
        return z == 0 && x >= 0 && x < 3 && y >= 0 && y < 3 && !(x == 1 && y == 1);
    };
    Mesh m;
    const auto quad = [&](Vec3 a, Vec3 b, Vec3 c, Vec3 d) {
        const auto n = static_cast<Index>(m.points.size());
        for (const Vec3 p : {a, b, c, d})
            m.points.push_back(p);
        m.triangles.push_back({n, n + 1, n + 2});
        m.triangles.push_back({n, n + 2, n + 3});
    };
    for (int x = 0; x < 3; ++x)
        for (int y = 0; y < 3; ++y) {
            if (!solid(x, y, 0))
                continue;
            const Vec3 o{double(x), double(y), 0};
            const Vec3 i{1, 0, 0}, j{0, 1, 0}, k{0, 0, 1};
            quad(o, o + j, o + i + j, o + i);
            quad(o + k, o + k + i, o + k + i + j, o + k + j);
            if (!solid(x - 1, y, 0))
                quad(o, o + k, o + k + j, o + j);
            if (!solid(x + 1, y, 0))
                quad(o + i, o + i + j, o + i + j + k, o + i + k);
            if (!solid(x, y - 1, 0))
                quad(o, o + i, o + i + k, o + k);
            if (!solid(x, y + 1, 0))
                quad(o + j, o + j + k, o + j + k + i, o + j + i);
        }
    return welded(m);
}

} // namespace

TEST_CASE("plane cut: a box through its middle gives two boxes")
{
    const Mesh m = box({0, 0, 0}, {2, 3, 4});
    const CutHalves h = cutLawfully(m, planeAt({0, 0, 1}, 1));
    CHECK(volume(h.below) == Approx(6).epsilon(1e-12));
    CHECK(volume(h.above) == Approx(18).epsilon(1e-12));
    CHECK(capArea(h.below, h.belowCap) == Approx(6).epsilon(1e-12));
}

TEST_CASE("plane cut: an oblique plane cuts the hexagon out of a cube")
{
    // The plane through the centre square to a space diagonal meets a unit cube in a regular hexagon with sides
    // sqrt(2)/2 (closed form): area 3 sqrt(3)/4.
    const Mesh m = box({0, 0, 0}, {1, 1, 1});
    const CutHalves h = cutLawfully(m, planeThrough({0.5, 0.5, 0.5}, {1, 1, 1}));
    CHECK(volume(h.below) == Approx(0.5).epsilon(1e-12));
    CHECK(capArea(h.below, h.belowCap) == Approx(3 * std::sqrt(3.0) / 4).epsilon(1e-12));
}

TEST_CASE("plane cut: the plane lies in a face")
{
    const Mesh m = box({0, 0, 0}, {1, 1, 1});
    for (const Vec3 axis : {Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0, 1}, Vec3{0, 0, -1}}) {
        for (const double at : {0.0, 1.0}) {
            const double offset = axis.z < 0 ? -at : at;
            const CutHalves h = cutLawfully(m, planeAt(axis, offset));
            CHECK(h.below.empty() != h.above.empty());
            CHECK(capArea(h.below, h.belowCap) == 0);
        }
    }
}

TEST_CASE("plane cut: the plane misses the model")
{
    const Mesh m = box({0, 0, 0}, {1, 1, 1});
    const CutHalves under = cutLawfully(m, planeAt({0, 0, 1}, 5));
    CHECK(under.above.empty());
    CHECK(under.below.triangles.size() == m.triangles.size());
    const CutHalves over = cutLawfully(m, planeAt({0, 0, 1}, -5));
    CHECK(over.below.empty());
}

TEST_CASE("plane cut: a body that only touches the plane leaves no point behind on the other side")
{
    const Mesh crossed = box({0, 0, -1}, {1, 1, 1});
    for (const double turn : {0.0, M_PI}) {
        // A box standing on one corner, or hanging from it, beside one that is cut through.
        Mesh corner = transformed(box({0, 0, 0}, {1, 1, 1}), Transform::turning({1, 1, 1}, {0, 0, 1}));
        for (Vec3& p : corner.points)
            if (std::abs(p.z) < 1e-12)
                p.z = 0;
        corner = moved(transformed(corner, Transform::rotation({1, 0, 0}, turn)), {5, 0, 0});
        for (Vec3& p : corner.points)
            if (std::abs(p.z) < 1e-12)
                p.z = 0;
        const CutHalves h = cutLawfully(joined(crossed, corner), planeAt({0, 0, 1}, 0));
        CHECK(volume(h.below) + volume(h.above) == Approx(3));
        CHECK(std::min(h.below.points.size(), h.above.points.size()) ==
              12); // 4 corners, 4 edges, 4 diagonals of the box
    }
}

TEST_CASE("plane cut: the plane passes between two bodies")
{
    const Mesh m = joined(box({0, 0, 0}, {1, 1, 1}), box({0, 0, 3}, {1, 1, 4}));
    const CutHalves h = cutLawfully(m, planeAt({0, 0, 1}, 2));
    CHECK(volume(h.below) == Approx(1));
    CHECK(volume(h.above) == Approx(1));
    CHECK(sectionByPlane(m, planeAt({0, 0, 1}, 2))->empty());
}

TEST_CASE("plane cut: the plane touches a vertex or an edge")
{
    const Mesh m = box({0, 0, 0}, {1, 1, 1});
    const CutHalves vertex = cutLawfully(m, planeThrough({1, 1, 1}, {1, 1, 1}));
    CHECK(vertex.above.empty());
    const CutHalves edge = cutLawfully(m, planeThrough({1, 1, 0}, {1, 1, 0}));
    CHECK(edge.above.empty());
}

TEST_CASE("plane cut: the plane goes through vertices and along edges")
{
    const Mesh m = box({0, 0, 0}, {1, 1, 1});
    const CutHalves diagonal = cutLawfully(m, planeThrough({0, 0, 0}, {1, -1, 0}));
    CHECK(volume(diagonal.below) == Approx(0.5).epsilon(1e-12));
    CHECK(capArea(diagonal.below, diagonal.belowCap) == Approx(std::sqrt(2.0)).epsilon(1e-12));
    // Through 1024 and more vertices of a sphere: they become the rim.
    const Mesh ball = icosphere(75, 5);
    const CutHalves h = cutLawfully(ball, planeAt({0, 0, 1}, 0));
    CHECK(volume(h.below) == Approx(volume(ball) / 2).epsilon(1e-9));
}

TEST_CASE("plane cut: a lattice ring through, along and between its lattice planes")
{
    const Mesh m = latticeRing();
    REQUIRE(volume(m) == Approx(8));
    for (int axis = 0; axis < 3; ++axis)
        for (int twice = -1; twice <= 7; ++twice) {
            const Vec3 n = axis == 0 ? Vec3{1, 0, 0} : axis == 1 ? Vec3{0, 1, 0} : Vec3{0, 0, 1};
            INFO("axis " << axis << " at " << twice * 0.5);
            cutLawfully(m, planeAt(n, twice * 0.5));
        }
    // Coplanar faces on both sides of the plane at once: x = 1 has the wall of the hole and the blocks beside it.
    const CutHalves h = cutLawfully(m, planeAt({1, 0, 0}, 1));
    CHECK(volume(h.below) == Approx(3));
    CHECK(capArea(h.below, h.belowCap) == Approx(2));
    // Diagonals through many lattice points.
    for (const Vec3 n : {Vec3{1, 1, 0}, Vec3{1, -1, 0}, Vec3{1, 2, 0}, Vec3{1, 1, 1}, Vec3{-3, 1, 2}})
        for (int k = -3; k <= 9; ++k)
            cutLawfully(m, planeThrough({k / 3.0, 0, 0}, n));
}

TEST_CASE("plane cut: a half that only touches itself along an edge is parted there")
{
    // x + y = 2 through the inner corner (1, 1) of the ring: above it the two arms meet in that edge alone.
    const Mesh m = latticeRing();
    const CutHalves h = cutLawfully(m, planeThrough({1, 1, 0}, {1, 1, 0}));
    const Topology t = topologyOf(h.above);
    CHECK(t.solid());
    CHECK(volume(h.above) == Approx(6));
}

TEST_CASE("plane cut: a torus gives islands and holes")
{
    // Across the axis: a ring-shaped section of area pi ((R+r)^2 - (R-r)^2) in the limit; along the axis: two discs.
    const Mesh m = torus(30, 10, 64, 32);
    const CutHalves level = cutLawfully(m, planeAt({0, 0, 1}, 0));
    CHECK(capArea(level.below, level.belowCap) == Approx(M_PI * (1600 - 400)).epsilon(0.01));
    const CutHalves upright = cutLawfully(m, planeAt({1, 0, 0}, 0.123));
    CHECK(capArea(upright.below, upright.belowCap) == Approx(2 * M_PI * 100).epsilon(0.03));
    const auto region = sectionByPlane(m, planeAt({0, 0, 1}, 0));
    REQUIRE(region.ok());
    CHECK(region->size() == 2);
    CHECK(area(*region) == Approx(capArea(level.below, level.belowCap)).epsilon(1e-12));
}

TEST_CASE("plane cut: a cavity stays a hole in the cap")
{
    Mesh hollow = box({0, 0, 0}, {4, 4, 4});
    Mesh inner = box({1, 1, 1}, {3, 3, 3});
    for (Triangle& t : inner.triangles)
        std::swap(t[1], t[2]);
    hollow = joined(hollow, inner);
    const CutHalves h = cutLawfully(hollow, planeAt({0, 0, 1}, 2));
    CHECK(capArea(h.below, h.belowCap) == Approx(12).epsilon(1e-12));
}

TEST_CASE("plane cut: random planes through random bumpy bodies")
{
    std::mt19937 random(7);
    std::uniform_real_distribution<double> u(-1, 1);
    for (unsigned seed = 1; seed <= 12; ++seed) {
        const Mesh m = bumpy(3 + static_cast<int>(seed % 2), seed);
        for (int k = 0; k < 8; ++k) {
            const Plane plane = planeAt({u(random), u(random), u(random)}, 50 * u(random));
            const CutHalves h = cutLawfully(m, plane);
            // Halves cut again stay lawful: caps are cut, labels carried on.
            if (!h.below.empty()) {
                CutOptions second;
                second.label = 2;
                const auto again =
                    cutByPlane(h.below, planeAt({u(random), u(random), u(random)}, 10 * u(random)), second);
                REQUIRE(again.ok());
                CHECK(topologyOf(again->below).solid());
                CHECK(topologyOf(again->above).solid());
            }
        }
    }
}

TEST_CASE("plane cut: degenerate planes: through three vertices of the model")
{
    std::mt19937 random(11);
    for (unsigned seed = 1; seed <= 6; ++seed) {
        const Mesh m = bumpy(3, seed);
        for (int k = 0; k < 20; ++k) {
            const auto pick = [&] { return m.points[random() % m.points.size()]; };
            const Vec3 a = pick(), b = pick(), c = pick();
            const Vec3 n = cross(b - a, c - a);
            if (length(n) > 1)
                cutLawfully(m, planeThrough(a, n));
        }
        // Along a face: three corners of one triangle.
        for (std::size_t t = 0; t < m.triangles.size(); t += 37) {
            const Vec3 a = m.corner(t, 0);
            cutLawfully(m, planeThrough(a, cross(m.corner(t, 1) - a, m.corner(t, 2) - a)));
        }
    }
}

TEST_CASE("plane cut: nearly through vertices, at distances down to the last bit")
{
    const Mesh ball = icosphere(1000, 3);
    for (double d = 1e-3; d > 1e-14; d /= 10)
        for (const double sign : {1.0, -1.0})
            cutLawfully(ball, planeAt({0, 0, 1}, sign * d));
    const Mesh tilted = transformed(ball, Transform::rotation({1, 2, 3}, 0.7));
    const Vec3 n = Transform::rotation({1, 2, 3}, 0.7).direction({0, 0, 1});
    for (double d = 1e-3; d > 1e-14; d /= 10)
        cutLawfully(tilted, planeAt(n, d));
}

TEST_CASE("plane cut: a corner cut off so near its tip that the new points round to one spot")
{
    // Found by random planes through corners: the tip is smaller than the spacing of doubles there, yet both halves
    // must close.
    const Transform turn = Transform::rotation({1, 2, 3}, 0.7) * Transform::translation({100, 200, 300});
    const Mesh m = transformed(box({-60, -40, -30}, {60, 40, 30}), turn);
    std::mt19937 random(3);
    std::uniform_real_distribution<double> u(-1, 1);
    for (int k = 0; k < 400; ++k) {
        const Vec3 corner = m.points[random() % m.points.size()];
        const auto h = cutByPlane(m, planeThrough(corner, {u(random), u(random), u(random)}));
        REQUIRE(h.ok());
        REQUIRE(topologyOf(h->below).openEdges == 0);
        REQUIRE(topologyOf(h->above).openEdges == 0);
        REQUIRE(topologyOf(h->below).flippedEdges == 0);
        REQUIRE(topologyOf(h->above).flippedEdges == 0);
    }
}

TEST_CASE("plane cut: one thread and two give the same triangles")
{
    const Mesh m = bumpy(6, 3);
    const Plane plane = planeAt({0.31, 0.83, 0.47}, 1.2345);
    const CutHalves one = cutLawfully(m, plane, 1), two = cutLawfully(m, plane, 2);
    CHECK(one.below.triangles == two.below.triangles);
    CHECK(one.above.triangles == two.above.triangles);
    CHECK(one.below.points == two.below.points);
}

TEST_CASE("plane cut: labels of earlier cuts are carried over")
{
    const Mesh m = box({0, 0, 0}, {2, 2, 2});
    const auto first = cutByPlane(m, planeAt({0, 0, 1}, 1), {1, true, 0});
    REQUIRE(first.ok());
    const auto second = cutByPlane(first->below, planeAt({1, 0, 0}, 1), {2, true, 0});
    REQUIRE(second.ok());
    std::array<double, 3> byLabel{};
    for (std::size_t i = 0; i < second->below.triangles.size(); ++i)
        byLabel[second->below.label(i)] += triangleArea(second->below, i);
    CHECK(byLabel[1] == Approx(2));
    CHECK(byLabel[2] == Approx(2));
    CHECK(byLabel[0] == Approx(1 * 2 + 1 * 2 + 1 + 1));
}

TEST_CASE("plane cut: an inside-out or self-intersecting body is refused with a place")
{
    Mesh m = box({0, 0, 0}, {1, 1, 1});
    for (Triangle& t : m.triangles)
        std::swap(t[1], t[2]);
    const auto inside = cutByPlane(m, planeAt({0, 0, 1}, 0.5));
    REQUIRE_FALSE(inside.ok());
    CHECK(inside.problem().reason == quoin::Reason::CutFailed);
    CHECK(inside.problem().place.find("mm") != std::string::npos);
    const Mesh twice = joined(box({0, 0, 0}, {2, 2, 2}), moved(box({0, 0, 0}, {2, 2, 2}), {1, 1, 0.5}));
    CHECK_FALSE(cutByPlane(twice, planeAt({0, 0, 1}, 1)).ok());
}

TEST_CASE("plane cut: bodies that touch along an edge stay closed")
{
    // Two boxes that share an edge geometrically, with points of their own: the section is two squares that touch in
    // a corner. Each keeps its own points.
    const Mesh m = joined(box({0, 0, 0}, {1, 1, 1}), box({1, 1, 0}, {2, 2, 1}));
    const CutHalves h = cutLawfully(m, planeAt({0, 0, 1}, 0.5));
    CHECK(volume(h.below) == Approx(1));
}
