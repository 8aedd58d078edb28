// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/thread_facets.h"
#include "core/thread_profile.h"
#include "mesh/mass.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"
#include "thread_gap.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec2;
using mesh::Vec3;
using quoin::test::threadedShape;
using std::numbers::pi;

namespace {

/// Open edges all in z = 0, one loop over the first points in order, counter-clockwise seen from +z.
void requireOneRim(const ThreadSurface& s)
{
    const mesh::Topology topology = mesh::topologyOf(s.mesh);
    REQUIRE(topology.openEdges == s.rimPoints);
    CHECK(topology.nonManifoldEdges == 0);
    CHECK(topology.nonManifoldVertices == 0);
    CHECK(topology.flippedEdges == 0);
    CHECK(topology.degenerateTriangles == 0);
    double twiceArea = 0;
    for (std::size_t i = 0; i < s.rimPoints; ++i) {
        const Vec3 a = s.mesh.points[i], b = s.mesh.points[(i + 1) % s.rimPoints];
        REQUIRE(a.z == 0);
        twiceArea += a.x * b.y - a.y * b.x;
    }
    CHECK(twiceArea > 0);
    for (std::size_t i = s.rimPoints; i < s.mesh.points.size(); ++i)
        REQUIRE(s.mesh.points[i].z > 0);
}

/// The rim closed by a fan in z = 0: the stud as a solid, or the void of the bore turned inside out.
mesh::Mesh capped(const ThreadSurface& s, bool stud)
{
    mesh::Mesh m = s.mesh;
    const auto centre = static_cast<mesh::Index>(m.points.size());
    m.points.push_back({0, 0, 0});
    for (mesh::Index i = 0; i < s.rimPoints; ++i) {
        const auto next = static_cast<mesh::Index>((i + 1) % s.rimPoints);
        m.triangles.push_back(stud ? mesh::Triangle{next, i, centre} : mesh::Triangle{i, next, centre});
    }
    return m;
}

double along(const std::vector<Vec2>& line, double z)
{
    std::size_t i = 0;
    while (i + 2 < line.size() && z > line[i + 1].x)
        ++i;
    return line[i].y + (line[i + 1].y - line[i].y) * (z - line[i].x) / (line[i + 1].x - line[i].x);
}

/// The true surface, fillets as arcs, nothing compensated: what the mesh is held against.
struct TrueSurface {
    ThreadedShape shape;
    ThreadLayout layout;
    bool stud;
    std::vector<Vec2> envelope;

    TrueSurface(const ThreadedShape& s, bool ofStud) : shape(s), layout(threadLayout(s).value()), stud(ofStud)
    {
        envelope = stud ? studEnvelope(shape, layout) : boreEnvelope(layout);
    }
    double radius(double theta, double z) const
    {
        const double hand = shape.thread.leftHand ? -1 : 1;
        const double s = z - hand * shape.thread.leadMm() / (2 * pi) * (theta - shape.phase);
        const double offset = stud ? 0 : helicalOffsetMm(layout.dimensions, shape.clearanceMm);
        const double profile = exactProfileRadius(layout.dimensions, !stud, offset, s);
        return stud ? std::min(profile, along(envelope, z)) : std::max(profile, along(envelope, z));
    }
    /// Distance within the half-plane through the axis and p: no less than the distance in space.
    double distance(Vec3 p) const
    {
        const double theta = std::atan2(p.y, p.x), r = std::hypot(p.x, p.y);
        constexpr int steps = 50;
        const double reach = 2 * shape.chordMm;
        double least = 1e300;
        Vec2 before{0, 0};
        for (int i = -steps; i <= steps; ++i) {
            const double z = p.z + reach * i / steps;
            if (z < envelope.front().x || z > envelope.back().x)
                continue;
            const Vec2 here{radius(theta, z), z};
            if (before.x > 0) {
                const Vec2 way = here - before, to = Vec2{r, p.z} - before;
                const double t = std::clamp(dot(way, to) / dot(way, way), 0., 1.);
                least = std::min(least, length(to - t * way));
            }
            before = here;
        }
        return least;
    }
    /// Integral of r^2 / 2 over angle and height.
    double volume() const
    {
        constexpr int rows = 3000, columns = 360;
        const double low = envelope.front().x, high = envelope.back().x;
        double sum = 0;
        for (int i = 0; i < rows; ++i)
            for (int k = 0; k < columns; ++k)
                sum += std::pow(radius(2 * pi * k / columns, low + (high - low) * (i + 0.5) / rows), 2);
        double whole = sum / 2 * (high - low) / rows * 2 * pi / columns;
        if (stud) {
            const double a = layout.footRadiusMm, b = layout.neckRadiusMm;
            whole += pi / 3 * (a * a + a * b + b * b) * low;
        } else if (shape.conicalBottom)
            whole += pi / 3 * std::pow(layout.reliefRadiusMm, 3);
        return whole;
    }
};

/// Least and largest of: distance of points of the facets from the true surface, positive outside it.
struct Deviation {
    double inwardMm = 0, outwardMm = 0;
};

Deviation deviationOf(const mesh::Mesh& m, const TrueSurface& truth)
{
    Deviation d;
    constexpr double weights[][3] = {{1, 0, 0}, {.5, .5, 0}, {0, .5, .5}, {.5, 0, .5}, {1 / 3., 1 / 3., 1 / 3.}};
    const double margin = 0.01;
    for (std::size_t t = 0; t < m.triangles.size(); ++t)
        for (const auto& w : weights) {
            const Vec3 p = w[0] * m.corner(t, 0) + w[1] * m.corner(t, 1) + w[2] * m.corner(t, 2);
            // The ends have shapes of their own.
            if (p.z < truth.envelope.front().x + margin || p.z > truth.envelope.back().x - margin)
                continue;
            const double off = std::hypot(p.x, p.y) - truth.radius(std::atan2(p.y, p.x), p.z);
            // The distance is never more than what it is off along the radius.
            double& most = off > 0 ? d.outwardMm : d.inwardMm;
            if (std::abs(off) > most)
                most = std::max(most, truth.distance(p));
        }
    return d;
}

} // namespace

TEST_CASE("thread mesh: closed but for one rim, free of self-intersections")
{
    for (ThreadedShape shape : test::threadFamily()) {
        INFO(designation(shape.thread));
        for (const bool stud : {true, false}) {
            shape.conicalBottom = shape.thread.starts == 1;
            const auto made = stud ? externalThread(shape) : internalThread(shape);
            REQUIRE(made.ok());
            requireOneRim(*made);
            CHECK(mesh::selfIntersections(made->mesh, 1).empty());
            const mesh::Mesh whole = capped(*made, stud);
            CHECK(mesh::topologyOf(whole).solid());
            CHECK((mesh::volume(whole) > 0) == stud);
            CHECK(mesh::bounds(whole).max.z == (stud ? shape.lengthMm : made->layout.boreDepthMm));
        }
    }
}

TEST_CASE("thread mesh: facets stay within the chord error, the stud's inside and the bore's outside")
{
    constexpr double roundingMm = 1e-9;
    for (const char* name : {"Printable 40x6", "Printable 24x16(P4)LH", "Tr 40x7", "Tr 60x36(P9)", "Printable 8x3"})
        for (const double chord : {0.1, 0.02}) {
            INFO(name << " at " << chord);
            const ThreadedShape shape = threadedShape(name, name[0] == 'T' ? 34 : 19, 0.3, chord);
            const Deviation stud = deviationOf(externalThread(shape)->mesh, TrueSurface(shape, true));
            CHECK(stud.outwardMm <= roundingMm);
            CHECK(stud.inwardMm <= chord);
            CHECK(stud.inwardMm > 0.2 * chord);
            const Deviation bore = deviationOf(internalThread(shape)->mesh, TrueSurface(shape, false));
            CHECK(bore.outwardMm <= chord);
            CHECK(bore.outwardMm > 0.2 * chord);
        }
}

TEST_CASE("thread mesh: volumes agree with the integral over the true surface")
{
    for (const char* name : {"Printable 40x6", "Printable 24x8(P4)LH", "Tr 40x7"})
        for (const bool stud : {true, false}) {
            INFO(name << (stud ? " stud" : " bore"));
            ThreadedShape shape = threadedShape(name, 30, 0.3, 0.02);
            shape.conicalBottom = true;
            const auto made = stud ? externalThread(shape) : internalThread(shape);
            const double truth = TrueSurface(shape, stud).volume();
            const double volume = std::abs(mesh::volume(capped(*made, stud)));
            CHECK(std::abs(volume - truth) < shape.chordMm * mesh::area(made->mesh));
            CHECK(volume == Approx(truth).epsilon(0.003));
            // Far from the plain cylinders over crest and root.
            CHECK(volume < 0.97 * pi * std::pow(made->layout.mouthRadiusMm, 2) * made->layout.boreDepthMm);
        }
}

TEST_CASE("thread mesh: a crest crosses the face at the phase")
{
    for (const char* name : {"Printable 40x6", "Printable 40x6LH", "Tr 36x18(P6)LH"}) {
        const ThreadedShape shape = threadedShape(name, 40);
        const auto made = externalThread(shape).value();
        const double rate = (shape.thread.leftHand ? -1 : 1) * shape.thread.leadMm() / (2 * pi);
        int crests = 0;
        for (const Vec3 p : made.mesh.points) {
            if (std::hypot(p.x, p.y) < made.layout.dimensions.majorMm / 2 - 0.1)
                continue;
            ++crests;
            const double s = p.z - rate * (std::atan2(p.y, p.x) - shape.phase);
            CHECK(std::abs(std::remainder(s, shape.thread.pitchMm)) < made.layout.dimensions.crestFlatMm / 2 + 0.1);
        }
        CHECK(crests > 100);
    }
}

TEST_CASE("thread mesh: both threads are whole over the engaged length")
{
    const ThreadedShape shape = threadedShape("Tr 40x7", 40);
    const TrueSurface stud(shape, true), bore(shape, false);
    const ThreadLayout& l = stud.layout;
    CHECK(l.engagedLengthMm() > 3 * shape.thread.pitchMm);
    for (double z = l.engagedFromMm + 0.01; z < l.engagedToMm; z += 0.1)
        for (double theta = 0; theta < 6; theta += 0.5) {
            const double s = z - shape.thread.leadMm() / (2 * pi) * (theta - shape.phase);
            CHECK(stud.radius(theta, z) == Approx(exactProfileRadius(l.dimensions, false, 0, s)));
            CHECK(bore.radius(theta, z) ==
                  Approx(exactProfileRadius(l.dimensions, true, helicalOffsetMm(l.dimensions, 0.3), s)).margin(0.1));
        }
}

TEST_CASE("thread mesh: stays sound in a 32-bit file far from the origin")
{
    for (const char* name : {"Printable 40x6", "Tr 36x18(P6)"}) {
        const ThreadedShape shape = threadedShape(name, 40, 0.3, 0.05);
        const mesh::Transform place =
            mesh::Transform::translation({700, -400, 300}) * mesh::Transform::rotation({1, 2, 3}, 1);
        mesh::Mesh rounded = mesh::transformed(studSolid(shape, shape).value(), place);
        for (Vec3& p : rounded.points)
            p = {static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z)};
        rounded = mesh::welded(rounded);
        CHECK(mesh::topologyOf(rounded).solid());
        CHECK(mesh::topologyOf(rounded).degenerateTriangles == 0);
        CHECK(mesh::selfIntersections(rounded, 1).empty());
    }
}

TEST_CASE("thread mesh: the triangle budget holds at the usual chord error")
{
    for (const char* name : {"Tr 60x9", "Printable 60x10"}) {
        const auto made = externalThread(threadedShape(name, 60, 0.3, 0.02)).value();
        CHECK(made.mesh.triangles.size() > 10000);
        CHECK(made.mesh.triangles.size() < 40000);
    }
}

TEST_CASE("thread mesh: the shortest length is made, less is refused")
{
    for (const char* name : {"Printable 40x6", "Tr 40x7", "Printable 24x16(P4)LH"}) {
        ThreadedShape shape = threadedShape(name, 0, 0.3, mesh::tolerance::chordMm);
        const double shortest = shortestLengthMm(shape.thread, 0.3).value();
        CHECK(shortest < 3 * shape.thread.pitchMm);
        shape.lengthMm = shortest;
        const auto made = externalThread(shape);
        REQUIRE(made.ok());
        requireOneRim(*made);
        CHECK(made->layout.engagedLengthMm() == Approx(shape.thread.pitchMm));
        CHECK(internalThread(shape).ok());
        shape.lengthMm = shortest - 0.01;
        CHECK_FALSE(externalThread(shape).ok());
        CHECK_FALSE(internalThread(shape).ok());
        CHECK_FALSE(studSolid(shape, shape).ok());
    }
}

TEST_CASE("thread mesh: what can't be made is refused with words")
{
    const ThreadedShape good = threadedShape("Printable 40x6", 40);
    REQUIRE(externalThread(good).ok());
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double infinite = std::numeric_limits<double>::infinity();
    std::vector<ThreadedShape> bad;
    const auto add = [&](auto&& change) {
        bad.push_back(good);
        change(bad.back());
    };
    add([](ThreadedShape& s) { s.thread.starts = 0; });
    add([](ThreadedShape& s) { s.thread.diameterMm = 3; });
    add([](ThreadedShape& s) { s.lengthMm = -5; });
    add([](ThreadedShape& s) { s.lengthMm = 9; });
    add([](ThreadedShape& s) { s.lengthMm = 1e9; });
    add([](ThreadedShape& s) { s.clearanceMm = -0.1; });
    add([](ThreadedShape& s) { s.clearanceMm = 1; });
    add([](ThreadedShape& s) { s.chordMm = 0; });
    add([](ThreadedShape& s) { s.chordMm = 2; });
    add([](ThreadedShape& s) {
        s.thread = threadFrom("Printable 100x3").value();
        s.chordMm = 0.9;
    });
    for (const double number : {nan, infinite}) {
        add([&](ThreadedShape& s) { s.lengthMm = number; });
        add([&](ThreadedShape& s) { s.clearanceMm = number; });
        add([&](ThreadedShape& s) { s.phase = number; });
        add([&](ThreadedShape& s) { s.endClearanceMm = number; });
        add([&](ThreadedShape& s) { s.chordMm = number; });
    }
    for (std::size_t i = 0; i < bad.size(); ++i) {
        INFO(i);
        const auto stud = externalThread(bad[i]);
        REQUIRE_FALSE(stud.ok());
        CHECK(stud.problem().reason == Reason::BadArgument);
        CHECK(stud.problem().what.size() > 10);
        CHECK(stud.problem().remedy.size() > 5);
        CHECK_FALSE(internalThread(bad[i]).ok());
        CHECK_FALSE(studSolid(good, bad[i]).ok());
    }
}

namespace {

/// The sharpest outer edge of a surface whose normals leave the material, degrees of material in it; slivers, whose
/// planes say nothing, left out.
double sharpestEdgeDegrees(const mesh::Mesh& m)
{
    constexpr double leastHeightMm = 0.02;
    std::map<std::pair<mesh::Index, mesh::Index>, std::size_t> first;
    const auto normal = [&](std::size_t t) {
        return mesh::cross(m.corner(t, 1) - m.corner(t, 0), m.corner(t, 2) - m.corner(t, 0));
    };
    const auto tall = [&](std::size_t t) {
        double longest = 0;
        for (int k = 0; k < 3; ++k)
            longest = std::max(longest, mesh::length(m.corner(t, k) - m.corner(t, (k + 1) % 3)));
        return mesh::length(normal(t)) > leastHeightMm * longest;
    };
    double sharpest = 180;
    for (std::size_t t = 0; t < m.triangles.size(); ++t)
        for (int k = 0; k < 3; ++k) {
            const mesh::Index a = m.triangles[t][static_cast<std::size_t>(k)];
            const mesh::Index b = m.triangles[t][static_cast<std::size_t>((k + 1) % 3)];
            first[{a, b}] = t;
            const auto other = first.find({b, a});
            if (other == first.end() || !tall(t) || !tall(other->second))
                continue;
            const Vec3 n = mesh::normalized(normal(t)), o = mesh::normalized(normal(other->second));
            double apex = 0; // of the other triangle's third corner over this one's plane
            for (int c = 0; c < 3; ++c)
                apex = std::min(apex, mesh::dot(n, m.corner(other->second, c) - m.points[a]));
            if (apex < -1e-6)
                sharpest = std::min(sharpest, 180 - std::acos(std::clamp(mesh::dot(n, o), -1.0, 1.0)) * 180 / pi);
        }
    return sharpest;
}

} // namespace

// A thread that is cut off square at its end leaves a fin that thins out to nothing, which prints as whiskers and
// crosses the threads (machinists blunt it; common practice, no source). Here cones of 38.7 degrees to the axis bound
// both threads: with a flank of 45 degrees they meet at 96 degrees of material, with one of 15 degrees from upright at
// 66. The facets' own steps take a few degrees off that.
TEST_CASE("thread mesh: neither part has a knife edge anywhere, its first turn among it")
{
    for (const auto& [thread, least] : {std::pair{Thread{Thread::Profile::Printable, 40, 6, 1, false}, 90.0},
                                        {Thread{Thread::Profile::Printable, 24, 5, 2, true}, 90.0},
                                        {Thread{Thread::Profile::Trapezoidal, 40, 7, 1, false}, 60.0},
                                        {Thread{Thread::Profile::Trapezoidal, 60, 9, 3, false}, 60.0}}) {
        CAPTURE(designation(thread));
        ThreadedShape shape;
        shape.thread = thread;
        shape.lengthMm = 5 * thread.pitchMm;
        shape.clearanceMm = 0.3;
        shape.phase = 0.7;
        CHECK(sharpestEdgeDegrees(externalThread(shape).value().mesh) > least);
        CHECK(sharpestEdgeDegrees(internalThread(shape).value().mesh) > least);
    }
}
