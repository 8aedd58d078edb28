// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"
#include "mesh/print_ready.h"
#include "mesh/self_intersection.h"
#include "mesh/tidy.h"
#include "mesh/tolerance.h"
#include "mesh/topology.h"
#include "tests/support/scratch.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>

using namespace quoin::mesh;

namespace {

constexpr double pi = 3.14159265358979323846;

/// What a reader of the STL file gets: every coordinate through a 32-bit float, corners welded when equal.
Mesh throughFile(const Mesh& mesh)
{
    Mesh out = mesh;
    for (Vec3& p : out.points)
        p = {static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z)};
    return welded(out);
}

/// The promises of printReady, looked at from the file's side.
void requireReady(const Mesh& before, const PrintReady& ready)
{
    for (const Vec3 p : ready.mesh.points) {
        REQUIRE(static_cast<double>(static_cast<float>(p.x)) == p.x);
        REQUIRE(static_cast<double>(static_cast<float>(p.y)) == p.y);
        REQUIRE(static_cast<double>(static_cast<float>(p.z)) == p.z);
    }
    const Mesh file = throughFile(ready.mesh);
    REQUIRE(file.triangles.size() == ready.mesh.triangles.size());
    REQUIRE(file.points.size() == ready.mesh.points.size());
    const Topology t = topologyOf(file);
    CHECK(t.solid());
    CHECK(t.degenerateTriangles == 0);
    CHECK(t.duplicateTriangles == 0);
    CHECK(selfIntersections(file).empty());
    const double v = volume(before);
    CHECK(volume(file) == Approx(v).epsilon(0).margin(1e-6 * std::fabs(v) + 1e-3 * area(before)));
    CHECK(ready.mesh.labels.size() == (before.labels.empty() ? 0 : ready.mesh.triangles.size()));
}

PrintReady readied(const Mesh& mesh)
{
    auto ready = printReady(mesh);
    INFO((ready ? "" : ready.problem().sentence()));
    REQUIRE(ready.ok());
    requireReady(mesh, *ready);
    return std::move(*ready);
}

class Chance {
public:
    explicit Chance(unsigned seed) : m_random(seed) {}
    double in(double low, double high) { return low + (high - low) * (static_cast<double>(m_random()) / 4294967296.0); }
    Vec3 direction()
    {
        for (;;) {
            const Vec3 d{in(-1, 1), in(-1, 1), in(-1, 1)};
            if (length(d) > 0.1 && length(d) < 1)
                return normalized(d);
        }
    }

private:
    std::mt19937 m_random;
};

/// The half turned so that its cut face lies on z = 0, as a print pose does.
Mesh standing(const Mesh& half, Vec3 outward, double turn)
{
    return transformed(half, Transform::rotation({0, 0, 1}, turn) * Transform::turning(outward, {0, 0, -1}));
}

Mesh stoodUp(const Mesh& half, const Plane& plane, bool above, double turn)
{
    Mesh out = standing(half, above ? -plane.normal : plane.normal, turn);
    const double low = above ? plane.offset : -plane.offset;
    for (Vec3& p : out.points)
        p.z -= low;
    return out;
}

} // namespace

TEST_CASE("print ready: random halves of spheres", "[print_ready]")
{
    for (unsigned seed = 0; seed < 300; ++seed) {
        CAPTURE(seed);
        Chance chance(seed);
        const double radius = std::exp(chance.in(std::log(2.0), std::log(1000.0)));
        const Mesh sphere = icosphere(radius, 1 + static_cast<int>(seed % 4));
        const Plane plane{chance.direction(), chance.in(-0.9, 0.9) * radius};
        const auto halves = cutByPlane(sphere, plane);
        REQUIRE(halves.ok());
        const double turn = chance.in(0, 2 * pi);
        readied(stoodUp(halves->below, plane, false, turn));
        readied(stoodUp(halves->above, plane, true, turn));
    }
}

namespace {

/// Area of the triangles that lie exactly on the plate.
double areaOnPlate(const Mesh& mesh)
{
    double sum = 0;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
        if (mesh.corner(t, 0).z == 0 && mesh.corner(t, 1).z == 0 && mesh.corner(t, 2).z == 0)
            sum += triangleArea(mesh, t);
    return sum;
}

double areaLabelled(const Mesh& mesh, Label label)
{
    double sum = 0;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
        if (mesh.label(t) == label)
            sum += triangleArea(mesh, t);
    return sum;
}

/// A step: base 2 x 2 x 1, column 1 x 2 x 1 on one half of it, times size.
Mesh stair(double size)
{
    const Region profile{{{0, 0}, {2 * size, 0}, {2 * size, size}, {size, size}, {size, 2 * size}, {0, 2 * size}}};
    return prism(profile, 2 * size);
}

} // namespace

TEST_CASE("print ready: planes that pass a vertex by next to nothing", "[print_ready]")
{
    for (unsigned seed = 0; seed < 400; ++seed) {
        CAPTURE(seed);
        Chance chance(seed);
        const double radius = std::exp(chance.in(std::log(2.0), std::log(1000.0)));
        const Mesh sphere = icosphere(radius, 1 + static_cast<int>(seed % 3));
        const Vec3 normal = chance.direction();
        const Vec3 vertex =
            sphere.points[static_cast<std::size_t>(chance.in(0, 1) * static_cast<double>(sphere.points.size()))];
        const double miss = std::pow(10.0, chance.in(-14, -3)) * (seed % 2 == 0 ? 1 : -1);
        const Plane plane{normal, dot(normal, vertex) + miss};
        const auto halves = cutByPlane(sphere, plane);
        REQUIRE(halves.ok());
        const double turn = chance.in(0, 2 * pi);
        for (const bool above : {false, true}) {
            const Mesh& half = above ? halves->above : halves->below;
            if (volume(half) > 1e-3 * radius * radius)
                readied(stoodUp(half, plane, above, turn));
        }
    }
}

TEST_CASE("print ready: the cut face stands on the plate, flat and whole", "[print_ready]")
{
    for (unsigned seed = 0; seed < 40; ++seed) {
        CAPTURE(seed);
        Chance chance(seed);
        const Plane plane{chance.direction(), chance.in(-200, 200)};
        const auto halves = cutByPlane(icosphere(300, 4), plane);
        REQUIRE(halves.ok());
        const Mesh half = stoodUp(halves->above, plane, true, chance.in(0, 2 * pi));
        const PrintReady ready = readied(half);
        double cap = 0;
        for (std::size_t t = halves->aboveCap; t < half.triangles.size(); ++t)
            cap += triangleArea(half, t);
        CHECK(areaOnPlate(ready.mesh) == Approx(cap).epsilon(1e-6));
        CHECK(areaLabelled(ready.mesh, 1) == Approx(cap).epsilon(1e-6));
        CHECK(bounds(ready.mesh).min.z == 0);
        CHECK(ready.movedMm < 4 * 6.2e-5);
    }
}

TEST_CASE("print ready: what is sound already stays bit for bit", "[print_ready]")
{
    const Mesh cube = box({-10, -20, 0}, {10, 20, 30});
    const PrintReady ready = readied(cube);
    CHECK(quoin::test::same(ready.mesh, cube));
    CHECK(ready.movedMm == 0);
    CHECK(ready.collapsed == 0);
    CHECK(ready.untangled == 0);
}

TEST_CASE("print ready: the same input gives the same output", "[print_ready]")
{
    const Plane plane{normalized(Vec3{0.3, 0.5, 0.8}), 1e-7};
    const auto halves = cutByPlane(icosphere(900, 4), plane);
    REQUIRE(halves.ok());
    const Mesh half = stoodUp(halves->below, plane, false, 0.3);
    CHECK(quoin::test::same(readied(half).mesh, readied(half).mesh));
}

TEST_CASE("print ready: a cut in the plane of a face, but for the last digits", "[print_ready]")
{
    // Turned at random, the tread of a stair lies on both sides of its own plane: the upper half keeps it as a sheet
    // without thickness.
    std::size_t sheets = 0, foils = 0;
    for (unsigned seed = 0; seed < 300; ++seed) {
        CAPTURE(seed);
        Chance chance(seed);
        const double size = std::exp(chance.in(std::log(5.0), std::log(500.0)));
        const Mesh part = transformed(stair(size), Transform::rotation(chance.direction(), chance.in(0, 2 * pi)));
        // Any of its faces; exactly, or off by next to nothing.
        const std::size_t t = static_cast<std::size_t>(chance.in(0, 1) * static_cast<double>(part.triangles.size()));
        Plane plane = planeThrough(part.corner(t, 0),
                                   cross(part.corner(t, 1) - part.corner(t, 0), part.corner(t, 2) - part.corner(t, 0)));
        if (seed % 3 != 0)
            plane.offset += std::pow(10.0, chance.in(-15, -4)) * (seed % 2 == 0 ? 1 : -1);
        auto halves = cutByPlane(part, plane);
        if (!halves)
            continue;
        for (const bool above : {false, true}) {
            Mesh half = stoodUp(above ? halves->above : halves->below, plane, above, chance.in(0, 2 * pi));
            if (seed % 2 == 0)
                half = withoutSlivers(std::move(half), tolerance::cutSliverMm);
            if (half.empty() || !selfIntersections(half).empty())
                continue;
            const auto ready = printReady(half);
            INFO((ready ? "" : ready.problem().sentence()));
            if (!ready) {
                // Half of it a foil thinner than any file can hold.
                CHECK(ready.problem().reason == quoin::Reason::NoVolume);
                CHECK(std::fabs(volume(half)) < 1e-3 * area(half));
                ++foils;
                continue;
            }
            requireReady(half, *ready);
            sheets += ready->untangled > 0;
        }
    }
    CHECK(sheets > 20);
    CHECK(foils > 20);
}

TEST_CASE("print ready: solids that touch at a corner or along an edge are parted", "[print_ready]")
{
    using quoin::test::cube;
    const Mesh atCorner = quoin::test::weldedTogether({cube({0, 0, 0}, 10), cube({10, 10, 10}, 10)});
    REQUIRE(topologyOf(atCorner).nonManifoldVertices == 1);
    const Mesh alongEdge = quoin::test::weldedTogether({cube({0, 0, 0}, 10), cube({10, 10, 0}, 10)});
    REQUIRE(topologyOf(alongEdge).nonManifoldEdges == 1);
    const Mesh apartByIndex = quoin::test::together({cube({0, 0, 0}, 10), cube({10, 10, 0}, 10)});
    for (const Mesh* mesh : {&atCorner, &alongEdge, &apartByIndex}) {
        const PrintReady ready = readied(*mesh);
        CHECK(ready.untangled > 0);
        CHECK(connectedParts(ready.mesh).count == 2);
        CHECK(volume(ready.mesh) == Approx(2000).epsilon(1e-5));
    }
}

TEST_CASE("print ready: a body that hangs together around both ends of an edge that it uses twice", "[print_ready]")
{
    // Unit cubes, two layers of four with two diagonal ones between: these touch along an edge, and are joined above
    // and below it.
    const auto filled = [](int x, int y, int z) {
        const bool inside = x >= 0 && x < 2 && y >= 0 && y < 2 && z >= 0 && z < 3;
        return inside && (z != 1 || x == y);
    };
    Mesh soup;
    for (int x = 0; x < 2; ++x)
        for (int y = 0; y < 2; ++y)
            for (int z = 0; z < 3; ++z) {
                if (!filled(x, y, z))
                    continue;
                const Mesh cube = quoin::test::cube({x * 10.0, y * 10.0, z * 10.0}, 10);
                for (std::size_t t = 0; t < cube.triangles.size(); ++t) {
                    const Vec3 n =
                        normalized(cross(cube.corner(t, 1) - cube.corner(t, 0), cube.corner(t, 2) - cube.corner(t, 0)));
                    if (filled(x + static_cast<int>(n.x), y + static_cast<int>(n.y), z + static_cast<int>(n.z)))
                        continue;
                    soup = joined(soup, subset(cube, {static_cast<Index>(t)}));
                }
            }
    const Mesh part = welded(soup);
    REQUIRE(topologyOf(part).openEdges == 0);
    REQUIRE(topologyOf(part).nonManifoldEdges == 1);
    const PrintReady ready = readied(part);
    CHECK(connectedParts(ready.mesh).count == 1);
    CHECK(volume(ready.mesh) == Approx(10000).epsilon(1e-5));
}

TEST_CASE("print ready: bodies thinner than a step go, unless nothing would be left", "[print_ready]")
{
    const Mesh foil = box({-100, -100, 0}, {100, 100, 1e-6});
    const auto nothing = printReady(foil);
    REQUIRE_FALSE(nothing.ok());
    CHECK(nothing.problem().reason == quoin::Reason::NoVolume);
    const Mesh both = joined(box({-100, -100, 10}, {100, 100, 20}), foil);
    auto ready = printReady(both);
    REQUIRE(ready.ok());
    CHECK(ready->mesh.triangles.size() == 12);
    CHECK(ready->collapsed > 0);
    requireReady(both, *ready);
}

TEST_CASE("print ready: open, turned and crossing meshes are refused with a place", "[print_ready]")
{
    using quoin::Reason;
    const Mesh cube = quoin::test::cube({0, 0, 0}, 10);
    const auto refused = [](const Mesh& mesh) {
        const auto ready = printReady(mesh);
        REQUIRE_FALSE(ready.ok());
        CHECK_FALSE(ready.problem().place.empty());
        return ready.problem().reason;
    };
    CHECK(refused(quoin::test::without(cube, {3})) == Reason::NotManifold);
    Mesh turned = cube;
    std::swap(turned.triangles[0][0], turned.triangles[0][1]);
    CHECK(refused(turned) == Reason::NotManifold);
    CHECK(refused(joined(cube, quoin::test::cube({5, 5, 5}, 10))) == Reason::SelfIntersecting);
    CHECK(printReady(Mesh{}).problem().reason == Reason::NoVolume);
}

TEST_CASE("print ready: no farther than the limit", "[print_ready]")
{
    const auto ready = printReady(icosphere(900, 3), 1e-6);
    REQUIRE_FALSE(ready.ok());
    CHECK(ready.problem().what.find("more than") != std::string::npos);
}

TEST_CASE("print ready: a gear wheel two metres wide, cut in four", "[print_ready]")
{
    const Mesh gear = quoin::test::binaryStl(quoin::test::reference("stl-models/objects/gearwheel.bin.stl"));
    const double scale = 2000 / length(bounds(gear).extents());
    for (unsigned seed = 0; seed < 12; ++seed) {
        CAPTURE(seed);
        Chance chance(seed);
        const Mesh part =
            transformed(gear, Transform::rotation(chance.direction(), chance.in(0, 2 * pi)) *
                                  Transform::scaling(scale) * Transform::translation(-bounds(gear).centre()));
        const Plane first{chance.direction(), chance.in(-200, 200)}, second{chance.direction(), chance.in(-200, 200)};
        const auto halves = cutByPlane(part, first);
        REQUIRE(halves.ok());
        for (const Mesh* half : {&halves->below, &halves->above}) {
            const auto quarters = cutByPlane(*half, second);
            REQUIRE(quarters.ok());
            if (!quarters->below.empty())
                readied(stoodUp(quarters->below, second, false, 1));
            if (!quarters->above.empty())
                readied(stoodUp(quarters->above, second, true, 2));
        }
    }
}
