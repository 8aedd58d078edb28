// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint_dowel.h"
#include "core/joint_layout.h"
#include "core/joint_room.h"
#include "core/jointed_pieces.h"
#include "core/mark.h"
#include "mesh/boolean.h"
#include "mesh/distance.h"
#include "mesh/mass.h"
#include "mesh/primitives.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"

#include <catch2/catch.hpp>

#include <random>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec3;

namespace {

struct Case {
    mesh::Mesh part;
    CutPlan plan;
    std::vector<Piece> pieces;
    std::vector<Seam> seams;
    JointLayout layout;
    std::vector<mesh::Mesh> jointed;
};

Case made(mesh::Mesh part, const std::vector<mesh::Plane>& planes, const JointOptions& options = {})
{
    Case c;
    c.part = std::move(part);
    c.plan = planByCutting(c.part, planes).value();
    c.pieces = piecesOf(cutByPlan(c.part, c.plan).value());
    c.seams = seamsOf(c.pieces, c.plan);
    c.layout = layOutJoints(c.pieces, c.seams, c.plan, options).value();
    c.jointed = jointedPieces(c.pieces, c.seams, c.plan, c.layout).value();
    return c;
}

mesh::Plane planeOf(const Case& c, const Joint& j)
{
    return c.plan.nodes[static_cast<std::size_t>(c.seams[j.seam].cut)].plane;
}

/// Everything that a layout promises, measured on the meshes.
void requireSound(const Case& c, const JointOptions& options = {})
{
    double sum = 0;
    for (const mesh::Mesh& m : c.jointed) {
        REQUIRE(mesh::topologyOf(m).solid());
        REQUIRE(mesh::selfIntersections(m, 1).empty());
        sum += mesh::volume(m);
    }
    const double whole = mesh::volume(c.part);
    CHECK(sum + sunkVolumeMm3(c.seams, c.plan, c.layout).value() == Approx(whole).epsilon(1e-9));
    for (const Joint& j : c.layout.joints) {
        const mesh::Mesh dowel = dowelInPlace(j, planeOf(c, j));
        REQUIRE(mesh::topologyOf(dowel).solid());
        for (const int number : {c.seams[j.seam].pieceBelow, c.seams[j.seam].pieceAbove}) {
            const mesh::Mesh& piece = c.jointed[static_cast<std::size_t>(number) - 1];
            REQUIRE_FALSE(mesh::meshesIntersect(dowel, piece));
            const mesh::SurfaceTree surface(piece);
            double least = 1e300;
            for (const Vec3 p : dowel.points)
                least = std::min(least, surface.distance(p));
            // Corners of the dowel against flats of the bore: the least gap is the clearance, never less.
            CHECK(least >= options.clearances.dowelMm - 1e-9);
            CHECK(least <= options.clearances.dowelMm + 0.05);
        }
    }
}

} // namespace

TEST_CASE("seams: a box cut by two planes has four pieces and four seams")
{
    const Case c =
        made(mesh::box({0, 0, 0}, {100, 80, 60}), {mesh::planeAt({1, 0, 0}, 50), mesh::planeAt({0, 1, 0}, 40)});
    CHECK(c.pieces.size() == 4);
    REQUIRE(c.seams.size() == 4);
    double area = 0;
    for (const Seam& s : c.seams)
        area += s.areaMm2;
    CHECK(area == Approx(80 * 60 + 2 * 50 * 60).epsilon(1e-6));
    CHECK(c.seams[0].mark == "A");
    CHECK(c.seams[3].mark == "D");
}

TEST_CASE("seams: faces cut differently on the two sides meet in their overlaps")
{
    // Left of x = 50 cut at y = 30, right of it at y = 50: three overlaps on the face, and one seam in each half.
    CutPlan plan;
    plan.nodes = {{mesh::planeAt({1, 0, 0}, 50), 1, 2},
                  {mesh::planeAt({0, 1, 0}, 30), -1, -1},
                  {mesh::planeAt({0, 1, 0}, 50), -1, -1}};
    const auto pieces = piecesOf(cutByPlan(mesh::box({0, 0, 0}, {100, 80, 60}), plan).value());
    REQUIRE(pieces.size() == 4);
    const auto seams = seamsOf(pieces, plan);
    REQUIRE(seams.size() == 5);
    std::vector<double> onFirst;
    for (const Seam& s : seams)
        if (s.cut == 0)
            onFirst.push_back(s.areaMm2);
    std::sort(onFirst.begin(), onFirst.end());
    REQUIRE(onFirst.size() == 3);
    CHECK(onFirst[0] == Approx(20 * 60).epsilon(1e-6));
    CHECK(onFirst[1] == Approx(30 * 60).epsilon(1e-6));
    CHECK(onFirst[2] == Approx(30 * 60).epsilon(1e-6));
}

TEST_CASE("dowel: lies on its flat, base at zero, axis along x")
{
    Joint j;
    j.at = {3, 4};
    j.diameterMm = 10;
    j.depthMm = 15;
    j.clearanceMm = 0.25;
    const mesh::Plane cut = mesh::planeAt({1, 2, 3}, 7);
    const mesh::Mesh lying = mesh::transformed(dowelInPlace(j, cut), dowelPrintPose(j, cut));
    const mesh::Box3 box = mesh::bounds(lying);
    CHECK(box.min.z == Approx(0).margin(1e-12));
    CHECK(box.extents().x == Approx(30).epsilon(1e-12));
    CHECK(box.extents().z == Approx(5 + 4).epsilon(0.01)); // radius and 0.8 radius
    CHECK(mesh::volume(lying) > 0);
    double lowArea = 0;
    for (std::size_t t = 0; t < lying.triangles.size(); ++t)
        if (lying.corner(t, 0).z < 1e-9 && lying.corner(t, 1).z < 1e-9 && lying.corner(t, 2).z < 1e-9)
            lowArea += mesh::triangleArea(lying, t);
    CHECK(lowArea == Approx(2 * 3.0 * 28).epsilon(0.02)); // chord 2 r sqrt(1 - 0.8^2), less the chamfers
}

TEST_CASE("joints: two dowels on each face of a box, far apart, with clearance and walls")
{
    const Case c = made(mesh::box({0, 0, 0}, {200, 80, 60}), {mesh::planeAt({1, 0, 0}, 100)});
    REQUIRE(c.layout.joints.size() == 2);
    CHECK_FALSE(c.layout.joints[0].keyed);
    CHECK(mesh::length(c.layout.joints[0].at - c.layout.joints[1].at) > 50);
    CHECK(c.layout.marks.size() == 1);
    CHECK(c.layout.marks[0].textBelow == "1-2 A");
    CHECK(c.layout.marks[0].textAbove == "2-1 A");
    requireSound(c);
}

TEST_CASE("joints: an oblique cut, and three cuts that share pieces")
{
    requireSound(made(mesh::box({0, 0, 0}, {120, 80, 60}), {mesh::planeAt({2, 1, 0.5}, 70)}));
    const Case c = made(mesh::box({0, 0, 0}, {120, 120, 120}),
                        {mesh::planeAt({1, 0, 0}, 60), mesh::planeAt({0, 1, 0}, 60), mesh::planeAt({0, 0, 1}, 60)});
    CHECK(c.pieces.size() == 8);
    CHECK(c.seams.size() == 12);
    CHECK(c.layout.joints.size() >= 24);
    requireSound(c);
}

TEST_CASE("joints: a narrow bar has room for one keyed dowel")
{
    const Case c = made(mesh::box({0, 0, 0}, {200, 12, 12}), {mesh::planeAt({1, 0, 0}, 100)});
    REQUIRE(c.layout.joints.size() == 1);
    CHECK(c.layout.joints[0].keyed);
    requireSound(c);
    // Keyed: turned by 20 degrees about its axis the dowel meets its bore.
    const Joint& j = c.layout.joints[0];
    const mesh::PlaneFrame f = mesh::frameOf(planeOf(c, j));
    const Vec3 axis = f.space(j.at);
    const mesh::Transform turn = mesh::Transform::translation(axis) *
                                 mesh::Transform::rotation(f.normal, 20 * M_PI / 180) *
                                 mesh::Transform::translation(-axis);
    CHECK(mesh::meshesIntersect(mesh::transformed(dowelInPlace(j, planeOf(c, j)), turn), c.jointed[0]));
}

TEST_CASE("joints: a rod of 10 mm just holds a dowel of 4 mm")
{
    // 2 mm radius, 0.25 clearance, 0.15 mouth and 2.4 wall are 4.8 of the 5 mm there are.
    const Case c = made(mesh::box({0, 0, 0}, {200, 10, 10}), {mesh::planeAt({1, 0, 0}, 100)});
    REQUIRE(c.layout.joints.size() == 1);
    CHECK(c.layout.joints[0].diameterMm == 4);
    CHECK(c.layout.joints[0].keyed);
    requireSound(c);
}

TEST_CASE("joints: a thin plate gets a butt face and a line that says why")
{
    const Case c = made(mesh::box({0, 0, 0}, {200, 80, 5}), {mesh::planeAt({1, 0, 0}, 100)});
    CHECK(c.layout.joints.empty());
    REQUIRE(c.layout.reports.size() == 1);
    CHECK(c.layout.reports[0].butt);
    CHECK(c.layout.reports[0].text.find("4 mm") != std::string::npos);
    CHECK(c.layout.reports[0].roomMm > 1);
    CHECK(c.layout.reports[0].roomMm <= 2.5);
}

TEST_CASE("joints: room is measured in 3D, not only on the face")
{
    // A wedge 40 wide on the cut face that tapers to nothing 8 mm below it on one side: dowels keep away from the
    // slanted skin though the face itself would have room.
    mesh::Mesh wedge = mesh::box({-50, -20, -20}, {50, 20, 20});
    for (Vec3& p : wedge.points)
        if (p.x > 0)
            p.y *= 0.15;
    const Case c = made(std::move(wedge), {mesh::planeAt({1, 0, 0}, 10)});
    requireSound(c);
    for (const Joint& j : c.layout.joints)
        for (const int number : {1, 2}) {
            const mesh::SurfaceTree skin(c.pieces[static_cast<std::size_t>(number) - 1].mesh, [&](std::size_t t) {
                return c.pieces[static_cast<std::size_t>(number) - 1].mesh.label(t) == 0;
            });
            const mesh::PlaneFrame f = mesh::frameOf(planeOf(c, j));
            for (double h = 0; h <= j.depthMm + j.endClearanceMm; h += 0.25)
                CHECK(skin.distance(f.space(j.at, number == 1 ? -h : h)) >=
                      j.diameterMm / 2 + j.clearanceMm + JointOptions{}.wallMm);
        }
}

TEST_CASE("joints: none asked for leaves plain faces with marks")
{
    JointOptions options;
    options.wanted = false;
    const Case c = made(mesh::box({0, 0, 0}, {200, 80, 60}), {mesh::planeAt({1, 0, 0}, 100)}, options);
    CHECK(c.layout.joints.empty());
    CHECK(c.layout.marks.size() == 1);
    requireSound(c, options);
}

TEST_CASE("joints: the same layout every time")
{
    const auto once = made(mesh::torus(80, 25, 64, 32), {mesh::planeAt({1, 0, 0}, 5)});
    const auto again = made(mesh::torus(80, 25, 64, 32), {mesh::planeAt({1, 0, 0}, 5)});
    REQUIRE(once.layout.joints.size() == again.layout.joints.size());
    CHECK(once.pieces.size() == 2);
    CHECK(once.seams.size() == 2);
    for (std::size_t i = 0; i < once.layout.joints.size(); ++i)
        CHECK(once.layout.joints[i].at == again.layout.joints[i].at);
    requireSound(once);
}

TEST_CASE("marks: sunk into both faces at one place, read from outside on each")
{
    const Case c = made(mesh::box({0, 0, 0}, {200, 80, 60}), {mesh::planeAt({1, 0, 0}, 100)});
    REQUIRE(c.layout.marks.size() == 1);
    const Mark& m = c.layout.marks[0];
    const mesh::Plane cut = c.plan.nodes[0].plane;
    // The first letter stands to the left for someone who looks at the face: its middle is on the side that
    // (up x outward) points away from.
    for (const bool above : {false, true}) {
        const auto recesses = markRecesses(m, cut, above);
        REQUIRE(recesses.size() >= 4);
        const mesh::PlaneFrame own = mesh::frameOf(outwardPlane(cut, above));
        const mesh::Vec2 middle = own.flat(mesh::frameOf(cut).space(m.at));
        double extent = 0;
        for (const auto& r : recesses)
            for (const auto& loop : r.levels[0].outline)
                for (const mesh::Vec2 p : loop)
                    extent = std::max(extent, mesh::length(p - middle));
        CHECK(extent < 0.5 * std::hypot(m.heightMm * 6, m.heightMm * 1.6));
    }
    // The A stands last: to the right for whoever looks at the face, so on opposite sides of the middle in space, and
    // at one height. It is the only letter with an island.
    const auto placeOfA = [&](bool above) {
        const mesh::PlaneFrame f = mesh::frameOf(outwardPlane(cut, above));
        mesh::Vec2 sum{0, 0};
        double n = 0;
        for (const auto& r : markRecesses(m, cut, above))
            if (r.levels[0].outline.size() == 2)
                for (const mesh::Vec2 p : r.levels[0].outline[0]) {
                    sum = sum + p;
                    n += 1;
                }
        REQUIRE(n > 0);
        return mesh::frameOf(cut).flat(f.space((1 / n) * sum)) - m.at;
    };
    const mesh::Vec2 x{std::cos(m.angle), std::sin(m.angle)}, y{-x.y, x.x};
    const mesh::Vec2 below = placeOfA(false), above = placeOfA(true);
    CHECK(mesh::dot(below, x) > m.heightMm);
    CHECK(mesh::dot(above, x) == Approx(-mesh::dot(below, x)).margin(0.2 * m.heightMm));
    CHECK(mesh::dot(above, y) == Approx(mesh::dot(below, y)).margin(1e-3));
}

TEST_CASE("joint room: distance between segments")
{
    // Crossing at right angles one apart; parallel; end to end (closed forms).
    CHECK(segmentDistance({-1, 0, 0}, {1, 0, 0}, {0, -1, 1}, {0, 1, 1}) == Approx(1));
    CHECK(segmentDistance({0, 0, 0}, {1, 0, 0}, {0, 2, 0}, {1, 2, 0}) == Approx(2));
    CHECK(segmentDistance({0, 0, 0}, {1, 0, 0}, {3, 0, 0}, {4, 0, 0}) == Approx(2));
    CHECK(segmentDistance({0, 0, 0}, {0, 0, 0}, {3, 4, 0}, {3, 4, 0}) == Approx(5));
}
