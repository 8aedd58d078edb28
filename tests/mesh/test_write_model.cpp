// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/model_file.h"
#include "mesh/write_model.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstring>
#include <limits>

using namespace quoin;
using namespace quoin::mesh;
using test::ScratchFolder;

namespace {

Mesh tetrahedron()
{
    Mesh mesh;
    mesh.points = {{0, 0, 0}, {10, 0, 0}, {0, 10, 0}, {0, 0, 10}};
    mesh.triangles = {{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}};
    return mesh;
}

float floatAt(const std::string& bytes, std::size_t at)
{
    float f = 0;
    std::memcpy(&f, bytes.data() + at, sizeof f);
    return f;
}

} // namespace

TEST_CASE("write STL: layout is 84 + 50 n bytes, little endian")
{
    // 3D Systems' 1989 specification as digested at fabbers.com: 80-byte header, count, 50 bytes a facet.
    ScratchFolder scratch;
    REQUIRE(writeStl(scratch / "a.stl", tetrahedron()).ok());
    const std::string bytes = test::contentOf(scratch / "a.stl");
    REQUIRE(bytes.size() == 84 + 50 * 4);
    CHECK(bytes.substr(80, 4) == std::string("\4\0\0\0", 4));
    CHECK(floatAt(bytes, 84 + 8) == -1.0f); // normal of the first facet, which lies in z = 0 and looks down
    CHECK(floatAt(bytes, 84 + 12 + 12 + 4) == 10.0f);
    // Facet 4 looks along (1, 1, 1) / sqrt 3.
    CHECK(floatAt(bytes, 84 + 150) == Approx(1 / std::sqrt(3.0)));
    CHECK(bytes.substr(84 + 48, 2) == std::string("\0\0", 2));
}

TEST_CASE("write STL: the header never begins with solid and is cut at 80 bytes")
{
    ScratchFolder scratch;
    const std::string header =
        GENERATE(std::string("solid heron"), std::string("  SOLID heron"), std::string(200, 'x'), std::string());
    REQUIRE(writeStl(scratch / "a.stl", tetrahedron(), header).ok());
    const std::string bytes = test::contentOf(scratch / "a.stl");
    CHECK(bytes.size() == 284);
    const std::string start = bytes.substr(bytes.find_first_not_of(' '), 5);
    CHECK(start != "solid");
    CHECK(start != "SOLID");
}

TEST_CASE("write PLY: keeps doubles, triangles and labels exactly")
{
    ScratchFolder scratch;
    Mesh mesh = tetrahedron();
    mesh.points[1].x = 0.1 + 0.2; // no float, no short decimal
    mesh.points[2].y = 1e-300;
    mesh.labels = {7, skinLabel, 0xFFFFFFFFu, 3};
    REQUIRE(writePly(scratch / "a.ply", mesh).ok());
    const auto model = readModel(scratch / "a.ply");
    REQUIRE(model.ok());
    CHECK(model->format == Format::Ply);
    CHECK(model->mesh.triangles.size() == 4);
    for (std::size_t t = 0; t < 4; ++t)
        for (int k = 0; k < 3; ++k)
            CHECK(model->mesh.corner(t, k) == mesh.corner(t, k));
    CHECK(model->mesh.labels == mesh.labels);
}

TEST_CASE("write PLY: a mesh without labels comes back without")
{
    ScratchFolder scratch;
    REQUIRE(writePly(scratch / "a.ply", tetrahedron()).ok());
    CHECK(readModel(scratch / "a.ply")->mesh.labels.empty());
    CHECK(test::contentOf(scratch / "a.ply").find("label") == std::string::npos);
}

TEST_CASE("write model: what a format can't hold is refused before the disk is touched")
{
    ScratchFolder scratch;
    const auto write = GENERATE(0, 1);
    const auto written = [&](const Mesh& mesh) {
        return write == 0 ? writeStl(scratch / "a", mesh) : writePly(scratch / "a", mesh);
    };
    CHECK(written(Mesh{}).problem().reason == Reason::BadArgument);
    Mesh mesh = tetrahedron();
    mesh.points[3].z = std::nan("");
    CHECK(written(mesh).problem().reason == Reason::NumberNotFinite);
    mesh.points[3].z = std::numeric_limits<double>::infinity();
    CHECK(written(mesh).problem().reason == Reason::NumberNotFinite);
    mesh.points[3].z = 1e39; // past the largest float, 3.4e38
    CHECK(written(mesh).ok() == (write == 1));
    CHECK(std::filesystem::exists(scratch / "a") == (write == 1));
}
