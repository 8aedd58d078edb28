// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/distance.h"
#include "mesh/self_intersection.h"
#include "sample_models/heron.h"
#include "sample_models/heron_sizes.h"

#include <catch2/catch.hpp>

#include <map>
#include <numbers>

using namespace quoin::samples;
using namespace quoin::mesh;
using std::numbers::pi;

namespace {

struct Placed {
    const HeronPart* part;
    Link link;
    Transform pose;
    Mesh mesh;
    Box3 box;
};

std::vector<Placed> placed(const std::vector<HeronPart>& parts, double crankDegrees, bool withMeshes)
{
    std::vector<Placed> all;
    for (const HeronPart& part : parts) {
        const std::vector<Transform> poses = heronPoses(part, crankDegrees * pi / 180);
        for (std::size_t i = 0; i < poses.size(); ++i) {
            all.push_back({&part, part.links[i], poses[i], {}, {}});
            if (withMeshes) {
                all.back().mesh = transformed(part.mesh, poses[i]);
                all.back().box = bounds(all.back().mesh);
            }
        }
    }
    return all;
}

bool within(const Box3& a, const Box3& b, double gapMm)
{
    const auto apart = [&](int k) { return a.min[k] > b.max[k] + gapMm || b.min[k] > a.max[k] + gapMm; };
    return !apart(0) && !apart(1) && !apart(2);
}

/// Least distance from the points of one to the surface of the other, among those near its box.
double pointsToSurface(const Placed& from, const Placed& to, const SurfaceTree& surface)
{
    constexpr double nearMm = 1;
    double least = 1e9;
    for (const Vec3 p : from.mesh.points)
        if (within({p, p}, to.box, nearMm))
            least = std::min(least, surface.distance(p));
    return least;
}

/// How far a pin's axis misses a hole's, mm; and infinity when they aren't parallel.
double missMm(const HeronAxis& pin, const Transform& pinPose, const HeronAxis& hole, const Transform& holePose)
{
    const Vec3 d = pinPose.direction(pin.direction), e = holePose.direction(hole.direction);
    if (length(cross(d, e)) > 1e-9)
        return 1e9;
    return length(cross(d, holePose.point(hole.point) - pinPose.point(pin.point)));
}

} // namespace

TEST_CASE("heron assembly: pin centres meet their holes all the way round, with the clearance of their fit")
{
    constexpr double closesMm = 1e-9;
    const std::vector<HeronPart> parts = heronParts();
    for (int degrees = 0; degrees < 360; degrees += 15) {
        const std::vector<Placed> all = placed(parts, degrees, false);
        std::map<std::string, int> filled;
        for (const Placed& a : all)
            for (const HeronAxis& pin : a.part->axes)
                for (const Placed& b : all)
                    for (const HeronAxis& hole : b.part->axes) {
                        if (pin.hole || !hole.hole || pin.name != hole.name)
                            continue;
                        if (missMm(pin, a.pose, hole, b.pose) > closesMm)
                            continue;
                        ++filled[pin.name];
                        const double clearance = hole.radiusMm - pin.radiusMm;
                        const bool glued = clearance == Approx(size::fixedFit);
                        CHECK((glued || clearance == Approx(size::runningFit)));
                        if (glued)
                            CHECK(a.link == b.link);
                    }
        // Holes by pin: two knuckles and a hub a wing, two lugs and a rod's end a rod pin, the wheel and both rods.
        const std::map<std::string, int> expected{
            {"foot", 1},       {"top", 1},       {"neck", 1},     {"axle", 1},    {"axle-back", 1},
            {"axle-front", 1}, {"crank-pin", 3}, {"wing-pin", 6}, {"rod-pin", 6}, {"spigot", 5}};
        CHECK(filled == expected);
    }
}

TEST_CASE("heron assembly: no part enters or touches another, at rest and round the turn")
{
    constexpr double nearMm = 0.5;
    const std::vector<HeronPart> parts = heronParts();
    for (const double degrees : {heronShowDegrees, 10.0, 205.0, 300.0}) {
        const std::vector<Placed> all = placed(parts, degrees, true);
        int pairs = 0;
        for (std::size_t i = 0; i < all.size(); ++i)
            for (std::size_t j = i + 1; j < all.size(); ++j) {
                if (!within(all[i].box, all[j].box, nearMm))
                    continue;
                INFO(all[i].part->name << " and " << all[j].part->name << ", crank at " << degrees << " degrees");
                CHECK_FALSE(meshesIntersect(all[i].mesh, all[j].mesh));
                // Surfaces apart: one point tells whether a part is swallowed whole.
                CHECK_FALSE(SurfaceTree(all[j].mesh).inside(all[i].mesh.points[0]));
                CHECK_FALSE(SurfaceTree(all[i].mesh).inside(all[j].mesh.points[0]));
                ++pairs;
            }
        CHECK(pairs > 30);
        Box3 whole;
        for (const Placed& one : all) {
            whole.add(one.box.min);
            whole.add(one.box.max);
        }
        CHECK(whole.min.z >= 0);
        CHECK(whole.max.z < 200);
    }
}

TEST_CASE("heron assembly: clearances measured between the meshes")
{
    // Chords take a little off the radial clearance: both polygons at most r (1 - cos(pi / 64)), r up to 6.6 mm.
    constexpr double chordMm = 0.009;
    const std::vector<HeronPart> parts = heronParts();
    const std::vector<Placed> all = placed(parts, heronShowDegrees, true);
    std::map<std::string, double> least;
    for (const Placed& to : all) {
        const SurfaceTree surface(to.mesh);
        for (const Placed& from : all) {
            if (&from == &to || !within(from.box, to.box, 1))
                continue;
            const double distance = pointsToSurface(from, to, surface);
            CHECK(distance > size::fixedFit - chordMm);
            const std::string pair =
                std::min(from.part->name, to.part->name) + " " + std::max(from.part->name, to.part->name);
            least[pair] = std::min(least.contains(pair) ? least[pair] : 1e9, distance);
        }
    }
    for (const char* running :
         {"column crank-axle", "body wing-pin", "wing-left wing-pin", "wing-pin wing-right", "crank-pin rod-left",
          "crank-pin rod-right", "rod-left rod-pin", "rod-pin rod-right", "rod-pin wing-left", "rod-pin wing-right"}) {
        INFO(running);
        CHECK(least.at(running) == Approx(size::runningFit).margin(chordMm));
    }
    for (const char* sliding :
         {"column crank-wheel", "column hand-crank", "body wing-left", "body wing-right", "crank-wheel rod-left",
          "rod-left rod-right", "rod-left wing-left", "rod-right wing-right"}) {
        INFO(sliding);
        CHECK(least.at(sliding) == Approx(size::sideGap).margin(1e-4));
    }
    for (const char* glued :
         {"column plinth", "body column", "body neck", "collar crank-pin", "crank-axle crank-wheel"}) {
        INFO(glued);
        CHECK(least.at(glued) == Approx(size::fixedFit).margin(chordMm));
    }
}
