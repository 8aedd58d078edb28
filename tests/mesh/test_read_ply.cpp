// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "mesh/model_file.h"
#include "tests/support/model_text.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstring>
#include <limits>

using namespace quoin;
using namespace quoin::mesh;
using test::hasNote;
using test::readBytes;

namespace {

const std::string asciiHead = "ply\nformat ascii 1.0\ncomment a tetrahedron\nobj_info none\nelement vertex 4\n"
                              "property float x\nproperty float y\nproperty float z\nelement face 4\n"
                              "property list uchar int vertex_indices\nend_header\n";
const std::string points = "0 0 0\n10 0 0\n0 10 0\n0 0 10\n";
const std::string faces = "3 0 2 1\n3 0 1 3\n3 0 3 2\n3 1 2 3\n";

template <class T>
void put(std::string& out, T value, bool big)
{
    char raw[sizeof value];
    std::memcpy(raw, &value, sizeof value);
    if (big) // tests run on little-endian machines, as the writers assert
        std::reverse(raw, raw + sizeof value);
    out.append(raw, sizeof value);
}

/// A tetrahedron of side 10 with coordinates of type P and indices of type I.
template <class P, class I>
std::string binary(bool big, const std::string& pointType, const std::string& indexType)
{
    std::string out = std::string("ply\nformat binary_") + (big ? "big" : "little") +
                      "_endian 1.0\nelement vertex 4\nproperty " + pointType + " x\nproperty " + pointType +
                      " y\nproperty " + pointType + " z\nproperty uchar red\nelement face 4\nproperty float quality\n" +
                      "property list ushort " + indexType + " vertex_index\nend_header\n";
    const int at[4][3] = {{0, 0, 0}, {10, 0, 0}, {0, 10, 0}, {0, 0, 10}};
    for (const auto& p : at) {
        for (const int c : p)
            put(out, static_cast<P>(c), big);
        put(out, std::uint8_t{200}, big);
    }
    const int corners[4][3] = {{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}};
    for (const auto& f : corners) {
        put(out, 0.5f, big);
        put(out, std::uint16_t{3}, big);
        for (const int c : f)
            put(out, static_cast<I>(c), big);
    }
    return out;
}

void checkTetrahedron(const std::string& bytes)
{
    const auto model = readBytes(bytes, ".ply");
    REQUIRE(model.ok());
    CHECK(model->format == Format::Ply);
    CHECK(model->mesh.points.size() == 4);
    CHECK(volume(model->mesh) == Approx(1000.0 / 6));
}

} // namespace

TEST_CASE("read PLY: text, with any line end")
{
    std::string text = asciiHead + points + faces;
    checkTetrahedron(text);
    std::string dos;
    for (const char c : text)
        dos += c == '\n' ? std::string("\r\n") : std::string(1, c);
    checkTetrahedron(dos);
    std::replace(text.begin(), text.end(), '\n', '\r');
    checkTetrahedron(text);
}

TEST_CASE("read PLY: both byte orders and all scalar types, by both names")
{
    const bool big = GENERATE(false, true);
    checkTetrahedron(binary<float, std::int32_t>(big, "float", "int"));
    checkTetrahedron(binary<double, std::uint32_t>(big, "double", "uint"));
    checkTetrahedron(binary<float, std::int16_t>(big, "float32", "int16"));
    checkTetrahedron(binary<double, std::uint16_t>(big, "float64", "ushort"));
    checkTetrahedron(binary<std::int8_t, std::int8_t>(big, "char", "int8"));
    checkTetrahedron(binary<std::uint8_t, std::uint8_t>(big, "uint8", "uchar"));
    checkTetrahedron(binary<std::int16_t, std::int32_t>(big, "short", "int32"));
    checkTetrahedron(binary<std::uint32_t, std::uint16_t>(big, "uint32", "uint16"));
}

TEST_CASE("read PLY: other elements, lists and properties are passed over")
{
    checkTetrahedron("ply\nformat ascii 1.0\nelement camera 1\nproperty list uchar float views\nproperty int n\n"
                     "element vertex 4\nproperty float nx\nproperty list uchar int rings\nproperty double z\n"
                     "property double y\nproperty double x\nelement nothing 1000000000\nelement face 4\n"
                     "property list uchar uint vertex_indices\nproperty list uchar float texcoord\nelement edge 1\n"
                     "property int v1\nend_header\n2 1.5 nan 7\n"
                     "0 0 0 0 0\n0 1 5 0 0 10\n0 2 5 6 0 10 0\nnan 0 10 0 0\n"
                     "3 0 2 1 2 0 1\n3 0 1 3 0\n3 0 3 2 0\n3 1 2 3 0\n0\n");
}

TEST_CASE("read PLY: faces before points, polygons, and faces that are none")
{
    const auto model = readBytes("ply\nformat ascii 1.0\nelement face 3\nproperty list uchar int vertex_indices\n"
                                 "element vertex 4\nproperty float x\nproperty float y\nproperty float z\nend_header\n"
                                 "4 0 1 2 3\n2 0 1\n0\n0 0 0\n10 0 0\n10 10 0\n0 10 0\n",
                                 ".ply");
    REQUIRE(model.ok());
    CHECK(area(model->mesh) == Approx(100));
    CHECK(hasNote(*model, "2 faces with fewer than three corners"));
}

TEST_CASE("read PLY: labels of polygons go to all their triangles")
{
    const auto model = readBytes("ply\nformat ascii 1.0\nelement vertex 5\nproperty float x\nproperty float y\n"
                                 "property float z\nelement face 2\nproperty int label\n"
                                 "property list uchar int vertex_indices\nend_header\n"
                                 "0 0 0\n10 0 0\n10 10 0\n0 10 0\n0 0 10\n5 4 0 1 2 3\n9 3 0 1 4\n",
                                 ".ply");
    REQUIRE(model.ok());
    CHECK(model->mesh.labels == Buffer<Label>{5, 5, 9});
}

TEST_CASE("read PLY: what breaks the format is refused with the place")
{
    const auto [text, reason, place] = GENERATE(table<std::string, Reason, std::string>({
        {"ply\nformat ascii 1.0\nelement vertex 4\n", Reason::FileTruncated, "line"},
        {"ply\nformat ascii 2.0\nend_header\n", Reason::FileMalformed, "line 2"},
        {"ply\nformat morse 1.0\nend_header\n", Reason::FileMalformed, "line 2"},
        {"ply\nelement vertex 4\nend_header\n", Reason::FileMalformed, "line 3"},
        {"ply\nformat ascii 1.0\nproperty float x\nend_header\n", Reason::FileMalformed, "line 3"},
        {"ply\nformat ascii 1.0\nelement vertex -4\nend_header\n", Reason::FileMalformed, "line 3"},
        {"ply\nformat ascii 1.0\nelement vertex x\nend_header\n", Reason::FileMalformed, "line 3"},
        {"ply\nformat ascii 1.0\nelement vertex 1\nproperty quad x\nend_header\n", Reason::FileMalformed, "line 4"},
        {"ply\nformat ascii 1.0\nelement vertex 1\nproperty float\nend_header\n", Reason::FileMalformed, "line 4"},
        {"ply\nformat ascii 1.0\nelement f 1\nproperty list float int v\nend_header\n", Reason::FileMalformed,
         "line 4"},
        {"ply\nformat ascii 1.0\nnonsense\nend_header\n", Reason::FileMalformed, "line 3"},
        {"ply\nformat ascii 1.0\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n3 0 1 2\n",
         Reason::FileMalformed, "header"},
        {"ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\nproperty float z\nend_header\n"
         "0 0 0\n",
         Reason::FileEmpty, "header"},
        {"ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\nelement face 0\n"
         "property list uchar int vertex_indices\nend_header\n0 0\n",
         Reason::FileMalformed, "header"},
        {"ply\nformat ascii 1.0\nelement vertex 0\nproperty float x\nproperty float y\nproperty float z\n"
         "element face 0\nproperty list uchar float vertex_indices\nend_header\n",
         Reason::FileMalformed, "header"},
        {asciiHead, Reason::FileTruncated, "header"},
        {asciiHead + points + "3 0 2 1\n3 0 1 3\n3 0 3 2\n3 1 2", Reason::FileTruncated, "face 4 of 4, line 19"},
        {asciiHead + points + "3 0 2 4\n3 0 1 3\n3 0 3 2\n3 1 2 3", Reason::FileMalformed, "face 1 of 4, line 16"},
        {asciiHead + points + "3 0 2 1\n3 0 -1 3\n3 0 3 2\n3 1 2 3", Reason::FileMalformed, "face 2 of 4, line 17"},
        {asciiHead + points + "3 0 2 1\n3 0 1.5 3\n3 0 3 2\n3 1 2 3", Reason::FileMalformed, "face 2 of 4, line 17"},
        {asciiHead + points + "-3 0 2 1\n3 0 1 3\n3 0 3 2\n3 1 2 3", Reason::FileMalformed, "face 1 of 4, line 16"},
        {asciiHead + points + "250 0 2 1\n3 0 1 3\n3 0 3 2\n3 1 2 3", Reason::FileTruncated, "face 1 of 4, line 16"},
        {asciiHead + "0 0 0\n10 q 0\n0 10 0\n0 0 10\n" + faces, Reason::FileMalformed, "vertex 2 of 4, line 13"},
        {asciiHead + "0 0 0\n10 nan 0\n0 10 0\n0 0 10\n" + faces, Reason::NumberNotFinite, "vertex 2 of 4, line 13"},
    }));
    INFO(text);
    const auto model = readBytes(text, ".ply");
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == reason);
    CHECK(model.problem().place.substr(0, place.size()) == place);
}

TEST_CASE("read PLY: a binary file that is cut, or announces too much, is told by its byte")
{
    const std::string whole = binary<float, std::int32_t>(false, "float", "int");
    const auto cut = readBytes(whole.substr(0, whole.size() - 3), ".ply");
    REQUIRE_FALSE(cut.ok());
    CHECK(cut.problem().reason == Reason::FileTruncated);
    CHECK(cut.problem().place.find("byte ") != std::string::npos);
    for (const std::string huge : {"4000000000", "4611686018427387904", "9223372036854775807"}) {
        std::string lie = whole;
        lie.replace(lie.find("vertex 4") + 7, 1, huge);
        CHECK(readBytes(lie, ".ply").problem().reason == Reason::FileTruncated);
        lie = whole;
        lie.replace(lie.find("face 4") + 5, 1, huge);
        CHECK(readBytes(lie, ".ply").problem().reason == Reason::FileTruncated);
    }
}

TEST_CASE("read PLY: a binary coordinate that is not finite")
{
    std::string bytes = binary<double, std::int32_t>(false, "double", "int");
    const double inf = std::numeric_limits<double>::infinity();
    std::memcpy(bytes.data() + bytes.find("end_header\n") + 11 + 25, &inf, sizeof inf);
    const auto model = readBytes(bytes, ".ply");
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == Reason::NumberNotFinite);
    CHECK(model.problem().place.find("vertex 2 of 4") == 0);
}
