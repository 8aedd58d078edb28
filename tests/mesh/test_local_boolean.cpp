// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/boolean.h"
#include "mesh/local_boolean.h"
#include "mesh/mass.h"
#include "mesh/model_file.h"
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"
#include "mesh/print_ready.h"
#include "mesh/repair.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"
#include "tests/support/scratch.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <random>
#include <set>

using namespace quoin::mesh;
using quoin::Reason;
using quoin::test::reference;

namespace {

constexpr Label feature = 1000001;
constexpr double exactly = 1e-12; // relative

void requireSound(const quoin::Result<Mesh>& made)
{
    if (!made.ok())
        FAIL(made.problem().sentence());
    const Topology topology = topologyOf(*made);
    CHECK(topology.solid());
    CHECK(topology.degenerateTriangles == 0);
    CHECK(selfIntersections(*made).empty());
    CHECK(made->labels.size() == made->triangles.size());
}

void requireRefused(const quoin::Result<Mesh>& made, const std::string& words)
{
    REQUIRE_FALSE(made.ok());
    CHECK(made.problem().reason == Reason::JointFailed);
    INFO(made.problem().sentence());
    CHECK(made.problem().what.find(words) != std::string::npos);
}

/// A bar of `sides` corners along z, standing at a place.
Mesh bar(Vec3 foot, double radius, double height, int sides = 48, double turn = 0)
{
    return transformed(cylinder(radius, height, sides, 1),
                       Transform::translation(foot) * Transform::rotation({0, 0, 1}, turn));
}

/// Area of the polygon left of x = limit by the shoelace formula.
double areaLeftOf(const Loop& polygon, double limit)
{
    Loop kept;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const Vec2 a = polygon[i], b = polygon[(i + 1) % polygon.size()];
        if (a.x <= limit)
            kept.push_back(a);
        if ((a.x <= limit) != (b.x <= limit)) {
            const double t = (limit - a.x) / (b.x - a.x);
            kept.push_back({limit, a.y + t * (b.y - a.y)});
        }
    }
    return signedArea(kept);
}

using Corners = std::array<std::array<double, 3>, 3>;
Corners cornersOf(const Mesh& m, std::size_t t)
{
    Corners c;
    for (int k = 0; k < 3; ++k)
        c[static_cast<std::size_t>(k)] = {m.corner(t, k).x, m.corner(t, k).y, m.corner(t, k).z};
    return c;
}

/// Whether every triangle of `before` clear of the box is in `after`, corner for corner, with its label and in order.
bool restUnchanged(const Mesh& before, const Mesh& after, const Box3& box)
{
    std::size_t next = 0;
    for (std::size_t t = 0; t < before.triangles.size(); ++t) {
        Box3 own;
        for (int k = 0; k < 3; ++k)
            own.add(before.corner(t, k));
        bool clear = false;
        for (int k = 0; k < 3; ++k)
            clear = clear || own.max[k] < box.min[k] - 1e-3 || own.min[k] > box.max[k] + 1e-3;
        if (!clear)
            continue;
        while (next < after.triangles.size() && cornersOf(after, next) != cornersOf(before, t))
            ++next;
        if (next == after.triangles.size() || after.label(next) != before.label(t))
            return false;
    }
    return true;
}

} // namespace

TEST_CASE("local boolean: a bore that breaks the side of a box takes a segment of its polygon")
{
    const Mesh block = box({-20, -20, -10}, {20, 20, 10});
    const int sides = 48;
    Loop polygon;
    for (int i = 0; i < sides; ++i)
        polygon.push_back({18 + 5 * std::cos(2 * M_PI * i / sides), 5 * std::sin(2 * M_PI * i / sides)});
    const Mesh drill = bar({18, 0, -3}, 5, 30, sides);
    const auto bored = withoutSolid(block, drill, feature);
    requireSound(bored);
    CHECK(volume(block) - volume(*bored) == Approx(13 * areaLeftOf(polygon, 20)).epsilon(exactly));
    const auto studded = withSolid(block, drill, feature);
    requireSound(studded);
    CHECK(volume(*studded) - volume(block) == Approx(volume(drill) - 13 * areaLeftOf(polygon, 20)).epsilon(exactly));
}

TEST_CASE("local boolean: labels of cut triangles stay, new surface has its own")
{
    const auto halves = cutByPlane(box({-20, -20, -10}, {20, 20, 10}), planeAt({1, 0.2, 0.1}, 3));
    REQUIRE(halves.ok());
    const Mesh& half = halves->below;
    const auto made =
        withoutSolid(half, transformed(box({-1, -25, -3}, {9, 25, 3}), Transform::rotation({1, 0, 0}, 0.1)), feature);
    requireSound(made);
    double skin = 0, cut = 0;
    for (std::size_t t = 0; t < made->triangles.size(); ++t) {
        const double distance = std::abs(planeAt({1, 0.2, 0.1}, 3).distance(made->corner(t, 0))) +
                                std::abs(planeAt({1, 0.2, 0.1}, 3).distance(made->corner(t, 1))) +
                                std::abs(planeAt({1, 0.2, 0.1}, 3).distance(made->corner(t, 2)));
        CHECK((made->label(t) == 1) == (distance < 1e-9));
        (made->label(t) == 1 ? cut : skin) += made->label(t) == feature ? 0 : triangleArea(*made, t);
    }
    CHECK(cut > 300);
    CHECK(skin > 2000);
    CHECK(std::set<Label>(made->labels.begin(), made->labels.end()) == std::set<Label>{0, 1, feature});
}

TEST_CASE("local boolean: triangles away from the tool stay as they are")
{
    const Mesh ball = icosphere(50, 5);
    const Mesh drill = bar({45, 3, 2}, 4, 30);
    const auto bored = withoutSolid(ball, drill, feature);
    requireSound(bored);
    CHECK(restUnchanged(ball, *bored, bounds(drill)));
    CHECK(volume(*bored) == Approx(volume(*solidDifference(ball, drill))).epsilon(1e-11));
    const auto added = withSolid(ball, drill, feature);
    requireSound(added);
    CHECK(restUnchanged(ball, *added, bounds(drill)));
    CHECK(volume(*added) == Approx(volume(*solidUnion(ball, drill))).epsilon(1e-11));
}

TEST_CASE("local boolean: a tool that misses, and one that lies inside")
{
    const Mesh block = box({0, 0, 0}, {10, 10, 10});
    const Mesh away = box({20, 0, 0}, {21, 1, 1}), within = box({2, 2, 2}, {5, 5, 5});
    const auto same = withoutSolid(block, away, feature);
    REQUIRE(same.ok());
    CHECK(quoin::test::same(*same, block));
    requireRefused(withSolid(block, away, feature), "does not reach");
    const auto hollow = withoutSolid(block, within, feature);
    requireSound(hollow);
    CHECK(volume(*hollow) == Approx(1000 - 27).epsilon(exactly));
    const auto full = withSolid(block, within, feature);
    REQUIRE(full.ok());
    CHECK(quoin::test::same(*full, block));
}

TEST_CASE("local boolean: faces that lie flush")
{
    const Mesh block = box({0, 0, 0}, {10, 10, 10});
    const Mesh pocket = box({2, 2, 6}, {8, 8, 10}), notch = box({6, 2, 6}, {10, 8, 10});
    const auto pocketed = withoutSolid(block, pocket, feature);
    requireSound(pocketed);
    CHECK(volume(*pocketed) == Approx(1000 - 144).epsilon(exactly));
    const auto notched = withoutSolid(block, notch, feature);
    requireSound(notched);
    CHECK(volume(*notched) == Approx(1000 - 96).epsilon(exactly));
    const auto boss = withSolid(block, box({2, 2, 10}, {8, 8, 13}), feature);
    requireSound(boss);
    CHECK(volume(*boss) == Approx(1000 + 108).epsilon(exactly));
    const auto flushBoss = withSolid(block, box({2, 0, 5}, {8, 10, 13}), feature);
    requireSound(flushBoss);
    CHECK(volume(*flushBoss) == Approx(1000 + 180).epsilon(exactly));
    // Nothing taken where the two only share a face.
    const auto beside = withoutSolid(block, box({10, 2, 2}, {13, 8, 8}), feature);
    requireSound(beside);
    CHECK(volume(*beside) == Approx(1000).epsilon(exactly));
}

TEST_CASE("local boolean: faces that lie flush but for rounding")
{
    // Turned block and turned pocket: what was one plane is two by 1e-15.
    for (const double angle : {0.1, 0.7, 1.3, 2.1}) {
        const Transform turn = Transform::rotation({1, 2, 3}, angle) * Transform::translation({50.1, 3.3, 7.7});
        const Mesh block = transformed(box({0, 0, 0}, {10, 10, 10}), turn);
        const Mesh pocket = transformed(box({2, 2, 6}, {8, 8, 10}), turn);
        const auto made = withoutSolid(block, pocket, feature);
        requireSound(made);
        CHECK(volume(*made) == Approx(1000 - 144).epsilon(1e-5));
        const auto ready = printReady(*made);
        REQUIRE(ready.ok());
        CHECK(volume(ready->mesh) == Approx(1000 - 144).epsilon(1e-4));
        const auto boss = withSolid(block, transformed(box({2, 2, 10}, {8, 8, 13}), turn), feature);
        requireSound(boss);
        CHECK(volume(*boss) == Approx(1000 + 108).epsilon(1e-5));
        CHECK(printReady(*boss).ok());
    }
}

TEST_CASE("local boolean: edges that all but meet leave no slivers behind")
{
    // As in "boolean: edges that all but meet": crossings that coincide in theory and differ by 1e-16 in doubles.
    const int sides = 64;
    const Mesh disc = transformed(cylinder(4.1, 18, sides, 9), Transform::translation({0, 0, -9}));
    const Mesh drill = bar({0, 0, -10}, 2.2, 20, sides, M_PI / sides);
    const auto bored = withoutSolid(disc, drill, feature);
    requireSound(bored);
    Mesh rounded = *bored;
    for (Vec3& p : rounded.points)
        p = {static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z)};
    CHECK(topologyOf(welded(rounded)).solid());
    CHECK(selfIntersections(rounded).empty());
}

TEST_CASE("local boolean: what would fall apart, vanish or only touch is refused")
{
    const Mesh block = box({0, 0, 0}, {10, 10, 10});
    requireRefused(withoutSolid(block, box({-1, -1, 4}, {11, 11, 6}), feature), "more");
    requireRefused(withoutSolid(block, box({-1, -1, -1}, {11, 11, 11}), feature), "whole piece");
    requireRefused(withSolid(block, box({10, 10, 2}, {14, 14, 8}), feature), "line or a point");
    requireRefused(withSolid(block, box({10, 10, 10}, {14, 14, 14}), feature), "line or a point");
    // Two studs as one tool, the second in the air.
    requireRefused(withSolid(block, joined(box({2, 2, 8}, {4, 4, 12}), box({2, 2, 14}, {4, 4, 16})), feature), "more");
    // A ring cut through on one side stays one.
    const Mesh ring = torus(30, 8, 64, 32);
    requireSound(withoutSolid(ring, box({20, -2, -10}, {40, 2, 10}), feature));
    requireRefused(withoutSolid(ring, box({-40, -2, -10}, {40, 2, 10}), feature), "more");
}

TEST_CASE("local boolean: unsound solids are refused")
{
    const Mesh block = box({0, 0, 0}, {10, 10, 10}), good = box({8, 2, 2}, {12, 4, 4});
    Mesh open = good;
    open.triangles.pop_back();
    requireRefused(withoutSolid(block, open, feature), "not closed");
    requireRefused(withoutSolid(block, Mesh{}, feature), "not closed");
    requireRefused(withoutSolid(block, quoin::test::turnedOver(good), feature), "inside out");
    requireRefused(withoutSolid(block, joined(good, box({9, 1, 1}, {11, 3, 3})), feature), "intersects itself");
    Mesh number = good;
    number.points[0].x = std::nan("");
    requireRefused(withoutSolid(block, number, feature), "no number");
    requireRefused(withoutSolid(joined(block, box({5, 1, 1}, {11, 9, 9})), good, feature), "");
    Mesh holed = block;
    holed.triangles.pop_back();
    CHECK_FALSE(withoutSolid(quoin::test::turnedOver(block), good, feature).ok());
}

namespace {

/// A tool of a kind, somewhere near a point of the surface.
Mesh randomTool(std::mt19937& random, const Mesh& mesh, double size)
{
    std::uniform_real_distribution<double> unit(-1, 1);
    std::uniform_int_distribution<std::size_t> any(0, mesh.triangles.size() - 1);
    std::uniform_int_distribution<int> kind(0, 3);
    Mesh tool;
    switch (kind(random)) {
    case 0:
        tool = cylinder(0.3 * size, 2 * size, 24, 1);
        break;
    case 1:
        tool = box({-0.3 * size, -0.4 * size, -size}, {0.3 * size, 0.4 * size, size});
        break;
    case 2:
        tool = icosphere(0.5 * size, 2);
        break;
    default:
        tool = frustum(0.2 * size, 0.5 * size, size, 6);
        break;
    }
    const Vec3 axis{unit(random), unit(random), unit(random)};
    const Vec3 at = mesh.corner(any(random), 0) + 0.2 * size * Vec3{unit(random), unit(random), unit(random)};
    return transformed(tool, Transform::translation(at) * Transform::rotation(normalized(axis), 3 * unit(random)));
}

/// Every outcome is a sound solid of the right volume that also outlives the rounding of a file, or a refusal; most
/// are no refusals.
void requireManyPlacements(const Mesh& mesh, double size, int times, unsigned seed)
{
    std::mt19937 random(seed);
    int refused = 0, wrong = 0;
    for (int i = 0; i < times; ++i) {
        const Mesh tool = randomTool(random, mesh, size);
        const bool taken = i % 3 != 0;
        const auto made = taken ? withoutSolid(mesh, tool, feature) : withSolid(mesh, tool, feature);
        if (!made.ok()) {
            ++refused;
            if (made.problem().reason != Reason::JointFailed || made.problem().what.find("more") == std::string::npos)
                UNSCOPED_INFO(i << ": " << made.problem().sentence());
            continue;
        }
        const auto expected = taken ? solidDifference(mesh, tool) : solidUnion(mesh, tool);
        const bool sound = topologyOf(*made).solid() && selfIntersections(*made).empty();
        const bool right = expected.ok() && std::abs(volume(*made) - volume(*expected)) < 1e-8 * volume(mesh);
        const auto ready = printReady(*made);
        if (!sound || !right || !ready.ok()) {
            ++wrong;
            UNSCOPED_INFO(i << ": sound " << sound << ", right " << right << ", ready "
                            << (ready.ok() ? "yes" : ready.problem().sentence()));
        }
    }
    INFO(times << " placements, " << refused << " refused");
    CHECK(wrong == 0);
    CHECK(refused <= times / 10);
}

} // namespace

TEST_CASE("local boolean: random placements on a ball, a ring and a box")
{
    requireManyPlacements(icosphere(20, 3), 6, 60, 1);
    requireManyPlacements(torus(20, 6, 48, 24), 5, 60, 2);
    requireManyPlacements(box({-15, -10, -5}, {15, 10, 5}), 4, 60, 3);
}

TEST_CASE("local boolean: random placements on the Stanford bunny")
{
    const auto raw = readModel(reference("stl-models/objects/bunny.bin.stl"));
    REQUIRE(raw.ok());
    const auto closed = repaired(raw->mesh);
    REQUIRE(closed.ok());
    const Vec3 e = bounds(closed->mesh).extents();
    const Mesh bunny = transformed(closed->mesh, Transform::scaling(200 / std::max({e.x, e.y, e.z})));
    std::mt19937 random(4);
    int refused = 0, wrong = 0;
    const int times = 40;
    for (int i = 0; i < times; ++i) {
        const Mesh tool = randomTool(random, bunny, 12);
        const auto made = i % 3 != 0 ? withoutSolid(bunny, tool, feature) : withSolid(bunny, tool, feature);
        if (!made.ok()) {
            ++refused;
            UNSCOPED_INFO(i << ": " << made.problem().sentence());
            continue;
        }
        const bool sound = topologyOf(*made).solid() && selfIntersections(*made).empty();
        const bool same = restUnchanged(bunny, *made, bounds(tool));
        if (!sound || !same) {
            ++wrong;
            UNSCOPED_INFO(i << ": sound " << sound << ", rest unchanged " << same);
        }
    }
    INFO(times << " placements, " << refused << " refused");
    CHECK(wrong == 0);
    CHECK(refused <= times / 10);
}

TEST_CASE("local boolean: the cost is that of the neighbourhood")
{
    const Mesh ball = icosphere(300, 8); // 1.3 million triangles
    const Mesh tool = bar({290, 3, 2}, 12, 40, 125);
    const auto start = std::chrono::steady_clock::now();
    const auto made = withoutSolid(ball, tool, feature);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    REQUIRE(made.ok());
    INFO(took.count() << " s for " << ball.triangles.size() << " triangles and a tool of " << tool.triangles.size());
    CHECK(took.count() < 2); // a sixth of a second on two idle cores
}
