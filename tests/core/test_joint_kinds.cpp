// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/hardware.h"
#include "core/joint_allowed.h"
#include "core/joint_size.h"
#include "core/open_way.h"
#include "mesh/primitives.h"
#include "mesh/region.h"

#include <catch2/catch.hpp>

#include <random>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec2;
using mesh::Vec3;
using Kind = JointForm::Kind;
using Hold = JointForm::Hold;

namespace {

std::shared_ptr<const Project> cutProject(const mesh::Mesh& part, const std::vector<mesh::Plane>& planes)
{
    auto p = std::make_shared<Project>();
    p->plan = planByCutting(part, planes).value();
    p->pieces = piecesOf(cutByPlan(part, p->plan).value());
    p->seams = seamsOf(p->pieces, p->plan);
    return p;
}

/// 200 x 150 x 150 in two: a face of 150 x 150 mm, pieces 100 mm deep. Piece 1 is below.
std::shared_ptr<const Project> cubeInTwo()
{
    return cutProject(mesh::box({0, 0, 0}, {200, 150, 150}), {mesh::planeAt({1, 0, 0}, 100)});
}

Joint jointAt(const Project& p, Kind kind, Vec3 place, double diameter, double depth, std::size_t seam = 0)
{
    Joint joint;
    joint.seam = seam;
    joint.kind = kind;
    joint.at = mesh::frameOf(p.plan.nodes[static_cast<std::size_t>(p.seams[seam].cut)].plane).flat(place);
    joint.clearanceMm = 0.3;
    joint.endClearanceMm = boreEndClearanceMm;
    joint.depthMm = depth;
    return resized(joint, diameter);
}

/// The angle in the cut's frame that points along a direction of space.
double angleTo(const Project& p, Vec3 direction)
{
    const mesh::PlaneFrame f = mesh::frameOf(p.plan.nodes[0].plane);
    return std::atan2(dot(f.v, direction), dot(f.u, direction));
}

std::string faultOf(const JointProbe& probe, const std::vector<Joint>& joints, std::size_t which = 0,
                    bool* impossible = nullptr)
{
    const auto fault = probe.fault(joints, which);
    if (impossible != nullptr)
        *impossible = fault && fault->impossible;
    return fault ? fault->text : "";
}

bool says(const std::string& text, const std::string& words)
{
    UNSCOPED_INFO(text);
    return text.find(words) != std::string::npos;
}

Joint boltAt(const Project& p, Vec3 place, double size, Hold hold, double gripMm, double depthMm = 0)
{
    Joint bolt = jointAt(p, Kind::DrawBolt, place, size, depthMm);
    bolt.hold = hold;
    bolt.gripMm = gripMm;
    if (hold == Hold::Insert)
        bolt.depthMm = heatSetInsert(size)->lengthMm;
    return bolt;
}

} // namespace

TEST_CASE("joint kinds: a screw in the middle of a large face keeps all rules, and each can be broken")
{
    const auto p = cubeInTwo();
    const JointProbe probe(p);
    const Joint good = jointAt(*p, Kind::Screw, {100, 75, 75}, 60, 54);
    CHECK(faultOf(probe, {good}) == "");
    bool impossible = false;
    Joint bad = good;
    bad.at = jointAt(*p, Kind::Screw, {100, 75, 30}, 60, 54).at;
    CHECK(says(faultOf(probe, {bad}, 0, &impossible), "leaves the face"));
    CHECK(impossible);
    bad = jointAt(*p, Kind::Screw, {100, 75, 33}, 60, 54); // 33 mm to the side: the bore fits, its wall doesn't
    const std::string thin = faultOf(probe, {bad}, 0, &impossible);
    CHECK(says(thin, "too little"));
    CHECK(says(thin, "one of 50 mm has room here"));
    CHECK_FALSE(impossible);
    CHECK(says(faultOf(probe, {jointAt(*p, Kind::Screw, {100, -20, 75}, 60, 54)}), "off the face"));
    const std::string deep = faultOf(probe, {jointAt(*p, Kind::Screw, {100, 75, 75}, 60, 99)}, 0, &impossible);
    CHECK(says(deep, "breaks through the surface of piece"));
    CHECK(says(deep, "mm deep")); // and what depth would do
    CHECK(impossible);
    // The bottom keeps its wall, no more: no ball of 30 mm is asked for past it.
    CHECK(faultOf(probe, {jointAt(*p, Kind::Screw, {100, 75, 75}, 60, 92)}) == "");
    bad = good;
    bad.thread.pitchMm = 0;
    CHECK(faultOf(probe, {bad}, 0, &impossible) != "");
    CHECK(impossible);
    bad = good;
    bad.thread.starts = 9;
    CHECK(faultOf(probe, {bad}) != "");
    bad = good;
    bad.depthMm = 16; // less than one full turn
    CHECK(says(faultOf(probe, {bad}), "full thread"));
    bad = good;
    bad.thread.trapezoidal = true;
    bad.thread.pitchMm = 9.5;
    CHECK(faultOf(probe, {bad}) != "");
    // What has to turn stands alone; a bolt may be put in afterwards.
    const Joint dowel = jointAt(*p, Kind::Dowel, {100, 20, 20}, 8, 12);
    CHECK(says(faultOf(probe, {good, dowel}), "has to turn about the screw"));
    CHECK(says(faultOf(probe, {good, dowel}, 1), "has to turn about the screw"));
    const Joint bolt = boltAt(*p, {100, 20, 20}, 8, Hold::Insert, 40);
    CHECK(faultOf(probe, {good, bolt}) == "");
    CHECK(faultOf(probe, {good, bolt}, 1) == "");
}

TEST_CASE("joint kinds: a stud that is grown on a piece stands on solid material, on its carrier only")
{
    // Piece 2 is 25 mm thin: no place for the bore, nor to stand on (30 mm and a wall).
    const auto p = cutProject(mesh::box({0, 0, 0}, {200, 150, 150}), {mesh::planeAt({1, 0, 0}, 175)});
    const JointProbe probe(p);
    Joint screw = jointAt(*p, Kind::Screw, {175, 75, 75}, 60, 54);
    screw.carrierAbove = true;
    CHECK(says(faultOf(probe, {screw}), "in piece 2 there are"));
    screw.carrierAbove = false;
    CHECK(says(faultOf(probe, {screw}), "breaks through the surface of piece 2"));
    screw = jointAt(*p, Kind::Screw, {175, 75, 75}, 40, 40);
    screw.carrierAbove = true; // 20 mm and the wall fit
    CHECK(faultOf(probe, {screw}) == "");
    Joint stud = jointAt(*p, Kind::Stud, {175, 75, 75}, 40, 40);
    CHECK(says(faultOf(probe, {stud}), "breaks through the surface of piece 2"));
}

TEST_CASE("joint kinds: two screws from both sides of a piece keep a wall between them")
{
    const auto p = cutProject(mesh::box({0, 0, 0}, {260, 150, 150}),
                              {mesh::planeAt({1, 0, 0}, 100), mesh::planeAt({1, 0, 0}, 160)});
    REQUIRE(p->seams.size() == 2);
    const JointProbe probe(p);
    const std::size_t first = p->plan.nodes[static_cast<std::size_t>(p->seams[0].cut)].plane.offset < 120 ? 0 : 1;
    Joint a = jointAt(*p, Kind::Screw, {100, 75, 75}, 40, 36, first);     // into the middle piece: 36 and a little
    Joint b = jointAt(*p, Kind::Screw, {160, 75, 75}, 40, 36, 1 - first); // stands on it: 20
    CHECK(faultOf(probe, {a, b}) == "");
    CHECK(wallBetween(p->seams, p->plan, a, b) == Approx(60 - 20 - 36).margin(1.5));
    a.depthMm = 39;
    CHECK(says(faultOf(probe, {a, b}), "too close"));
    a.depthMm = 30;
    CHECK(faultOf(probe, {a, b}) == "");
    CHECK(faultOf(probe, {a, b}, 1) == "");
    a.depthMm = 50;
    CHECK(says(faultOf(probe, {a, b}), "runs into"));
}

TEST_CASE("joint kinds: keys of each section, loose and integral")
{
    const auto p = cubeInTwo();
    const JointProbe probe(p);
    for (const auto section : {JointForm::Section::Square, JointForm::Section::D, JointForm::Section::Cross})
        for (const bool integral : {false, true}) {
            Joint key = jointAt(*p, Kind::Key, {100, 75, 75}, 30, 40);
            key.section = section;
            key.integral = integral;
            CHECK(faultOf(probe, {key}) == "");
            key.at = jointAt(*p, Kind::Key, {100, 75, 17}, 30, 40).at;
            CHECK(says(faultOf(probe, {key}), "too little"));
            key.at = jointAt(*p, Kind::Key, {100, 75, 14}, 30, 40).at;
            CHECK(says(faultOf(probe, {key}), "pocket of"));
            key.at = jointAt(*p, Kind::Key, {100, 75, 75}, 30, 40).at;
            key.depthMm = 99.9;
            CHECK(says(faultOf(probe, {key}), "breaks through"));
            key.depthMm = 40;
            key.taperMm = 20;
            CHECK(faultOf(probe, {key}) != "");
            key.taperMm = 0;
            const Joint dowel = jointAt(*p, Kind::Dowel, {100, 75, 97}, 10, 15);
            CHECK(says(faultOf(probe, {key, dowel}), "dowel A2"));
        }
}

TEST_CASE("joint kinds: a dovetail opens at the skin on its own way and keeps its walls elsewhere")
{
    const auto p = cubeInTwo();
    const JointProbe probe(p);
    Joint tail = jointAt(*p, Kind::Dovetail, {100, 75, 60}, 40, 25);
    tail.lengthMm = 80;
    tail.angle = angleTo(*p, {0, 0, 1}); // opens at z = 150
    CHECK(faultOf(probe, {tail}) == "");
    // To the skin and past it, and past corners that may lie between two of the lines that are followed.
    const double out = withWays({p->pieces, p->seams, p->plan, JointRoom(p->pieces, p->plan, 100), 2.4}, tail).nutOutMm;
    CHECK(out > 90.5);
    CHECK(out < 95);
    Joint bad = tail;
    bad.lengthMm = 95; // its key would stand out of the skin
    CHECK(says(faultOf(probe, {bad}), "leaves the face"));
    bad = tail;
    bad.angle = angleTo(*p, {0, 1, 0});
    bad.at = jointAt(*p, Kind::Dovetail, {100, 60, 20}, 40, 25).at; // 20 mm to the side of a groove 20 mm to a side
    CHECK(says(faultOf(probe, {bad}), "leaves the face"));
    bad.at = jointAt(*p, Kind::Dovetail, {100, 60, 22}, 40, 25).at;
    CHECK(says(faultOf(probe, {bad}), "beside it"));
    bad = tail;
    bad.depthMm = 100;
    CHECK(faultOf(probe, {bad}) != ""); // no such height
    // A dowel can't go in beside it, another dovetail can.
    CHECK(says(faultOf(probe, {tail, jointAt(*p, Kind::Dowel, {100, 20, 20}, 8, 12)}), "slides in along the face"));
    Joint second = tail;
    second.at = jointAt(*p, Kind::Dovetail, {100, 25, 60}, 40, 25).at;
    CHECK(faultOf(probe, {tail, second}) == "");
    second.at = jointAt(*p, Kind::Dovetail, {100, 34, 60}, 40, 25).at;
    CHECK(says(faultOf(probe, {tail, second}), "dovetail A2"));
}

TEST_CASE("joint kinds: a draw bolt has its head and its nut in reach, on material all round")
{
    // Pieces 50 mm deep: screws of M8 are sold up to 80 mm.
    const auto p = cutProject(mesh::box({0, 0, 0}, {100, 150, 150}), {mesh::planeAt({1, 0, 0}, 50)});
    const JointProbe probe(p);
    const JointRoom room(p->pieces, p->plan, 100);
    const JointScene scene{p->pieces, p->seams, p->plan, room, 2.4};
    for (const Hold hold : {Hold::Insert, Hold::FarNut, Hold::SideNut}) {
        Joint bolt = boltAt(*p, {50, 30, 30}, 8, hold, 30, hold == Hold::SideNut ? 15 : 25);
        bolt.angle = angleTo(*p, {0, -1, 0});
        INFO(static_cast<int>(hold));
        CHECK(faultOf(probe, {bolt}) == "");
        CHECK(withWays(scene, bolt).headOutMm == Approx(50.5));
        Joint bad = bolt;
        bad.at = boltAt(*p, {50, 10, 30}, 8, hold, 30).at; // its washer of 8 mm radius has no wall to the side
        CHECK(says(faultOf(probe, {bad}), "too little"));
        bad = bolt;
        bad.diameterMm = 7;
        CHECK(says(faultOf(probe, {bad}), "M7"));
    }
    CHECK(withWays(scene, boltAt(*p, {50, 30, 30}, 8, Hold::FarNut, 30, 25)).nutOutMm == Approx(50.5));
    Joint aside = boltAt(*p, {50, 30, 40}, 8, Hold::SideNut, 30, 15);
    aside.angle = angleTo(*p, {0, -1, 0});
    // And a little more, past corners that may lie between two of the lines that are followed.
    CHECK(withWays(scene, aside).nutOutMm > 30.5);
    CHECK(withWays(scene, aside).nutOutMm < 32.5);
    // A head on the skin is held by what is under it; one past the skin by nothing.
    Joint proud = boltAt(*p, {50, 30, 30}, 8, Hold::Insert, 49.9);
    CHECK(faultOf(probe, {proud}) == "");
    proud.gripMm = 51;
    CHECK(says(faultOf(probe, {proud}), "breaks through"));
    // Too long for any screw that is sold.
    CHECK(says(faultOf(probe, {boltAt(*p, {50, 30, 30}, 8, Hold::FarNut, 45, 45)}), "the longest is 80 mm"));
}

TEST_CASE("joint kinds: a draw bolt whose head would come out against another piece is barred")
{
    const auto p = cutProject(mesh::box({0, 0, 0}, {300, 150, 150}),
                              {mesh::planeAt({1, 0, 0}, 100), mesh::planeAt({1, 0, 0}, 200)});
    const JointProbe probe(p);
    std::size_t seam = 0;
    while (p->plan.nodes[static_cast<std::size_t>(p->seams[seam].cut)].plane.offset > 150)
        ++seam;
    Joint bolt = boltAt(*p, {100, 30, 30}, 8, Hold::Insert, 40);
    bolt.seam = seam;
    CHECK(faultOf(probe, {bolt}) == ""); // head below, in the first piece: free
    bolt.carrierAbove = true;
    bool impossible = false;
    CHECK(says(faultOf(probe, {bolt}, 0, &impossible), "barred by piece 3"));
    CHECK(impossible);
    // Nor through a hollow of its own piece: a slot of 20 mm across the way.
    mesh::Mesh gate = mesh::box({0, 0, 0}, {100, 150, 150});
    const auto yoke =
        cutProject(mesh::joined(gate, mesh::box({120, 0, 0}, {200, 150, 150})), {mesh::planeAt({1, 0, 0}, 50)});
    const JointProbe other(yoke);
    Joint barred = boltAt(*yoke, {50, 30, 30}, 8, Hold::Insert, 30);
    barred.carrierAbove = true;
    CHECK(says(faultOf(other, {barred}), "is barred by piece"));
}

TEST_CASE("allowed region: of every kind agrees with the rules, in 3D on both sides")
{
    // A wedge: the side y = 110 + 0.5 (x - 100) comes in below the cut.
    mesh::Mesh wedge = mesh::box({0, 0, 0}, {200, 110, 120});
    for (Vec3& q : wedge.points)
        if (q.y > 1)
            q.y = 110 + 0.5 * (q.x - 100);
    const auto p = cutProject(wedge, {mesh::planeAt({1, 0, 0}, 100)});
    const JointProbe probe(p);
    std::vector<Joint> kinds{
        jointAt(*p, Kind::Screw, {100, 50, 60}, 30, 27), jointAt(*p, Kind::Stud, {100, 50, 60}, 24, 24),
        jointAt(*p, Kind::Key, {100, 50, 60}, 16, 20), boltAt(*p, {100, 50, 60}, 6, Hold::Insert, 20),
        jointAt(*p, Kind::Dovetail, {100, 50, 60}, 16, 12)};
    kinds.back().lengthMm = 25;
    kinds.back().angle = angleTo(*p, {0, 0, 1});
    for (Joint joint : kinds) {
        INFO(kindName(joint.kind));
        const auto region = allowedRegion(probe, {joint}, 0);
        REQUIRE(region.ok());
        REQUIRE(mesh::area(*region) > 100);
        std::mt19937 random(4);
        std::uniform_real_distribution<double> y(0, 110), z(0, 120);
        const mesh::PlaneFrame frame = mesh::frameOf(p->plan.nodes[0].plane);
        int inside = 0, outside = 0;
        for (int i = 0; i < 1500; ++i) {
            joint.at = frame.flat({100, y(random), z(random)});
            const bool fine = !probe.fault({joint}, 0).has_value();
            if (mesh::contains(*region, joint.at)) {
                ++inside;
                REQUIRE(fine);
            } else if (mesh::distanceToOutline(*region, joint.at) > 0.15) {
                ++outside;
                REQUIRE_FALSE(fine);
            }
        }
        CHECK(inside > 20);
        CHECK(outside > 100);
    }
}
