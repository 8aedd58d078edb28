// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/load_sharing.h"

#include <catch2/catch.hpp>

#include <random>

using namespace quoin;
using namespace quoin::core;
using mesh::Vec3;

namespace {

constexpr double side = 10;

/// A square of 10 mm about a place in a plane of the part, lying level unless told.
SharingFace squareAt(std::size_t below, std::size_t above, Vec3 at, Vec3 normal = {0, 0, 1})
{
    SharingFace face{below, above, mesh::frameOf(mesh::planeThrough(at, normal)), {}};
    const mesh::Vec2 c = face.frame.flat(at);
    const double r = side / 2;
    face.section =
        sectionProperties({{{c.x - r, c.y - r}, {c.x + r, c.y - r}, {c.x + r, c.y + r}, {c.x - r, c.y + r}}});
    return face;
}

SharingPiece fixed()
{
    return {{}, true};
}

} // namespace

// A rigid plate on springs of one stiffness k: F_i = W/n + W e x_i / (sum x^2 + n I/A) about the middle, since a bed of
// springs also turns as one: 100 N at x = 30 on legs at -100, 0 and 100. (Rigid body on springs; statics of beds.)
TEST_CASE("load sharing: a rigid plate on three legs alike")
{
    const std::vector<double> legs{-100, 0, 100};
    std::vector<SharingPiece> pieces{{{{{30, 0, 50}, {0, 0, -100}}}, false}};
    std::vector<SharingFace> faces;
    for (const double x : legs) {
        faces.push_back(squareAt(pieces.size(), 0, {x, 0, 0}));
        pieces.push_back(fixed());
    }
    const auto shared = sharedLoads(pieces, faces);
    REQUIRE(shared.has_value());
    const double inertia = side * side * side * side / 12, area = side * side;
    const double lever = 2 * 100.0 * 100.0 + 3 * inertia / area;
    double sum = 0;
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK((*shared)[i].forceN.z == Approx(-100.0 / 3 - 100.0 * 30 * legs[i] / lever));
        sum += (*shared)[i].forceN.z;
    }
    CHECK(sum == Approx(-100));
    CHECK(std::abs((*shared)[1].momentNmm.y) == Approx(100.0 * 30 * (inertia / area) / lever));
}

TEST_CASE("load sharing: a stiffer leg takes more, in proportion")
{
    // Legs mirrored about the load, two and two, one pair three times as stiff: no turning.
    std::vector<SharingPiece> pieces{{{{{0, 0, 50}, {0, 0, -80}}}, false}};
    std::vector<SharingFace> faces;
    for (const double x : {-60.0, 60.0, -20.0, 20.0}) {
        faces.push_back(squareAt(pieces.size(), 0, {x, 0, 0}));
        faces.back().stiffness = std::abs(x) > 50 ? 3 : 1;
        pieces.push_back(fixed());
    }
    const auto shared = sharedLoads(pieces, faces).value();
    CHECK(shared[0].forceN.z == Approx(-30));
    CHECK(shared[3].forceN.z == Approx(-10));
}

TEST_CASE("load sharing: where there is one way only it is statics, whatever the stiffness")
{
    std::mt19937 random(3);
    std::uniform_real_distribution<double> u(-1, 1), stiff(0.01, 10);
    const auto vector = [&](double size) { return size * Vec3{u(random), u(random), u(random)}; };
    for (int trial = 0; trial < 20; ++trial) {
        // A chain of five, the first one held, faces any way about.
        std::vector<SharingPiece> pieces{fixed()};
        std::vector<SharingFace> faces;
        std::vector<Vec3> centres;
        for (std::size_t i = 1; i < 5; ++i) {
            centres.push_back(Vec3{100.0 * static_cast<double>(i), 0, 0} + vector(30));
            faces.push_back(squareAt(i - 1, i, centres.back(), normalized(vector(1))));
            faces.back().stiffness = stiff(random);
            pieces.push_back({{{centres.back() + vector(80), vector(50)}, {vector(200), vector(20)}}, false});
        }
        const auto shared = sharedLoads(pieces, faces).value();
        for (std::size_t f = 0; f < faces.size(); ++f) {
            Vec3 force{0, 0, 0}, moment{0, 0, 0};
            for (std::size_t i = f + 1; i < pieces.size(); ++i)
                for (const PointLoad& load : pieces[i].loads) {
                    force = force + load.forceN;
                    moment = moment + cross(load.at - centres[f], load.forceN);
                }
            CHECK(length(shared[f].forceN - force) < 1e-7 * (1 + length(force)));
            CHECK(length(shared[f].momentNmm - moment) < 1e-6 * (1 + length(moment)));
            // As loads it is the same again.
            Vec3 again{0, 0, 0}, turned{0, 0, 0};
            for (const PointLoad& load : shared[f].asLoads(centres[f], -1)) {
                again = again + load.forceN;
                turned = turned + cross(load.at - centres[f], load.forceN);
            }
            CHECK(length(again + force) < 1e-7 * (1 + length(force)));
            CHECK(length(turned + moment) < 1e-6 * (1 + length(moment)));
        }
    }
}

TEST_CASE("load sharing: a piece that nothing holds has no answer")
{
    CHECK_FALSE(sharedLoads({{{{{0, 0, 0}, {0, 0, -1}}}, false}, {{{{0, 0, 9}, {0, 0, -1}}}, false}},
                            {squareAt(0, 1, {0, 0, 5})})
                    .has_value());
    CHECK(sharedLoads({fixed(), fixed()}, {squareAt(0, 1, {0, 0, 5})}).value()[0].forceN.z == 0);
    CHECK(sharedLoads({}, {}).value().empty());
}
