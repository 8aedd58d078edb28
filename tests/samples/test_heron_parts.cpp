// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/distance.h"
#include "mesh/mass.h"
#include "mesh/print_ready.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"
#include "sample_models/heron.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <numbers>

using namespace quoin::samples;
using namespace quoin::mesh;
using std::numbers::pi;

namespace {

/// Sound, and free of folds; says which part when not.
void requireSound(const std::string& name, const Mesh& mesh)
{
    INFO(name);
    const Topology topology = topologyOf(mesh);
    CHECK(topology.solid());
    CHECK(topology.degenerateTriangles == 0);
    CHECK(topology.duplicateTriangles == 0);
    CHECK(connectedParts(mesh).count == 1);
    CHECK(selfIntersections(mesh, 1).empty());
    CHECK(volume(mesh) > 0);
}

/// Farthest and nearest of the walls all round an axis, from a point on it.
struct Reach {
    double least, most;
};
Reach reachAround(const SurfaceTree& tree, const HeronAxis& axis)
{
    const Vec3 helper = std::abs(axis.direction.x) < 0.9 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
    const Vec3 u = normalized(cross(axis.direction, helper)), v = cross(axis.direction, u);
    Reach reach{1e9, 0};
    constexpr int rays = 97; // no divisor of the corners
    for (int k = 0; k < rays; ++k) {
        const double angle = 2 * pi * k / rays;
        const auto hit = tree.firstHit(axis.point, std::cos(angle) * u + std::sin(angle) * v);
        REQUIRE(hit);
        reach.least = std::min(reach.least, *hit);
        reach.most = std::max(reach.most, *hit);
    }
    return reach;
}

bool keyed(const std::string& axis)
{
    return axis == "foot" || axis == "top" || axis == "neck" || axis == "axle-front" || axis == "axle-back";
}

/// Volume of a solid of revolution over a 64-gon from its profile's stack of frustums (radius, height).
double frustumVolume(double r, double s, double h)
{
    return h / 3 * (r * r + r * s + s * s) * 32 * std::sin(2 * pi / 64);
}

} // namespace

TEST_CASE("heron parts: sound solids of printable size, as files hold them, and seven times larger too")
{
    constexpr double largestMm = 200;
    constexpr double factor = 7;
    const std::vector<HeronPart> parts = heronParts();
    REQUIRE(parts.size() == 15);
    for (const HeronPart& part : parts) {
        requireSound(part.name, part.mesh);
        const Box3 box = bounds(part.mesh);
        CHECK(box.min.z == 0);
        CHECK(std::max({box.extents().x, box.extents().y, box.extents().z}) < largestMm);
        CHECK(part.mesh.triangles.size() > 500);
        CHECK(part.mesh.triangles.size() < 42000);
        CHECK(part.quantity == static_cast<int>(part.poses.size()));
        Mesh larger = transformed(part.mesh, Transform::scaling(factor));
        for (Vec3& p : larger.points) {
            const auto rounded = [](double c) { return static_cast<double>(static_cast<float>(c)); };
            p = {rounded(p.x), rounded(p.y), rounded(p.z)};
        }
        requireSound(part.name + ", larger", larger);
        for (const Vec3 p : part.mesh.points)
            for (int axis = 0; axis < 3; ++axis)
                if (static_cast<double>(static_cast<float>(p[axis])) != p[axis])
                    FAIL(part.name << ": a coordinate is no 32-bit float");
    }
}

TEST_CASE("heron parts: holes, pins and pegs measured on the meshes")
{
    // Corners lie on the radius: a 64-gon is flatter by at most r (1 - cos(pi / 64)); files round to 1e-5.
    constexpr double roundingMm = 2e-5;
    int measured = 0;
    const std::vector<HeronPart> parts = heronParts();
    for (const HeronPart& part : parts) {
        const SurfaceTree tree(part.mesh);
        for (const HeronAxis& axis : part.axes) {
            INFO(part.name << ", " << axis.name);
            const Reach reach = reachAround(tree, axis);
            CHECK(reach.most < axis.radiusMm + roundingMm);
            CHECK(reach.most > axis.radiusMm * std::cos(pi / 64) - roundingMm);
            if (!keyed(axis.name))
                CHECK(reach.least > axis.radiusMm * std::cos(pi / 64) - roundingMm);
            else
                CHECK(reach.least < axis.radiusMm - 0.8); // the flat
            CHECK(tree.inside(axis.point) == !axis.hole);
            ++measured;
        }
    }
    CHECK(measured == 34);

    // A collar's volume in closed form.
    const auto collar = std::find_if(parts.begin(), parts.end(), [](const auto& p) { return p.name == "collar"; });
    REQUIRE(collar != parts.end());
    // Radius 3, height 2.4, two chamfers of 0.4, bore of radius 1.4; all 64-gons.
    const double expected = 2 * frustumVolume(2.6, 3, 0.4) + frustumVolume(3, 3, 1.6) - frustumVolume(1.4, 1.4, 2.4);
    CHECK(volume(collar->mesh) == Approx(expected).epsilon(1e-5));
    CHECK(collar->quantity == 5);
}
