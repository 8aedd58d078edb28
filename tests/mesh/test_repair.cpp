// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/health.h"
#include "mesh/mass.h"
#include "mesh/repair.h"
#include "tests/support/scratch.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

using namespace quoin;
using namespace quoin::mesh;
using namespace quoin::test;

namespace {

std::string listed(const RepairReport& report)
{
    std::string all;
    for (const std::string& change : report.changes)
        all += change + "\n";
    return all;
}

/// Repairs, and checks what holds for every repaired mesh.
Repaired mend(const Mesh& m, const RepairOptions& options = {})
{
    Result<Repaired> result = repaired(m, options);
    INFO((result ? std::string() : result.problem().sentence()));
    REQUIRE(result);
    INFO(listed(result->report));
    const Health h = healthOf(result->mesh, {.wallSamples = 0});
    CHECK(h.sound());
    CHECK(result->report.volumeAfterMm3 == Approx(volume(result->mesh)));
    CHECK(result->report.areaAfterMm2 == Approx(area(result->mesh)));
    CHECK(result->report.volumeBeforeMm3 == Approx(volume(m)));
    // Points in one place have one index: an STL file loses nothing.
    CHECK(welded(exploded(result->mesh)).points.size() == result->mesh.points.size());
    CHECK(topologyOf(welded(exploded(result->mesh))).solid());
    return *result;
}

bool says(const Repaired& r, const std::string& words)
{
    return listed(r.report).find(words) != std::string::npos;
}

void refuses(const Mesh& m, const std::string& words, const RepairOptions& options = {})
{
    const Mesh before = m;
    const Result<Repaired> result = repaired(m, options);
    REQUIRE_FALSE(result);
    INFO(result.problem().sentence());
    CHECK(result.problem().reason == Reason::NotRepairable);
    CHECK(result.problem().what.find(words) != std::string::npos);
    CHECK_FALSE(result.problem().remedy.empty());
    CHECK(same(m, before));
}

/// A lattice square in the plane z = 0 of n x n cells of side 1, as an open sheet.
Mesh sheet(int n)
{
    Mesh m;
    for (int j = 0; j <= n; ++j)
        for (int i = 0; i <= n; ++i)
            m.points.push_back({double(i), double(j), 0});
    const auto at = [&](int i, int j) { return static_cast<Index>(j * (n + 1) + i); };
    for (int j = 0; j < n; ++j)
        for (int i = 0; i < n; ++i) {
            m.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
            m.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
        }
    return m;
}

} // namespace

TEST_CASE("repair: a sound mesh comes back unchanged, bit for bit")
{
    Mesh hollow = together({cube({0, 0, 0}, 10), turnedOver(sphere({5, 5, 5}, 3, 2))});
    hollow.labels.assign(hollow.triangles.size(), 4);
    for (const Mesh& m : {cube({0, 0, 0}, 1), ring(20, 6, 30, 20), hollow, sphere({0, 0, 0}, 5, 4)}) {
        const Repaired r = mend(m);
        CHECK(same(r.mesh, m));
        CHECK(r.report.changes.empty());
        CHECK(r.report.surfaceMovedMm == 0);
    }
}

TEST_CASE("repair: an exploded cube is welded, nothing moves")
{
    const Repaired r = mend(exploded(cube({0, 0, 0}, 7)));
    CHECK(r.mesh.points.size() == 8);
    CHECK(volume(r.mesh) == Approx(343));
    CHECK(r.report.surfaceMovedMm < 1e-12);
}

TEST_CASE("repair: seams that miss each other by a little are joined, by much they aren't")
{
    Mesh apart = exploded(cube({0, 0, 0}, 100));
    std::mt19937 random(5);
    for (Vec3& p : apart.points)
        p.x += 1e-5 * (static_cast<double>(random()) / 4294967296.0);
    const Repaired r = mend(apart);
    CHECK(says(r, "on open edges that were within"));
    CHECK(r.mesh.points.size() == 8);
    CHECK(volume(r.mesh) == Approx(1e6));
    // A wider tolerance by wish.
    for (Vec3& p : apart.points)
        p.y += 0.01 * (static_cast<double>(random()) / 4294967296.0);
    CHECK(mend(apart, {.weldMm = 0.05}).mesh.points.size() == 8);
}

TEST_CASE("repair: small holes are filled and the volume is what it was")
{
    const Mesh ball = sphere({0, 0, 0}, 10, 4);
    const Repaired r = mend(without(ball, {3, 700, 701, 702, 703}));
    CHECK(says(r, "filled 2 holes"));
    CHECK(volume(r.mesh) == Approx(volume(ball)).epsilon(2e-3));
    // The middle of the larger hole was this far from any surface.
    CHECK(r.report.surfaceMovedMm < 0.6);
}

TEST_CASE("repair: a large hole in a ball is filled smoothly, not flat")
{
    Mesh ball = sphere({0, 0, 0}, 10, 5);
    std::vector<Index> kept;
    for (Index i = 0; i < ball.triangles.size(); ++i)
        if (ball.corner(i, 0).z < 9 || ball.corner(i, 0).x > 3) // a cap with a wavy rim
            kept.push_back(i);
    const Mesh open = subset(ball, kept);
    const Repaired r = mend(open);
    CHECK(says(r, "filled 1 hole with"));
    // Flat it would fall short of the sphere by h = 1 mm and lose about 13 mm3; faired it bulges.
    CHECK(bounds(r.mesh).max.z > 9.5);
    CHECK(volume(r.mesh) == Approx(volume(ball)).epsilon(1.5e-3));
}

TEST_CASE("repair: a missing face is closed flat, even a large one")
{
    const Repaired one = mend(without(cube({0, 0, 0}, 10), {2}));
    CHECK(volume(one.mesh) == Approx(1000));
    CHECK(one.mesh.triangles.size() == 12);
    const Repaired lid = mend(without(cube({0, 0, 0}, 10), {2, 3}));
    CHECK(volume(lid.mesh) == Approx(1000));
    CHECK(says(lid, "filled 1 hole with 2 triangles, 100 mm2"));
}

TEST_CASE("repair: a pipe without its end gets a ring, not two discs")
{
    // Outer and inner wall of a square pipe with a bottom between them; the top ring is missing.
    Mesh pipe = together(
        {without(cuboid({0, 0, 0}, {10, 10, 20}), {2, 3}), turnedOver(without(cuboid({2, 2, 2}, {8, 8, 20}), {2, 3}))});
    const Repaired r = mend(pipe);
    CHECK(volume(r.mesh) == Approx(10 * 10 * 20 - 6 * 6 * 18));
    CHECK(area(r.mesh) == Approx(100 + 4 * 200 + 64 + 4 * 6 * 18 + 36));
}

TEST_CASE("repair: a hole too large to guess is refused with its rim and place")
{
    // Half a ball with a wavy rim.
    const Mesh ball = sphere({0, 0, 0}, 10, 4);
    std::vector<Index> kept;
    for (Index i = 0; i < ball.triangles.size(); ++i)
        if (ball.corner(i, 0).z + 0.2 * ball.corner(i, 0).x * ball.corner(i, 0).y / 10 < 0)
            kept.push_back(i);
    const Mesh half = subset(ball, kept);
    refuses(half, "too large to guess");
    CHECK(repaired(half).problem().place.find(" mm") != std::string::npos);
    CHECK(repaired(half, {.largestHoleShare = 10}).ok());
    refuses(without(ball, {0, 1, 2, 3, 4, 5}), "too large to guess", {.largestHoleShare = 0.01});
}

TEST_CASE("repair: the raw Stanford bunny becomes sound")
{
    const Mesh bunny = binaryStl(reference("stl-models/objects/bunny.bin.stl"));
    const Repaired r = mend(bunny);
    CHECK(says(r, "filled 5 holes"));
    CHECK(r.report.volumeAfterMm3 > r.report.volumeBeforeMm3);
    CHECK(r.report.volumeAfterMm3 == Approx(r.report.volumeBeforeMm3).epsilon(0.05));
    // Every triangle of the scan is still there.
    CHECK(r.mesh.triangles.size() > bunny.triangles.size());
    for (std::size_t i = 0; i < bunny.triangles.size(); i += 1000)
        CHECK(r.mesh.corner(i, 0) == bunny.corner(i, 0));
}

TEST_CASE("repair: turned triangles and bodies are turned back")
{
    Mesh m = sphere({0, 0, 0}, 10, 3);
    const double v = volume(m);
    for (const std::size_t i : {5u, 77u, 300u, 301u})
        std::swap(m.triangles[i][0], m.triangles[i][1]);
    const Repaired some = mend(m);
    CHECK(says(some, "turned 4 triangles to agree"));
    CHECK(volume(some.mesh) == Approx(v));
    CHECK(some.report.surfaceMovedMm < 1e-12);

    const Repaired all = mend(turnedOver(sphere({0, 0, 0}, 10, 3)));
    CHECK(says(all, "turned 1 shell"));
    CHECK(volume(all.mesh) == Approx(v));
}

TEST_CASE("repair: inside out with a cavity, the cavity stays")
{
    const Mesh hollow = together({cube({0, 0, 0}, 10), turnedOver(cube({2, 2, 2}, 6))});
    CHECK(volume(mend(turnedOver(hollow)).mesh) == Approx(784));
    // One body of two, and a body in a cavity.
    CHECK(volume(mend(together({hollow, turnedOver(cube({20, 0, 0}, 3))})).mesh) == Approx(784 + 27));
    CHECK(volume(mend(together({hollow, turnedOver(cube({4, 4, 4}, 2))})).mesh) == Approx(784 + 8));
}

TEST_CASE("repair: duplicates go, in either winding")
{
    Mesh m = cube({0, 0, 0}, 10);
    m.triangles.push_back({m.triangles[4][1], m.triangles[4][2], m.triangles[4][0]});
    m.triangles.push_back({m.triangles[7][1], m.triangles[7][0], m.triangles[7][2]});
    CHECK(volume(mend(m).mesh) == Approx(1000));
    CHECK(mend(m).mesh.triangles.size() == 12);
    // The same body twice, welded or not.
    CHECK(volume(mend(together({cube({0, 0, 0}, 10), cube({0, 0, 0}, 10)})).mesh) == Approx(1000));
    CHECK(volume(mend(weldedTogether({cube({0, 0, 0}, 10), cube({0, 0, 0}, 10)})).mesh) == Approx(1000));
    // Every face on both sides, as some exporters write them.
    CHECK(volume(mend(together({cube({0, 0, 0}, 10), turnedOver(cube({0, 0, 0}, 10))})).mesh) == Approx(1000));
}

TEST_CASE("repair: inner walls go")
{
    // A box of two chambers with one wall between them, of one sheet and of two.
    const Mesh left = cuboid({0, 0, 0}, {5, 10, 10}), right = cuboid({5, 0, 0}, {10, 10, 10});
    const Repaired two = mend(weldedTogether({left, right}));
    CHECK(volume(two.mesh) == Approx(1000));
    CHECK(area(two.mesh) == Approx(600));
    const Repaired one = mend(weldedTogether({left, without(right, {10, 11})}));
    CHECK(volume(one.mesh) == Approx(1000));
    CHECK(area(one.mesh) == Approx(600));
    CHECK(says(one, "dropped inner walls or fins: 2 triangles, 100 mm2"));
}

TEST_CASE("repair: a flap without thickness goes, and is named")
{
    // A quad folded back on itself stands out from a cube's edge; every edge is balanced.
    Mesh m = cube({0, 0, 0}, 10);
    m.points.push_back({15, 0, 15});
    m.triangles.push_back({5, 6, 8});
    m.triangles.push_back({6, 5, 8});
    const Repaired r = mend(m);
    CHECK(volume(r.mesh) == Approx(1000));
    CHECK(bounds(r.mesh).max.x == 10);
    CHECK((says(r, "back to back") || says(r, "dropped 2 duplicate triangles")));
}

TEST_CASE("repair: loose sheets go and are named, the body stays as it is")
{
    const Mesh loose = soup({{20, 0, 0}, {25, 0, 0}, {20, 5, 0}}, {{0, 1, 2}});
    const Repaired r = mend(together({cube({0, 0, 0}, 10), loose}));
    CHECK(r.mesh.triangles.size() == 12);
    CHECK(volume(r.mesh) == Approx(1000));
    CHECK(bounds(r.mesh).max.x == 10);
    CHECK(says(r, "dropped 1 loose sheet that enclosed nothing, 25 mm2"));
}

TEST_CASE("repair: what falls apart when touching points are parted is united again")
{
    // Cubes of a lattice at random: many touch in edges and corners.
    std::mt19937 random(2);
    Mesh m;
    int cubes = 0;
    for (int x = 0; x < 6; ++x)
        for (int y = 0; y < 6; ++y)
            for (int z = 0; z < 6; ++z)
                if (random() % 2 == 0) {
                    m = joined(m, cube({double(x), double(y), double(z)}, 1));
                    ++cubes;
                }
    const Repaired r = mend(m);
    CHECK(volume(r.mesh) == Approx(cubes).epsilon(1e-3));
    CHECK(says(r, "parted the surface"));
}

TEST_CASE("repair: fins go and are named")
{
    Mesh m = cube({0, 0, 0}, 10);
    m.points.push_back({15, 15, 10});
    m.triangles.push_back({6, 5, 8});
    const Repaired r = mend(m);
    CHECK(volume(r.mesh) == Approx(1000));
    CHECK(says(r, "dropped inner walls or fins: 1 triangle"));
}

TEST_CASE("repair: overlapping cubes are united, volume by inclusion and exclusion")
{
    const Mesh a = cube({0, 0, 0}, 10), b = cube({6, 5, 4}, 10);
    const Repaired r = mend(together({a, b}));
    CHECK(volume(r.mesh) == Approx(2000 - 4 * 5 * 6).epsilon(1e-12));
    CHECK(says(r, "united what overlapped"));
    CHECK(says(r, "120 mm3 were enclosed more than once"));
    CHECK(healthOf(r.mesh).bodies.size() == 1);
}

TEST_CASE("repair: bodies face to face, edge to edge, corner to corner, one in the other")
{
    // Flush faces with other diagonals, half over each other.
    CHECK(volume(mend(together({cube({0, 0, 0}, 10), cube({10, 3, 4}, 10)})).mesh) == Approx(2000));
    CHECK(volume(mend(together({cube({0, 0, 0}, 10), cube({5, 0, 0}, 10)})).mesh) == Approx(1500));
    CHECK(volume(mend(together({cube({0, 0, 0}, 10), cube({2, 2, 2}, 3)})).mesh) == Approx(1000));
    // Standing on the other's floor inside.
    CHECK(volume(mend(together({cube({0, 0, 0}, 10), cube({2, 2, 0}, 3)})).mesh) == Approx(1000));

    for (const bool weld : {true, false}) {
        const auto both = [&](const Mesh& a, const Mesh& b) {
            return weld ? weldedTogether({a, b}) : together({a, b});
        };
        const Repaired edge = mend(both(cube({0, 0, 0}, 10), cube({10, 10, 0}, 10)));
        CHECK(volume(edge.mesh) == Approx(2000).epsilon(1e-4));
        CHECK(healthOf(edge.mesh).bodies.size() == 2);
        CHECK(says(edge, "parted the surface"));
        const Repaired corner = mend(both(cube({0, 0, 0}, 10), cube({10, 10, 10}, 10)));
        CHECK(volume(corner.mesh) == Approx(2000).epsilon(1e-4));
        CHECK(healthOf(corner.mesh).bodies.size() == 2);
        CHECK(corner.report.surfaceMovedMm < 0.01);
    }
}

TEST_CASE("repair: one of two cubes that share an edge is inside out")
{
    const Repaired r = mend(weldedTogether({cube({0, 0, 0}, 10), turnedOver(cube({10, 10, 0}, 10))}));
    CHECK(volume(r.mesh) == Approx(2000).epsilon(1e-4));
    CHECK(says(r, "turned 1 shell"));
}

TEST_CASE("repair: cavities that touch at a corner are kept apart")
{
    const Mesh m =
        weldedTogether({cube({0, 0, 0}, 30), turnedOver(cube({5, 5, 5}, 10)), turnedOver(cube({15, 15, 15}, 10))});
    CHECK(volume(mend(m).mesh) == Approx(27000 - 2000).epsilon(1e-4));
}

TEST_CASE("repair: three balls, volume by inclusion and exclusion")
{
    // Pairs overlap, all three don't. Lens of two equal balls at distance d: pi (4 r + d)(2 r - d)^2 / 12.
    const double r = 10, d = 16;
    const Mesh m = together({sphere({0, 0, 0}, r, 5), sphere({d, 0, 0}, r, 5), sphere({2 * d, 0, 0}, r, 5)});
    const Repaired out = mend(m);
    const double ball = 4 * std::numbers::pi * r * r * r / 3;
    const double lens = std::numbers::pi * (4 * r + d) * (2 * r - d) * (2 * r - d) / 12;
    CHECK(volume(out.mesh) == Approx(3 * ball - 2 * lens).epsilon(3e-3));
    CHECK(healthOf(out.mesh).bodies.size() == 1);
    // Exactly what the facets enclose: the sum less what was there twice.
    CHECK(out.report.volumeBeforeMm3 > out.report.volumeAfterMm3);
}

TEST_CASE("repair: a closed tube that runs through itself loses its inner skin")
{
    // A tube along a lemniscate of Gerono, (20 sin u, 20 sin u cos u), which crosses itself square in the middle.
    const int n = 96, sides = 16;
    const double tube = 2;
    Mesh m;
    for (int i = 0; i < n; ++i) {
        const double u = 2 * std::numbers::pi * (i + 0.3) / n;
        const Vec3 at{20 * std::sin(u), 20 * std::sin(u) * std::cos(u), 0};
        const Vec3 along = normalized({std::cos(u), std::cos(2 * u), 0});
        const Vec3 side{along.y, -along.x, 0};
        for (int j = 0; j < sides; ++j) {
            const double v = 2 * std::numbers::pi * (j + 0.2) / sides;
            m.points.push_back(at + tube * (std::cos(v) * side + std::sin(v) * Vec3{0, 0, 1}));
        }
    }
    const auto at = [&](int i, int j) { return static_cast<Index>(i % n * sides + j % sides); };
    for (int i = 0; i < n; ++i)
        for (int j = 0; j < sides; ++j) {
            m.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
            m.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
        }
    const double before = std::abs(volume(m));
    const Repaired out = mend(m);
    // Two tubes crossing square share 16 r^3 / 3 (Archimedes); the facets take a little off, the crossing isn't quite
    // straight.
    CHECK(before - volume(out.mesh) == Approx(16 * tube * tube * tube / 3).epsilon(0.1));
    CHECK(healthOf(out.mesh).bodies.size() == 1);
    // Genus: Euler number of a figure of eight with a solid crossing, 2 - 2 * 2.
    const Topology t = topologyOf(out.mesh);
    CHECK(static_cast<long>(out.mesh.points.size()) - static_cast<long>(t.edges) +
              static_cast<long>(out.mesh.triangles.size()) ==
          -2);
}

TEST_CASE("repair: a cavity that breaks through the wall becomes an opening")
{
    const Repaired r = mend(together({cube({0, 0, 0}, 20), turnedOver(cuboid({5, 5, 5}, {10, 10, 20.5}))}));
    CHECK(volume(r.mesh) == Approx(8000 - 5 * 5 * 15));
    CHECK(says(r, "left out 12.5 mm3 that were inside out"));
}

TEST_CASE("repair: triangles without area and T-joints are closed up")
{
    // The top is one triangle less: its edge is split by a point on one side only.
    Mesh split = cube({0, 0, 0}, 10);
    split.points.push_back({10, 5, 10}); // on the edge 5-6
    split.triangles[2] = {4, 5, 8};      // top (4, 5, 6) in two; the side (1, 6, 5) still runs 5-6 whole
    split.triangles.push_back({4, 8, 6});
    const Repaired open = mend(split);
    CHECK(volume(open.mesh) == Approx(1000));
    Mesh needle = split;
    needle.triangles.push_back({5, 6, 8});
    const Repaired closed = mend(needle);
    CHECK(volume(closed.mesh) == Approx(1000));
    CHECK(topologyOf(closed.mesh).degenerateTriangles == 0);
}

TEST_CASE("repair: what has no inside is refused")
{
    refuses({}, "no triangles");
    refuses(soup({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, {{0, 1, 2}}), "encloses no volume");
    refuses(sheet(4), "encloses no volume");
    refuses(soup({{0, 0, 0}, {1, 0, 0}, {2, 0, 0}}, {{0, 1, 2}}), "encloses no volume");
    refuses(soup({{1, 1, 1}}, {{0, 0, 0}}), "encloses no volume");
    Mesh wavy = sheet(6);
    for (Vec3& p : wavy.points)
        p.z = std::sin(2 * p.x) * std::cos(2 * p.y);
    refuses(wavy, "too large to guess");
}

TEST_CASE("repair: a band with one side is refused")
{
    Mesh band;
    const int n = 24;
    for (int i = 0; i < n; ++i) {
        const double u = 2 * std::numbers::pi * i / n;
        for (const double s : {-2.0, 2.0}) {
            const double r = 10 + s * std::cos(u / 2);
            band.points.push_back({r * std::cos(u), r * std::sin(u), s * std::sin(u / 2)});
        }
    }
    for (Index i = 0; i < n; ++i) {
        const Index a = 2 * i, b = 2 * i + 1;
        const Index c = i + 1 < n ? a + 2 : 1, d = i + 1 < n ? b + 2 : 0;
        band.triangles.push_back({a, c, b});
        band.triangles.push_back({b, c, d});
    }
    refuses(band, "one side only");
}

TEST_CASE("repair: nothing large is lost without a word")
{
    // A figure of eight: two lobes through one waist, one of them inside out. Uniting would drop that lobe.
    const Mesh eight = soup(
        {{-10, -5, -5}, {-10, 5, -5}, {-10, 5, 5}, {-10, -5, 5}, {10, -5, -5}, {10, 5, -5}, {10, 5, 5}, {10, -5, 5}},
        {{0, 2, 1},
         {0, 3, 2}, // left end
         {4, 5, 6},
         {4, 6, 7}, // right end, seen from its own lobe
         {0, 1, 7},
         {0, 7, 6},
         {1, 2, 4},
         {1, 4, 7},
         {2, 3, 5},
         {2, 5, 4},
         {3, 0, 6},
         {3, 6, 5}});
    const Result<Repaired> r = repaired(eight);
    if (r) {
        CHECK(healthOf(r->mesh).sound());
        CHECK(bounds(r->mesh).extents().x == Approx(20));
    } else {
        CHECK(r.problem().reason == Reason::NotRepairable);
        CHECK_FALSE(r.problem().place.empty());
    }
}

TEST_CASE("repair: numbers that aren't finite are refused")
{
    Mesh m = cube({0, 0, 0}, 1);
    m.points[2].z = std::numeric_limits<double>::quiet_NaN();
    const Result<Repaired> r = repaired(m);
    REQUIRE_FALSE(r);
    CHECK(r.problem().reason == Reason::NumberNotFinite);
}

TEST_CASE("repair: cancel")
{
    Context context;
    context.cancel();
    const Result<Repaired> r = repaired(without(cube({0, 0, 0}, 1), {0}), {}, context);
    REQUIRE_FALSE(r);
    CHECK(r.problem().reason == Reason::Cancelled);
}

TEST_CASE("repair: labels stay with their triangles")
{
    Mesh m = without(cube({0, 0, 0}, 10), {2});
    m.labels.assign(m.triangles.size(), 5);
    const Repaired r = mend(m);
    CHECK(std::count(r.mesh.labels.begin(), r.mesh.labels.end(), Label{5}) == 11);
    CHECK(std::count(r.mesh.labels.begin(), r.mesh.labels.end(), skinLabel) == 1);
    Mesh two = together({cube({0, 0, 0}, 10), cube({6, 5, 4}, 10)});
    two.labels.resize(24);
    std::fill(two.labels.begin(), two.labels.begin() + 12, 7);
    std::fill(two.labels.begin() + 12, two.labels.end(), 8);
    const Repaired united = mend(two);
    for (std::size_t i = 0; i < united.mesh.triangles.size(); ++i) {
        Box3 box;
        for (int k = 0; k < 3; ++k)
            box.add(united.mesh.corner(i, k));
        if (box.min.x < 6)
            CHECK(united.mesh.label(i) == 7);
        if (box.max.x > 10)
            CHECK(united.mesh.label(i) == 8);
    }
}

TEST_CASE("repair: random tangles of boxes and balls, volume by counting points")
{
    std::mt19937 random(11);
    const auto uniform = [&](double a, double b) { return a + (b - a) * static_cast<double>(random()) / 4294967296.0; };
    for (int round = 0; round < 6; ++round) {
        std::vector<Mesh> bodies;
        Mesh all;
        for (int i = 0; i < 5; ++i) {
            const Vec3 at{uniform(0, 10), uniform(0, 10), uniform(0, 10)};
            Mesh body = i % 2 == 0
                            ? transformed(cube({-4, -4, -4}, 8),
                                          Transform::translation(at) *
                                              Transform::rotation({uniform(-1, 1), 1, uniform(-1, 1)}, uniform(0, 3)))
                            : sphere(at, uniform(2, 5), 2);
            bodies.push_back(body);
            all = joined(all, body);
        }
        const Repaired r = mend(all);
        // In the union exactly where in any: the same random points asked of both.
        int wrong = 0, inside = 0;
        const auto winding = [](const Mesh& m, Vec3 p) {
            // Solid angle (Van Oosterom and Strackee 1983): no code shared with what is tested.
            double sum = 0;
            for (std::size_t t = 0; t < m.triangles.size(); ++t) {
                const Vec3 a = m.corner(t, 0) - p, b = m.corner(t, 1) - p, c = m.corner(t, 2) - p;
                const double la = length(a), lb = length(b), lc = length(c);
                sum += 2 *
                       std::atan2(dot(a, cross(b, c)), la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb);
            }
            return sum / (4 * std::numbers::pi);
        };
        for (int i = 0; i < 150; ++i) {
            const Vec3 p{uniform(-4, 14), uniform(-4, 14), uniform(-4, 14)};
            const bool any =
                std::any_of(bodies.begin(), bodies.end(), [&](const Mesh& b) { return winding(b, p) > 0.5; });
            inside += any ? 1 : 0;
            wrong += any != (winding(r.mesh, p) > 0.5) ? 1 : 0;
        }
        CHECK(wrong == 0);
        CHECK(inside > 10);
    }
}
