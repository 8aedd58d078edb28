// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/model_file.h"
#include "mesh/write_model.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

#include <cstring>
#include <limits>

using namespace quoin;
using namespace quoin::mesh;
using test::contentOf;
using test::hasNote;
using test::readBytes;
using test::reference;

namespace {

std::string cube()
{
    return contentOf(reference("stl-models/polytopes/cube.bin.stl"));
}

void setFloat(std::string& bytes, std::size_t at, float value)
{
    std::memcpy(bytes.data() + at, &value, sizeof value);
}

void setCount(std::string& bytes, std::uint32_t count)
{
    std::memcpy(bytes.data() + 80, &count, sizeof count);
}

} // namespace

TEST_CASE("read binary STL: a cube is welded to eight points")
{
    const auto model = readModel(reference("stl-models/polytopes/unitCube.binary.stl"));
    REQUIRE(model.ok());
    CHECK(model->format == Format::StlBinary);
    CHECK(model->unit == Unit::Millimetre);
    CHECK(model->mesh.points.size() == 8);
    CHECK(model->mesh.triangles.size() == 12);
    CHECK(model->droppedTriangles == 0);
    CHECK(bounds(model->mesh).max == Vec3{1, 1, 1});
}

TEST_CASE("read binary STL: minus zero is zero")
{
    const auto model = readModel(reference("stl-models/polytopes/tetrahedronMinusZero.bin.stl"));
    REQUIRE(model.ok());
    CHECK(model->mesh.points.size() == 4);
}

TEST_CASE("read binary STL: a header that begins with solid misleads no one")
{
    const auto model = readModel(reference("stl-models/broken/wrongHeader.bin.stl"));
    REQUIRE(model.ok());
    CHECK(model->format == Format::StlBinary);
    CHECK(model->mesh.points.size() == 8);
}

TEST_CASE("read binary STL: whole facets with a wrong count are read and remarked on")
{
    const auto model = readModel(reference("stl-models/broken/incorrectFaceCounter.bin.stl"));
    REQUIRE(model.ok());
    CHECK(model->mesh.triangles.size() == 4);
    CHECK(hasNote(*model, "announces 66 facets, the file holds 4"));

    std::string few = cube();
    setCount(few, 3);
    const auto all = readBytes(few, ".stl");
    REQUIRE(all.ok());
    CHECK(all->mesh.triangles.size() == 12);
    setCount(few, 0);
    CHECK(readBytes(few, ".stl")->mesh.triangles.size() == 12);
    setCount(few, 0xFFFFFFFFu);
    CHECK(readBytes(few, ".stl")->mesh.triangles.size() == 12);
}

TEST_CASE("read binary STL: a truncated facet is an error that says where")
{
    std::string bytes = cube();
    bytes.resize(84 + 5 * 50 + 17);
    const auto model = readBytes(bytes, ".stl");
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == Reason::FileTruncated);
    CHECK(model.problem().what == "the file ends inside facet 6 of 12");
    CHECK(model.problem().place == "byte 351");
    CHECK(model.problem().sentence().find("model.stl: the file ends") != std::string::npos);

    // More facets than announced, the last one cut.
    bytes = cube();
    setCount(bytes, 4);
    bytes.resize(84 + 11 * 50 + 49);
    CHECK(readBytes(bytes, ".stl").problem().reason == Reason::FileTruncated);

    CHECK(readBytes(cube().substr(0, 40) + std::string(20, '\0'), ".stl").problem().reason == Reason::FileTruncated);
}

TEST_CASE("read binary STL: bytes after the last facet are left out and remarked on")
{
    const auto model = readBytes(cube() + std::string(73, '\xFF'), ".stl");
    REQUIRE(model.ok());
    CHECK(model->mesh.triangles.size() == 12);
    CHECK(hasNote(*model, "73 bytes after the last"));
}

TEST_CASE("read binary STL: a corner that is no number is named by facet and byte")
{
    std::string bytes = cube();
    setFloat(bytes, 84 + 7 * 50 + 24,
             GENERATE(std::numeric_limits<float>::quiet_NaN(), -std::numeric_limits<float>::infinity()));
    const auto model = readBytes(bytes, ".stl");
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == Reason::NumberNotFinite);
    CHECK(model.problem().place == "facet 8, byte 434");
}

TEST_CASE("read binary STL: normals are no geometry")
{
    std::string bytes = cube();
    setFloat(bytes, 84, std::numeric_limits<float>::quiet_NaN());
    CHECK(readBytes(bytes, ".stl").ok());
    bytes = cube();
    for (const std::size_t sign : {84 + 3, 84 + 7, 84 + 11})
        bytes[sign] = static_cast<char>(bytes[sign] ^ '\x80'); // the first normal turned over
    const auto model = readBytes(bytes, ".stl");
    REQUIRE(model.ok());
    CHECK(hasNote(*model, "1 stored normals disagree"));
    CHECK_FALSE(hasNote(*readBytes(cube(), ".stl"), "normals"));
}

TEST_CASE("read binary STL: facets with two equal corners are dropped and counted")
{
    std::string bytes = cube();
    std::memcpy(bytes.data() + 84 + 12, bytes.data() + 84 + 24, 12);
    const auto model = readBytes(bytes, ".stl");
    REQUIRE(model.ok());
    CHECK(model->droppedTriangles == 1);
    CHECK(model->mesh.triangles.size() == 11);
}

TEST_CASE("read binary STL: no facets is an empty file")
{
    CHECK(readBytes(std::string(84, '\0'), ".stl").problem().reason == Reason::FileEmpty);
    std::string flat(84 + 50, '\0'); // one facet, all corners alike
    setCount(flat, 1);
    CHECK(readBytes(flat, ".stl").problem().reason == Reason::FileEmpty);
}

TEST_CASE("read binary STL: one that went through a text program is told so")
{
    const auto model = readModel(reference("stl-models/misc/multiWordName.bin.stl"));
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == Reason::FileMalformed);
    CHECK(model.problem().what.find("took it for text") != std::string::npos);
}

TEST_CASE("read binary STL: the caller's unit is applied")
{
    const auto model = readModel(reference("stl-models/polytopes/unitCube.binary.stl"), {Unit::Inch});
    REQUIRE(model.ok());
    CHECK(model->unit == Unit::Inch);
    CHECK(bounds(model->mesh).max == Vec3{25.4, 25.4, 25.4});
}

TEST_CASE("read binary STL: written and read again, a bunny keeps its points as floats")
{
    const auto bunny = readModel(reference("stl-models/objects/bunny.bin.stl"));
    REQUIRE(bunny.ok());
    // The file has (3472634 - 84) / 50 facets.
    REQUIRE(bunny->mesh.triangles.size() + bunny->droppedTriangles == 69451);
    const test::ScratchFolder scratch;
    REQUIRE(writeStl(scratch / "again.stl", bunny->mesh).ok());
    const auto again = readModel(scratch / "again.stl");
    REQUIRE(again.ok());
    CHECK(again->mesh.points == bunny->mesh.points);
    CHECK(again->mesh.triangles == bunny->mesh.triangles);
}
