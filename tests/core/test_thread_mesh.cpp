// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/thread_mesh.h"

#include "core/thread_facets.h"
#include "core/thread_profile.h"
#include "mesh/distance.h"
#include "mesh/mass.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec3;
using std::numbers::pi;

namespace {

/// Coarse for speed; what is claimed must hold at any chord error.
constexpr double coarseMm = 0.1;

ThreadedShape shapeOf(const char* name, double lengthMm, double clearanceMm = 0.3, double chordMm = coarseMm)
{
    ThreadedShape shape;
    shape.thread = threadFrom(name).value();
    shape.lengthMm = lengthMm;
    shape.clearanceMm = clearanceMm;
    shape.chordMm = chordMm;
    shape.phase = 0.7;
    return shape;
}

/// Both profiles, 1 to 4 starts, both hands.
std::vector<ThreadedShape> family()
{
    return {shapeOf("Printable 40x6", 40),
            shapeOf("Printable 40x6LH", 40),
            shapeOf("Printable 30x10(P5)", 30),
            shapeOf("Printable 60x30(P10)LH", 50),
            shapeOf("Printable 24x16(P4)", 20),
            shapeOf("Printable 8x3", 20),
            shapeOf("Tr 40x7", 40),
            shapeOf("Tr 40x7LH", 40),
            shapeOf("Tr 60x18(P9)LH", 50),
            shapeOf("Tr 36x18(P6)", 40),
            shapeOf("Tr 80x40(P10)", 60),
            shapeOf("Tr 20x4", 25)};
}

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

/// The rim closed by a fan in z = 0.
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

/// The exact least distance of two meshes: of every edge of one and every corner of the other.
double gapBetween(const mesh::Mesh& moved, const mesh::Mesh& fixed, const mesh::SurfaceTree& tree)
{
    double least = 1e300;
    for (std::size_t t = 0; t < moved.triangles.size(); ++t)
        for (int k = 0; k < 3; ++k) {
            const mesh::Index a = moved.triangles[t][static_cast<std::size_t>(k)];
            const mesh::Index b = moved.triangles[t][static_cast<std::size_t>((k + 1) % 3)];
            if (a < b)
                least = std::min(least, tree.distanceToSegment(moved.points[a], moved.points[b]).distanceMm);
        }
    const mesh::SurfaceTree movedTree(moved);
    for (const Vec3 p : fixed.points)
        least = std::min(least, movedTree.distance(p));
    return least;
}

} // namespace

TEST_CASE("thread mesh: closed but for one rim, free of self-intersections")
{
    for (const ThreadedShape& shape : family()) {
        INFO(designation(shape.thread));
        for (const bool stud : {true, false}) {
            const auto made = stud ? externalThread(shape) : internalThread(shape);
            REQUIRE(made.ok());
            requireOneRim(*made);
            CHECK(mesh::selfIntersections(made->mesh, 1).empty());
            const mesh::Mesh whole = capped(*made, stud);
            CHECK(mesh::topologyOf(whole).solid());
            CHECK((mesh::volume(whole) > 0) == stud);
        }
    }
}

TEST_CASE("thread mesh: the pair keeps its clearance at rest and as it is turned out")
{
    for (const ThreadedShape& shape : family()) {
        INFO(designation(shape.thread));
        const mesh::Mesh stud = externalThread(shape)->mesh;
        const mesh::Mesh bore = internalThread(shape)->mesh;
        const mesh::SurfaceTree tree(stud);
        double tightest = 1e300;
        for (int k = 0; k <= 8; ++k) {
            const double hand = shape.thread.leftHand ? -1 : 1;
            const mesh::Mesh lifted = mesh::transformed(bore, screwMotion(shape.thread, hand * k * pi / 4));
            const double gap = gapBetween(lifted, stud, tree);
            CHECK(gap >= shape.clearanceMm - 1e-6);
            tightest = std::min(tightest, gap);
        }
        // Not by standing off: no more than the share of the chord error comes on top (the bound is on the safe side by
        // the lead angle: 1 / cos of up to 30 degrees here).
        CHECK(tightest < shape.clearanceMm * 1.16 + shape.chordMm);
    }
}
