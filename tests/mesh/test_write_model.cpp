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

TEST_CASE("write 3MF: floats, names and placements come back through the library exactly")
{
    ScratchFolder scratch;
    Mesh mesh = tetrahedron();
    mesh.points[1].x = double{1234.56789f}; // the library's own writer would store 1234.567808
    mesh.points[2].y = double{1e-7f};
    mesh.points[3].z = double{-3.14159274e10f};
    const std::string name = "wing <left> & \"3\" \xC3\xA9";
    REQUIRE(write3mf(scratch / "a.3mf", {{name, &mesh, {}}}).ok());
    auto model = readModel(scratch / "a.3mf");
    REQUIRE_FALSE(model.ok()); // 3e10 mm is past all proportion
    mesh.points[3].z = double{-31.4159274f};
    REQUIRE(write3mf(scratch / "a.3mf", {{name, &mesh, {}}}).ok());
    model = readModel(scratch / "a.3mf");
    REQUIRE(model.ok());
    CHECK(model->unit == Unit::Millimetre);
    CHECK(model->names == std::vector<std::string>{name});
    REQUIRE(model->mesh.triangles.size() == 4);
    for (std::size_t t = 0; t < 4; ++t)
        for (int k = 0; k < 3; ++k)
            CHECK(model->mesh.corner(t, k) == mesh.corner(t, k));
}

TEST_CASE("write 3MF: two pieces stand where they are placed")
{
    ScratchFolder scratch;
    const Mesh mesh = tetrahedron();
    const Transform turned = Transform::translation({100, 20, 3}) * Transform::rotation({0, 0, 1}, 0.5);
    REQUIRE(write3mf(scratch / "a.3mf", {{"one", &mesh, Transform::translation({-50, 0, 0})}, {"two", &mesh, turned}})
                .ok());
    const auto model = readModel(scratch / "a.3mf");
    REQUIRE(model.ok());
    CHECK(model->names == std::vector<std::string>{"one", "two"});
    REQUIRE(model->mesh.triangles.size() == 8);
    for (std::size_t t = 0; t < 4; ++t)
        for (int k = 0; k < 3; ++k) {
            CHECK(length(model->mesh.corner(t, k) - (mesh.corner(t, k) + Vec3{-50, 0, 0})) < 1e-5);
            CHECK(length(model->mesh.corner(t + 4, k) - turned.point(mesh.corner(t, k))) < 1e-5);
        }
}

TEST_CASE("write 3MF: the same meshes make the same bytes")
{
    ScratchFolder scratch;
    const Mesh mesh = tetrahedron();
    REQUIRE(write3mf(scratch / "a.3mf", {{"one", &mesh, {}}}).ok());
    REQUIRE(write3mf(scratch / "b.3mf", {{"one", &mesh, {}}}).ok());
    CHECK(test::contentOf(scratch / "a.3mf") == test::contentOf(scratch / "b.3mf"));
}

TEST_CASE("write 3MF: names that XML can't hold don't break the file")
{
    ScratchFolder scratch;
    const Mesh mesh = tetrahedron();
    const std::string name =
        GENERATE(std::string("a\0b\nc", 5), std::string("\xFF\xC3"), std::string(), std::string("\xC0\x80"));
    REQUIRE(write3mf(scratch / "a.3mf", {{name, &mesh, {}}}).ok());
    CHECK(readModel(scratch / "a.3mf").ok());
}

TEST_CASE("write 3MF: what the format forbids is refused")
{
    ScratchFolder scratch;
    Mesh mesh = tetrahedron();
    CHECK(write3mf(scratch / "a.3mf", {}).problem().reason == Reason::BadArgument);
    mesh.triangles[2] = {0, 3, 0};
    CHECK(write3mf(scratch / "a.3mf", {{"one", &mesh, {}}}).problem().reason == Reason::BadArgument);
    mesh.points[3].z = std::nan("");
    CHECK(write3mf(scratch / "a.3mf", {{"one", &mesh, {}}}).problem().reason == Reason::NumberNotFinite);
    CHECK_FALSE(std::filesystem::exists(scratch / "a.3mf"));
}

TEST_CASE("write model: a folder that isn't there")
{
    ScratchFolder scratch;
    const Mesh mesh = tetrahedron();
    const auto file = scratch / "none" / "a";
    CHECK(writeStl(file, mesh).problem().reason == Reason::FileUnwritable);
    CHECK(writePly(file, mesh).problem().reason == Reason::FileUnwritable);
    CHECK(write3mf(file, {{"one", &mesh, {}}}).problem().reason == Reason::FileUnwritable);
    CHECK(writeStl(file, mesh).problem().file == file.string());
}
