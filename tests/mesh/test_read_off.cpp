// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mass.h"
#include "mesh/model_file.h"
#include "tests/support/model_text.h"

#include <catch2/catch.hpp>

using namespace quoin;
using namespace quoin::mesh;
using test::hasNote;
using test::readBytes;

namespace {

const std::string points = "0 0 0\n10 0 0\n0 10 0\n0 0 10\n";
const std::string faces = "3 0 2 1\n3 0 1 3\n3 0 3 2\n3 1 2 3\n";

} // namespace

TEST_CASE("read OFF: a tetrahedron in each kind of header")
{
    const std::string text =
        GENERATE_COPY("OFF\n4 4 6\n" + points + faces, "OFF 4 4 6\n" + points + faces, "OFF\n4 4\n" + points + faces,
                      "# made by hand\n\nOFF # header\n4 4 0 # counts\n\n" + points + "# faces\n" + faces,
                      "COFF\n4 4 6\n0 0 0 255 0 0 255\n10 0 0 1 1 1 1\n0 10 0 0 0 0 0\n0 0 10 0 0 0 0\n" + faces,
                      "NOFF\n4 4 6\n0 0 0 0 0 1\n10 0 0 0 0 1\n0 10 0 0 0 1\n0 0 10 nan 0 1\n" + faces,
                      "STCNOFF\r\n4 4 6\r\n0 0 0\r\n10 0 0\r\n0 10 0\r\n0 0 10\r\n3 0 2 1 255 0 0\r\n3 0 1 3 7\r\n3 0 "
                      "3 2\r\n3 1 2 3");
    INFO(text);
    const auto model = readBytes(text, ".off");
    REQUIRE(model.ok());
    CHECK(model->format == Format::Off);
    CHECK(model->mesh.points.size() == 4);
    CHECK(volume(model->mesh) == Approx(1000.0 / 6)); // a corner of a cube
}

TEST_CASE("read OFF: polygons of more corners, points and segments")
{
    const auto model = readBytes("OFF\n4 3 0\n0 0 0\n10 0 0\n10 10 0\n0 10 0\n4 0 1 2 3\n2 0 1\n1 0\n", ".off");
    REQUIRE(model.ok());
    CHECK(model->mesh.triangles.size() == 2);
    CHECK(area(model->mesh) == Approx(100));
    CHECK(hasNote(*model, "2 faces with fewer than three corners"));
}

TEST_CASE("read OFF: what breaks the format is refused with its line")
{
    const auto [text, reason] = GENERATE(table<std::string, Reason>({
        {"OFF\n", Reason::FileTruncated},
        {"OFF\n4 x 0\n", Reason::FileMalformed},
        {"OFF\n-4 4 0\n", Reason::FileMalformed},
        {"OFF\n4 4 many\n", Reason::FileMalformed},
        {"OFF\n999999999999 4 0\n0 0 0\n", Reason::FileTruncated},
        {"OFF\n4 4000000000 0\n0 0 0\n", Reason::FileTruncated},
        {"OFF\n4 4 0\n0 0 0\n10 0 0\n", Reason::FileTruncated},
        {"OFF\n3 2 0\n0 0 0\n10 0 0\n0 10 0\n3 0 1 2\n", Reason::FileTruncated},
        {"OFF\n3 1 0\n0 0 0\n10 0 0\n0 10 0\n3 0 1", Reason::FileTruncated},
        {"OFF\n3 1 0\n0 0 0\n10 0\n0 10 0\n3 0 1 2\n", Reason::FileMalformed},
        {"OFF\n3 1 0\n0 0 0\n10 0 z\n0 10 0\n3 0 1 2\n", Reason::FileMalformed},
        {"OFF\n3 1 0\n0 0 0\n10 0 inf\n0 10 0\n3 0 1 2\n", Reason::NumberNotFinite},
        {"OFF\n3 1 0\n0 0 0\n10 0 0\n0 10 0\n3 0 1 3\n", Reason::FileMalformed},
        {"OFF\n3 1 0\n0 0 0\n10 0 0\n0 10 0\n3 0 1 -1\n", Reason::FileMalformed},
        {"OFF\n3 1 0\n0 0 0\n10 0 0\n0 10 0\n-3 0 1 2\n", Reason::FileMalformed},
        {"OFF\n3 0 0\n0 0 0\n10 0 0\n0 10 0\n", Reason::FileEmpty},
        {"4OFF\n3 0 0\n0 0 0 0\n", Reason::FileMalformed},
        {"nOFF 5\n3 0 0\n0 0 0 0\n", Reason::FileMalformed},
        {"OFF BINARY\n1234", Reason::FileMalformed},
    }));
    INFO(text);
    const auto model = readBytes(text, ".off");
    REQUIRE_FALSE(model.ok());
    CHECK(model.problem().reason == reason);
    if (reason != Reason::FileEmpty)
        CHECK(model.problem().place.find("line ") != std::string::npos);
}
