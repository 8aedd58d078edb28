// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/plane_words.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::ui;

TEST_CASE("plane words: across an axis, either way up")
{
    CHECK(planeWords({{0, 0, 1}, 350}) == "across z at 350.0 mm");
    CHECK(planeWords({{0, 0, -1}, -350}) == "across z at 350.0 mm, flipped");
    CHECK(planeWords({{1, 0, 0}, -12.34}, mesh::Unit::Centimetre) == "across x at -1.23 cm");
    CHECK(planeWords(mesh::planeAt({1, 1, 0}, 120)) == "turned 45.0°, tilted 0.0°, at 120.0 mm");
}

TEST_CASE("plane words: angles and normals are each other's inverse, exact along the axes")
{
    for (int turn = -150; turn <= 180; turn += 30)
        for (int tilt = -75; tilt <= 75; tilt += 15) {
            const mesh::Vec3 n = normalOf({double(turn), double(tilt)});
            CHECK(mesh::length(n) == Approx(1));
            CHECK(aimOf(n).turnDegrees == Approx(turn).margin(1e-9));
            CHECK(aimOf(n).tiltDegrees == Approx(tilt).margin(1e-9));
        }
    CHECK(normalOf({90, 0}) == mesh::Vec3{0, 1, 0});
    CHECK(normalOf({37, 90}) == mesh::Vec3{0, 0, 1});
    CHECK(normalOf({180, 0}) == mesh::Vec3{-1, 0, 0});
    CHECK(aimOf({0, 0, -1}).turnDegrees == 0);
}

TEST_CASE("plane words: the reach of a box is that of its corners")
{
    mesh::Box3 box;
    box.add({-10, 20, 30});
    box.add({40, 25, 90});
    const mesh::Vec3 along = mesh::normalized({1, -2, 0.5});
    double least = 1e300, most = -1e300;
    for (int corner = 0; corner < 8; ++corner) {
        const mesh::Vec3 p{corner & 1 ? box.max.x : box.min.x, corner & 2 ? box.max.y : box.min.y,
                           corner & 4 ? box.max.z : box.min.z};
        least = std::min(least, dot(along, p));
        most = std::max(most, dot(along, p));
    }
    CHECK(reachOf(box, along).leastMm == Approx(least));
    CHECK(reachOf(box, along).mostMm == Approx(most));
}
