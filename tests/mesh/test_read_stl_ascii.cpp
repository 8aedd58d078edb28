// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "mesh/model_file.h"
#include "tests/support/model_text.h"
#include "tests/support/scratch.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::mesh;
using test::hasNote;
using test::readBytes;
using test::reference;

namespace {

Result<Model> broken(const std::string& name)
{
    return readModel(reference("stl-models/broken/" + name));
}

/// A facet with the given words as its corners' lines.
std::string facet(const std::string& corners, const std::string& normal = "0 0 1")
{
    return "solid s\nfacet normal " + normal + "\nouter loop\n" + corners + "endloop\nendfacet\nendsolid s\n";
}

const std::string goodCorners = "vertex 0 0 0\nvertex 10 0 0\nvertex 0 10 0\n";

} // namespace

TEST_CASE("read ASCII STL: the same model as its binary twin")
{
    const auto ascii = readModel(reference("stl-models/objects/gearwheel.ascii.stl"));
    const auto binary = readModel(reference("stl-models/objects/gearwheel.bin.stl"));
    REQUIRE(ascii.ok());
    REQUIRE(binary.ok());
    CHECK(ascii->format == Format::StlAscii);
    CHECK(ascii->mesh.triangles.size() == binary->mesh.triangles.size());
    CHECK(ascii->mesh.points.size() == binary->mesh.points.size());
    CHECK(volume(ascii->mesh) == Approx(volume(binary->mesh)).epsilon(1e-6));
}

TEST_CASE("read ASCII STL: names, with blanks or none at all")
{
    CHECK(readModel(reference("stl-models/misc/multiWordName.ascii.stl"))->names ==
          std::vector<std::string>{"Model with a multi word name"});
    CHECK(readModel(reference("stl-models/misc/namelessSolid.ascii.stl"))->names.empty());
    CHECK(readModel(reference("stl-models/polytopes/tetrahedron.min.ascii.stl"))->mesh.points.size() == 4);
}

TEST_CASE("read ASCII STL: faults that don't touch the geometry are read and remarked on")
{
    const auto [name, words] = GENERATE(table<std::string, std::string>({
        {"missingEndsolid.ascii.stl", "endsolid, is missing"},
        {"missingNormal.ascii.stl", "1 stored normals are missing"},
        {"notANumberNormal.ascii.stl", "1 stored normals are missing or no numbers"},
        {"wrongNormal.ascii.stl", "1 stored normals disagree"},
    }));
    INFO(name);
    const auto model = broken(name);
    REQUIRE(model.ok());
    CHECK(model->mesh.triangles.size() == 4);
    CHECK(model->mesh.points.size() == 4);
    CHECK(hasNote(*model, words));
    CHECK(volume(model->mesh) == Approx(1.0 / 6)); // the unit corner tetrahedron, closed form
}

TEST_CASE("read ASCII STL: what is no fault draws no remark")
{
    const std::string name = GENERATE("solidNameMismatch.ascii.stl", "wrongNormals.ascii.stl", "missingFace.ascii.stl",
                                      "singleFace.ascii.stl");
    INFO(name);
    const auto model = broken(name);
    REQUIRE(model.ok());
    CHECK_FALSE(hasNote(*model, "normals"));
    CHECK_FALSE(hasNote(*model, "endsolid"));
}

TEST_CASE("read ASCII STL: facets that are no triangles are refused with their line")
{
    const auto [name, line] = GENERATE(table<std::string, std::string>({
        {"fourVertices.ascii.stl", "facet 1, line 7"},
        {"quad.ascii.stl", "facet 1, line 7"},
        {"twoVertices.ascii.stl", "facet 1, line 6"},
    }));
    INFO(name);
    const auto model = broken(name);
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == Reason::FileMalformed);
    CHECK(model.problem().place == line);
    CHECK(model.problem().file.find(name) != std::string::npos);
}

TEST_CASE("read ASCII STL: no facets is an empty file")
{
    CHECK(readModel(reference("stl-models/misc/faceless.ascii.stl")).problem().reason == Reason::FileEmpty);
    CHECK(broken("empty.stl").problem().reason == Reason::FileEmpty);
}

TEST_CASE("read ASCII STL: a corner that is no finite number is refused with its line")
{
    const auto [word, reason] = GENERATE(table<std::string, Reason>({
        {"nan", Reason::NumberNotFinite},
        {"-NaN", Reason::NumberNotFinite},
        {"inf", Reason::NumberNotFinite},
        {"1.#IND", Reason::NumberNotFinite},
        {"1e999", Reason::NumberNotFinite},
        {"1,5", Reason::FileMalformed},
        {"x", Reason::FileMalformed},
        {"1.5.2", Reason::FileMalformed},
        {"0x10", Reason::FileMalformed},
    }));
    INFO(word);
    const auto model = readBytes(facet("vertex 0 0 0\nvertex 10 " + word + " 0\nvertex 0 10 0\n"), ".stl");
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == reason);
    CHECK(model.problem().place == "facet 1, line 5");
    if (word == "1,5")
        CHECK(model.problem().remedy.find("comma") != std::string::npos);
}

TEST_CASE("read ASCII STL: numbers and lines in every lawful dress")
{
    std::string corners = "VERTEX +0 -0 0.\r\n\tvertex 1.0E+1 1e-400 .0\r\n  vertex 0 10 0 \r\n";
    std::string text = "\xEF\xBB\xBF" + facet(corners);
    const auto model = readBytes(text, ".stl");
    REQUIRE(model.ok());
    CHECK(bounds(model->mesh).max == Vec3{10, 10, 0});
    for (char& c : text)
        c = c == '\n' ? '\r' : c; // the line ends of old
    CHECK(readBytes(text, ".stl").ok());
    for (char& c : text)
        c = c == '\r' ? ' ' : c; // all on one line
    const auto line = readBytes(text, ".stl");
    REQUIRE(line.ok());
    CHECK(line->names == std::vector<std::string>{"s"});
}

TEST_CASE("read ASCII STL: cut off inside a facet is an error, wherever it is cut")
{
    const std::string text = facet(goodCorners);
    const std::size_t facetEnd = text.find("endfacet") + 8;
    for (std::size_t size = 8; size < facetEnd; ++size) {
        INFO(size);
        const auto model = readBytes(text.substr(0, size), ".stl");
        REQUIRE_FALSE(model.ok());
        // A word or a number may be cut in two and then read as another.
        const Reason reason = model.problem().reason;
        CHECK((reason == Reason::FileTruncated || reason == Reason::FileMalformed || reason == Reason::FileEmpty));
    }
    CHECK(readBytes(text.substr(0, text.find("endloop")), ".stl").problem().reason == Reason::FileTruncated);
    CHECK(readBytes(text.substr(0, facetEnd), ".stl").ok());
}

TEST_CASE("read ASCII STL: several solids become one mesh, shared points welded")
{
    const std::string text = facet(goodCorners) +
                             "solid t\nfacet normal 0 0 0\nouter loop\nvertex 10 0 0\nvertex 0 0 0\n"
                             "vertex 0 0 10\nendloop\nendfacet\nendsolid\n";
    const auto model = readBytes(text, ".stl");
    REQUIRE(model.ok());
    CHECK(model->mesh.triangles.size() == 2);
    CHECK(model->mesh.points.size() == 4);
    CHECK(model->names == std::vector<std::string>{"s", "t"});
}

TEST_CASE("read ASCII STL: a stray word is named")
{
    const auto model = readBytes(facet(goodCorners) + "hello\n", ".stl");
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == Reason::FileMalformed);
    CHECK(model.problem().what.find("\"hello\"") != std::string::npos);
}
