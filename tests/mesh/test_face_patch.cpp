// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "mesh/plane_cut.h"
#include "mesh/primitives.h"
#include "mesh/recess.h"
#include "mesh/self_intersection.h"
#include "mesh/topology.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace quoin::mesh;

namespace {

constexpr Label feature = 1000001;
const Plane up = planeAt({0, 0, 1}, 0);

/// Rings of a surface about an axis through `middle`: outward radius and height of each, walked from the border to the
/// last one, which is closed by a fan. The turn (degrees) twists each ring against the one before, as a thread does.
struct Ring {
    double radius, heightMm;
};
FacePatch turned(const PlaneFrame& frame, Vec2 middle, const std::vector<Ring>& rings, int sides,
                 double turnDegrees = 0)
{
    FacePatch patch;
    Mesh& m = patch.surface;
    for (std::size_t r = 0; r < rings.size(); ++r)
        for (int i = 0; i < sides; ++i) {
            const double angle = 2 * M_PI * i / sides + static_cast<double>(r) * turnDegrees * M_PI / 180;
            m.points.push_back(
                frame.space(middle + Vec2{rings[r].radius * std::cos(angle), rings[r].radius * std::sin(angle)},
                            rings[r].heightMm));
        }
    const auto n = static_cast<Index>(sides);
    for (Index r = 0; r + 1 < rings.size(); ++r)
        for (Index i = 0; i < n; ++i) {
            const Index a = r * n + i, b = r * n + (i + 1) % n;
            m.triangles.push_back({a, b, b + n});
            m.triangles.push_back({a, b + n, a + n});
        }
    const Index last = (static_cast<Index>(rings.size()) - 1) * n;
    for (Index i = 1; i + 1 < n; ++i)
        m.triangles.push_back({last, last + i, last + i + 1});
    return patch;
}

/// Area of the regular polygon of n corners on radius r: n/2 r^2 sin(2 pi / n).
double polygon(double r, int n)
{
    return 0.5 * n * r * r * std::sin(2 * M_PI / n);
}

Mesh halfBox()
{
    return cutByPlane(box({-20, -20, -20}, {20, 20, 20}), up)->below;
}

void requireSound(const quoin::Result<Mesh>& made)
{
    if (!made.ok())
        FAIL(made.problem().sentence());
    CHECK(topologyOf(*made).solid());
    CHECK(topologyOf(*made).degenerateTriangles == 0);
    CHECK(selfIntersections(*made).empty());
}

std::string refusal(const std::vector<FacePatch>& patches, const std::vector<Recess>& recesses = {})
{
    const auto made = withFeatures(halfBox(), 1, up, recesses, patches, feature);
    REQUIRE_FALSE(made.ok());
    CHECK(made.problem().reason == quoin::Reason::JointFailed);
    return made.problem().what;
}

bool says(const std::string& sentence, const char* words)
{
    INFO(sentence);
    return sentence.find(words) != std::string::npos;
}

} // namespace

TEST_CASE("face patch: a bore and a stud have the volumes of their prisms, and the labels of features")
{
    const Mesh m = halfBox();
    const PlaneFrame frame = frameOf(up);
    const FacePatch bore = turned(frame, {-8, -8}, {{4, 0}, {4, -9}}, 32);
    const FacePatch stud = turned(frame, {8, 8}, {{5, 0}, {5, 12}}, 48);
    CHECK(volumeAdded(bore, up) == Approx(-9 * polygon(4, 32)).epsilon(1e-12));
    CHECK(volumeAdded(stud, up) == Approx(12 * polygon(5, 48)).epsilon(1e-12));
    const auto made = withFeatures(m, 1, up, {}, {bore, stud}, feature);
    requireSound(made);
    CHECK(volume(*made) == Approx(16000 * 2 - 9 * polygon(4, 32) + 12 * polygon(5, 48)).epsilon(1e-12));
    const auto labelled = static_cast<std::size_t>(std::count(made->labels.begin(), made->labels.end(), feature));
    CHECK(labelled == bore.surface.triangles.size() + stud.surface.triangles.size());
    CHECK(area(faceOutline(*made, 1, up)) == Approx(1600 - polygon(4, 32) - polygon(5, 48)).epsilon(1e-12));
}

TEST_CASE("face patch: an undercut, twisted bore on both sides of an oblique cut, with a pocket beside it")
{
    const Plane plane = planeAt({0.3, -0.5, 0.8}, 2);
    const auto halves = cutByPlane(box({-20, -20, -20}, {20, 20, 20}), plane);
    REQUIRE(halves.ok());
    for (const bool below : {true, false}) {
        const Plane outward = below ? plane : Plane{-plane.normal, -plane.offset};
        const Mesh& half = below ? halves->below : halves->above;
        const FacePatch bore =
            turned(frameOf(outward), {1, 2}, {{3, 0}, {3.6, -1}, {3, -2}, {3.6, -3}, {3, -4}}, 24, 5);
        const Loop square{{-8, -2}, {-4, -2}, {-4, 2}, {-8, 2}};
        const Recess pocket{{{0, {square}}, {3, {square}}}};
        const auto made = withFeatures(half, 1, outward, {pocket}, {bore}, feature);
        requireSound(made);
        CHECK(volume(*made) - volume(half) == Approx(volumeAdded(bore, outward) - 48).epsilon(1e-9));
        const Region mouth = mouthOf(bore, outward);
        REQUIRE(mouth.size() == 1);
        CHECK(signedArea(mouth[0]) == Approx(polygon(3, 24)).epsilon(1e-9));
        CHECK(contains(mouth, {1, 2}));
    }
}

TEST_CASE("face patch: a ring leaves the face inside it standing")
{
    // A groove of radii 4 and 6, 3 deep: an outer and an inner wall and the floor between.
    const int sides = 24;
    const PlaneFrame frame = frameOf(up);
    const auto n = static_cast<Index>(sides);
    FacePatch groove;
    for (const Ring ring : {Ring{6, 0}, Ring{6, -3}, Ring{4, -3}, Ring{4, 0}})
        for (int i = 0; i < sides; ++i)
            groove.surface.points.push_back(frame.space(
                {ring.radius * std::cos(2 * M_PI * i / sides), ring.radius * std::sin(2 * M_PI * i / sides)},
                ring.heightMm));
    for (Index r = 0; r < 3; ++r)
        for (Index i = 0; i < n; ++i) {
            const Index a = r * n + i, b = r * n + (i + 1) % n;
            groove.surface.triangles.push_back({a, b, b + n});
            groove.surface.triangles.push_back({a, b + n, a + n});
        }
    const double taken = 3 * (polygon(6, sides) - polygon(4, sides));
    CHECK(volumeAdded(groove, up) == Approx(-taken).epsilon(1e-12));
    CHECK(mouthOf(groove, up).size() == 2);
    const FacePatch stud = turned(frame, {0, 0}, {{3, 0}, {3, 5}}, sides);
    const auto made = withFeatures(halfBox(), 1, up, {}, {groove, stud}, feature);
    requireSound(made);
    CHECK(volume(*made) == Approx(32000 - taken + 5 * polygon(3, sides)).epsilon(1e-12));
}

TEST_CASE("face patch: border points off the plane by rounding become exact points of the face")
{
    FacePatch stud = turned(frameOf(up), {1, 1}, {{5, 0}, {5, 4}}, 16);
    for (std::size_t i = 0; i < 16; ++i)
        stud.surface.points[i].z += i % 2 == 0 ? 1e-9 : -1e-9;
    const auto made = withFeatures(halfBox(), 1, up, {}, {stud}, feature);
    requireSound(made);
    CHECK(volume(*made) == Approx(32000 + 4 * polygon(5, 16)).epsilon(1e-9));
    CHECK(std::none_of(made->points.begin(), made->points.end(),
                       [](Vec3 p) { return p.z != 0 && std::abs(p.z) < 1e-6; }));
}

TEST_CASE("face patch: a mouth over many triangles of a face")
{
    // The face of a cut sphere is a disc of some hundred corners.
    const auto halves = cutByPlane(icosphere(30, 4), planeAt({0.1, 0.2, 1}, 3));
    REQUIRE(halves.ok());
    const Plane plane = planeAt({0.1, 0.2, 1}, 3);
    const FacePatch key = turned(frameOf(plane), {2, -3}, {{12, 0}, {10, 6}}, 4);
    const auto made = withFeatures(halves->below, 1, plane, {}, {key}, feature);
    requireSound(made);
    // A frustum: h/3 (A1 + A2 + sqrt(A1 A2)).
    const double a = polygon(12, 4), b = polygon(10, 4);
    CHECK(volume(*made) - volume(halves->below) == Approx(2 * (a + b + std::sqrt(a * b))).epsilon(1e-9));
}

TEST_CASE("face patch: refused with a reason")
{
    const PlaneFrame frame = frameOf(up);
    const FacePatch good = turned(frame, {0, 0}, {{4, 0}, {4, -5}}, 16);
    CHECK(says(refusal({FacePatch{}}), "no triangles"));

    FacePatch tilted = good;
    tilted.surface.points[0].z += 1e-4;
    CHECK(says(refusal({tilted}), "off the face's plane"));

    FacePatch holed = good; // a triangle of the floor is missing
    holed.surface.triangles.pop_back();
    CHECK(says(refusal({holed}), "off the face's plane"));

    FacePatch closed;
    closed.surface = box({1, 1, -3}, {2, 2, -2});
    CHECK(says(refusal({closed}), "no border"));
    FacePatch floating = good;
    floating.surface = joined(good.surface, closed.surface);
    CHECK(says(refusal({floating}), "no border"));

    FacePatch inside = good;
    for (Triangle& t : inside.surface.triangles)
        std::swap(t[1], t[2]);
    CHECK(says(refusal({inside}), "inside out"));
    FacePatch torn = good;
    std::swap(torn.surface.triangles[3][1], torn.surface.triangles[3][2]);
    CHECK(says(refusal({torn}), "opposite ways"));
    FacePatch thrice = good;
    thrice.surface.points.push_back({0, 0, -2});
    thrice.surface.triangles.push_back({16, 17, 32});
    CHECK(says(refusal({thrice}), "more than two"));
    FacePatch number = good;
    number.surface.points[20].x = std::nan("");
    CHECK(says(refusal({number}), "no number"));
    FacePatch unnamed = good;
    unnamed.surface.triangles[5][0] = 99;
    CHECK(says(refusal({unnamed}), "hasn't got"));

    FacePatch bow = good; // two corners of the border swapped
    std::swap(bow.surface.points[0], bow.surface.points[1]);
    CHECK(says(refusal({bow}), "crosses or touches itself"));

    CHECK(says(refusal({turned(frame, {18, 0}, {{4, 0}, {4, -5}}, 16)}), "past its face"));
    CHECK(says(refusal({turned(frame, {60, 0}, {{4, 0}, {4, -5}}, 16)}), "past its face"));
    CHECK(says(refusal({good, turned(frame, {5, 0}, {{4, 0}, {4, -5}}, 16)}), "another mouth"));
    const Loop square{{3, -1}, {9, -1}, {9, 1}, {3, 1}};
    CHECK(says(refusal({good}, {Recess{{{0, {square}}, {3, {square}}}}}), "another mouth"));

    // Mouths apart, surfaces not: under the face, and above it.
    CHECK(says(refusal({good, turned(frame, {9, 0}, {{4, 0}, {7, -5}}, 16)}), "meet each other"));
    CHECK(says(refusal({turned(frame, {0, 0}, {{4, 0}, {6, 2}, {6, -2}, {3, -5}}, 16)}), "outside its mouth"));
}

TEST_CASE("face patch: a face that lies elsewhere is refused")
{
    const auto made = withFeatures(halfBox(), 1, planeAt({0, 0, 1}, -1), {},
                                   {turned(frameOf(planeAt({0, 0, 1}, -1)), {0, 0}, {{4, 0}, {4, -5}}, 16)}, feature);
    REQUIRE_FALSE(made.ok());
    CHECK(says(made.problem().what, "given plane"));
}
