// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"
#include "mesh/print_ready.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"

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
