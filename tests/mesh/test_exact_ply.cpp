// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/exact_ply.h"
#include "mesh/write_model.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"
#include "tests/support/shapes.h"

#include <catch2/catch.hpp>

#include <limits>

using namespace quoin;
using namespace quoin::mesh;

namespace {

std::string bytesOf(const Mesh& m)
{
    std::string bytes;
    plyBytes(m, [&](std::string_view block) { bytes += block; });
    return bytes;
}

/// What a reader for all the world would change: equal points, a point that no triangle uses, a triangle with two
/// equal corners, -0, the smallest number.
Mesh awkward()
{
    Mesh m = test::exploded(test::sphere({0.1, 1e-9, -3e5}, 7.7, 2));
    m.points.push_back({-0.0, std::numeric_limits<double>::denorm_min(), 1.0 / 3});
    m.triangles.push_back({0, 0, 1});
    m.labels.resize(m.triangles.size());
    for (std::size_t i = 0; i < m.labels.size(); ++i)
        m.labels[i] = static_cast<Label>(i) * 0x01010101u;
    return m;
}

} // namespace

TEST_CASE("exact PLY: nothing is welded, left out or rounded")
{
    const Mesh m = awkward();
    const auto back = meshFromPlyBytes(bytesOf(m));
    REQUIRE(back.ok());
    CHECK(test::same(*back, m));
    CHECK(std::signbit(back->points.back().x));
    Mesh plain = m;
    plain.labels.clear();
    CHECK(meshFromPlyBytes(bytesOf(plain))->labels.empty());
}

TEST_CASE("exact PLY: the bytes are those of the file that writePly writes")
{
    const test::ScratchFolder folder;
    const Mesh m = test::cube({0, 0, 0}, 3);
    REQUIRE(writePly(folder / "cube.ply", m).ok());
    CHECK(test::contentOf(folder / "cube.ply") == bytesOf(m));
}

TEST_CASE("exact PLY: cut short, too long, and every byte of the header changed")
{
    const std::string good = bytesOf(test::cube({0, 0, 0}, 3));
    for (std::size_t n = 0; n < good.size(); n += 7)
        CHECK_FALSE(meshFromPlyBytes(std::string_view(good).substr(0, n)).ok());
    CHECK(meshFromPlyBytes(good.substr(0, good.size() - 1)).problem().reason == Reason::FileTruncated);
    CHECK(meshFromPlyBytes(good + "x").problem().reason == Reason::FileMalformed);
    const std::size_t header = good.find("end_header\n") + 11;
    for (std::size_t i = 0; i < header; ++i) {
        std::string bad = good;
        bad[i] = '9';
        CAPTURE(i);
        CHECK_FALSE(meshFromPlyBytes(bad).ok());
    }
}

TEST_CASE("exact PLY: a face that names no point, a face of four, a coordinate that is no number")
{
    const Mesh cube = test::cube({0, 0, 0}, 3);
    const std::string good = bytesOf(cube);
    const std::size_t points = good.find("end_header\n") + 11, faces = points + 8 * 24;
    std::string bad = good;
    bad[faces + 1] = 8;
    CHECK(meshFromPlyBytes(bad).problem().place == "face 0");
    bad = good;
    bad[faces + 13] = 4;
    CHECK(meshFromPlyBytes(bad).problem().place == "face 1");
    bad = good;
    bad[points + 24 + 7] = '\x7f';
    bad[points + 24 + 6] = '\xf8';
    CHECK(meshFromPlyBytes(bad).problem().reason == Reason::NumberNotFinite);
    CHECK(meshFromPlyBytes(bad).problem().place == "point 1");
}
